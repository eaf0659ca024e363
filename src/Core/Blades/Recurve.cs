using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>Where an edge curves inward and a wide abrasive bridges it.</summary>
public static class Recurve
{
    /// <summary>A gap smaller than this is not called a gap, mm (chosen, not derived: about a fine land).</summary>
    public const double LeastGapMm = 0.02;

    /// <summary>
    /// Gap between the edge and a straight face <paramref name="faceWidthMm"/> wide (a wheel's width, a stone's length) centred over the
    /// station: the height, square to the tangent, of the upper convex hull of the edge under the face. Zero on the straight and on a
    /// belly. On an inward arc of radius r it is the sagitta r − √(r² − (w/2)²). The face is taken as sharp-cornered and straight. Source: [sagitta].
    /// </summary>
    public static double GapMm(EdgeCurve edge, double sMm, double faceWidthMm)
    {
        Require.Positive(faceWidthMm);
        const int steps = 48;
        EdgePoint middle = edge.At(sMm);
        double half = faceWidthMm / 2;
        List<Point2> left = [];
        List<Point2> right = [];
        double highest = 0;
        for (int i = -steps; i <= steps; i++)
        {
            if (i == 0)
                continue;
            double s = sMm + (half * i / steps);
            if (s < 0 || s > edge.LengthMm)
                continue;
            EdgePoint e = Under(edge, s, middle, half * i / steps);
            double along = Along(middle, e);
            double up = Up(middle, e);
            (along < 0 ? left : right).Add(new(along, up));
        }

        // The hull over the middle is spanned by one point on each side.
        foreach (Point2 l in left)
        {
            foreach (Point2 r in right)
            {
                if (l.Y > 0 || r.Y > 0)
                    highest = Math.Max(highest, ((l.Y * r.X) - (r.Y * l.X)) / (r.X - l.X));
            }
        }

        return highest;
    }

    /// <summary>The stretches where the gap under a face of this width passes <paramref name="leastGapMm"/>, heel to tip.</summary>
    public static IReadOnlyList<RecurveStretch> Stretches(EdgeCurve edge, double faceWidthMm, double leastGapMm = LeastGapMm)
    {
        Require.Positive(leastGapMm);
        const int count = 241;
        List<RecurveStretch> stretches = [];
        RecurveStretch? open = null;
        foreach (EdgePoint e in edge.Stations(count))
        {
            double gap = GapMm(edge, e.SMm, faceWidthMm);
            if (gap < leastGapMm)
            {
                if (open is not null)
                    stretches.Add(open);
                open = null;
                continue;
            }

            open ??= new(e.SMm, e.SMm, e.SMm, 0);
            open = open with { ToMm = e.SMm };
            if (gap > open.DeepestMm)
                open = open with { DeepestAtMm = e.SMm, DeepestMm = gap };
        }

        if (open is not null)
            stretches.Add(open);
        return stretches;
    }

    /// <summary>Widest face that follows an inward radius r within a gap g: w = 2√(g(2r − g)), mm. Source: [sagitta], turned round.</summary>
    public static double WidestFaceMm(double inwardRadiusMm, double gapMm)
    {
        Require.Positive(inwardRadiusMm);
        Require.Within(gapMm, 0, inwardRadiusMm);
        return 2 * Math.Sqrt(gapMm * ((2 * inwardRadiusMm) - gapMm));
    }

    /// <summary>Smallest inward radius of the edge, mm; null where it curves nowhere inward.</summary>
    public static double? TightestInwardRadiusMm(EdgeCurve edge)
    {
        double most = 0;
        foreach (EdgePoint e in edge.Stations(401))
            most = Math.Max(most, -e.CurvaturePerMm);
        return most > 1e-6 ? 1 / most : null;
    }

    /// <summary>The station whose tangent coordinate is the one wanted: arc length first, then one Newton step or two.</summary>
    private static EdgePoint Under(EdgeCurve edge, double s, EdgePoint middle, double along)
    {
        EdgePoint e = edge.At(s);
        for (int pass = 0; pass < 2; pass++)
        {
            double growth = (e.TangentX * middle.TangentX) + (e.TangentY * middle.TangentY);
            if (growth < 0.2)
                break;
            e = edge.At(e.SMm + ((along - Along(middle, e)) / growth));
        }

        return e;
    }

    private static double Along(EdgePoint middle, EdgePoint e) =>
        ((e.XMm - middle.XMm) * middle.TangentX) + ((e.YMm - middle.YMm) * middle.TangentY);

    private static double Up(EdgePoint middle, EdgePoint e) =>
        ((e.XMm - middle.XMm) * middle.NormalX) + ((e.YMm - middle.YMm) * middle.NormalY);
}

/// <summary>A stretch of edge that a face of given width does not reach.</summary>
/// <param name="FromMm">Arc length where it begins.</param>
/// <param name="ToMm">Arc length where it ends.</param>
/// <param name="DeepestAtMm">Arc length of the largest gap.</param>
/// <param name="DeepestMm">The largest gap.</param>
public sealed record RecurveStretch(double FromMm, double ToMm, double DeepestAtMm, double DeepestMm);
