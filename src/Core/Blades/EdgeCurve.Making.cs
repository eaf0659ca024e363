using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>How an edge curve is made.</summary>
public sealed partial class EdgeCurve
{
    /// <summary>Fewer points than this say nothing of their own scatter and are taken as exact (chosen, not derived).</summary>
    public const int FewestToSmooth = 12;

    /// <summary>
    /// From an outline of the edge, heel to tip. Two points are a straight edge; up to <see cref="FewestToSmooth"/> − 1 points are taken as
    /// exact and joined by cubics whose tangents come from the parabola through each point and its neighbours; from there on a
    /// penalised cubic spline whose smoothness the points themselves choose (<see cref="EdgeFit"/>).
    /// </summary>
    /// <param name="pointsMm">Heel to tip, in the blade frame but anywhere in it.</param>
    /// <param name="noiseMm">Standard deviation of the points square to the edge, where it is known; null lets the points tell.</param>
    /// <exception cref="ArgumentException">The outline is refused; the message is that of the first of <see cref="EdgeOutline.Refusals"/>.</exception>
    public static EdgeCurve FromPolyline(IReadOnlyList<Point2> pointsMm, double? noiseMm = null) =>
        TryFromPolyline(pointsMm, noiseMm, out EdgeCurve? edge, out IReadOnlyList<Reason> refusals)
            ? edge
            : throw new ArgumentException(refusals[0].Text, nameof(pointsMm));

    /// <summary>As <see cref="FromPolyline"/>, with the refusals instead of an exception.</summary>
    public static bool TryFromPolyline(
        IReadOnlyList<Point2> pointsMm,
        double? noiseMm,
        [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out EdgeCurve? edge,
        out IReadOnlyList<Reason> refusals)
    {
        if (noiseMm is { } noise)
            Require.NotNegative(noise, nameof(noiseMm));
        edge = null;
        refusals = EdgeOutline.Refusals(pointsMm);
        if (refusals.Count > 0)
            return false;
        Point2[] points = [.. pointsMm.Select(p => new Point2(p.X - pointsMm[0].X, p.Y - pointsMm[0].Y))];
        if (points.Length == 2)
            edge = new([new StraightSegment(points[0], points[1])], points, EdgeOrigin.PointsAsGiven, 0, 0);
        else if (points.Length < FewestToSmooth)
            edge = new(ThroughEach(points), points, EdgeOrigin.PointsAsGiven, 0, 0);
        else
        {
            EdgeFit fit = EdgeFit.Of(points, noiseMm);
            edge = new(fit.Segments, points, EdgeOrigin.SmoothedPoints, fit.NoiseMm, fit.SmoothedOverMm);
        }

        return true;
    }

    /// <summary>From a parametric shape: see <see cref="BladeShape"/> for what the curve is.</summary>
    /// <exception cref="ArgumentException">The shape is refused; the message is that of the first of <see cref="BladeShape.Refusals"/>.</exception>
    public static EdgeCurve FromShape(BladeShape shape)
    {
        IReadOnlyList<Reason> refusals = shape.Refusals();
        if (refusals.Count > 0)
            throw new ArgumentException(refusals[0].Text, nameof(shape));
        Point2 heel = new(0, 0);
        if (shape.BellyRadiusMm is not { } radius)
        {
            Point2 end = new(shape.LengthMm, 0);
            return new([new StraightSegment(heel, end)], [heel, end], EdgeOrigin.Shape, 0, 0);
        }

        Point2 belly = new(shape.BellyFromMm, 0);
        Point2 tip = new(shape.LengthMm, -shape.TipDropMm);
        FallingArc arc = new(belly, radius, Math.Atan2(shape.LengthMm - shape.BellyFromMm, radius - shape.TipDropMm));
        return shape.BellyFromMm > 0
            ? new([new StraightSegment(heel, belly), arc], [heel, belly, tip], EdgeOrigin.Shape, 0, 0)
            : new([arc], [heel, tip], EdgeOrigin.Shape, 0, 0);
    }

    /// <summary>Cubics through each point; tangent at a point that of the parabola through it and its neighbours by chord length.</summary>
    private static List<EdgeSegment> ThroughEach(Point2[] points)
    {
        int n = points.Length;
        double[] chord = new double[n - 1];
        for (int i = 0; i < n - 1; i++)
            chord[i] = points[i].DistanceTo(points[i + 1]);
        Vector2[] slope = new Vector2[n];
        for (int i = 1; i < n - 1; i++)
        {
            Vector2 before = (points[i] - points[i - 1]) * (1 / chord[i - 1]);
            Vector2 after = (points[i + 1] - points[i]) * (1 / chord[i]);
            slope[i] = ((before * chord[i]) + (after * chord[i - 1])) * (1 / (chord[i - 1] + chord[i]));
        }

        slope[0] = ((points[1] - points[0]) * (2 / chord[0])) - slope[1];
        slope[^1] = ((points[^1] - points[^2]) * (2 / chord[^1])) - slope[^2];
        List<EdgeSegment> cubics = new(n - 1);
        for (int i = 0; i < n - 1; i++)
            cubics.Add(CubicSegment.FromEnds(points[i], slope[i] * chord[i], points[i + 1], slope[i + 1] * chord[i]));
        return cubics;
    }
}
