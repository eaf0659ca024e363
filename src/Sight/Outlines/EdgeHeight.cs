using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The edge's height over the mat from two photos taken from different places: the heights at heel and tip that lay both views of the edge, of the heel and of the tip on
/// each other, X = S + (C − S)·z/H for each view, weighed with what is known of blades beforehand. Shadows move a line as a whole, the more the higher it floats: that is
/// one doubt for all of the edge, from both photos' lines, and no number of stations takes it away.
/// </summary>
/// <param name="HeelMm">Height at the heel.</param>
/// <param name="TipMm">Height at the tip.</param>
/// <param name="UMm">Standard uncertainty of the middle height.</param>
/// <param name="Baseline">How far apart the views are: difference of r/H, root mean square; below 0.1 there is little to see.</param>
/// <param name="ApartMm">How far apart both lines stay at these heights, root mean square, what shadows may have moved taken off.</param>
internal sealed record EdgeHeight(double HeelMm, double TipMm, double UMm, double Baseline, double ApartMm)
{
    /// <summary>Both sheets' maps and both lines' own waves disagree by about this, mm. Chosen, from photographs of known truth.</summary>
    private const double AgreementMm = 0.08;

    /// <summary>About so many independent looks along one edge: neighbouring stations are off alike. Chosen.</summary>
    private const double Looks = 10;

    /// <summary>A station further off than this, or an end beyond what is known of it, counts the less, mm. Chosen.</summary>
    private const double OutlierMm = 0.2;

    /// <summary>What two looks at one end disagree by besides what each says of itself, mm. Chosen.</summary>
    private const double EndsUMm = 0.15;

    /// <summary>Of an end no more is believed to be unknown than this, mm: it was found within the outline.</summary>
    private const double MostEndUMm = 9;

    /// <summary>Middle of the edge beforehand: half a thin blade's thickness where it lies on its flank, more where a handle lifts it; and how widely both spread. Chosen.</summary>
    private const double FlatMm = 0.8, FlatUMm = 0.4, LiftedMm = 1.8, LiftedUMm = 1;

    /// <summary>Spread of the tip's height beforehand, mm: of a lifted blade by itself, of a flat one against its middle. Chosen.</summary>
    private const double LiftedTipUMm = 0.35, FlatTipUMm = 0.2;

    /// <summary>Nearer to either end than this a line runs into it and is left out, mm. Chosen.</summary>
    private const double BesideEndMm = 4;

    /// <summary>Shadows move a line in the measure of its height over the middle's, which is no lower than this for it, mm.</summary>
    private const double LeastMiddleMm = 0.2;

    private const int Passes = 8;

    public double MiddleMm => (HeelMm + TipMm) / 2;

    public static EdgeHeight? Between(OutlineView a, OutlineView b) => Between(
        new(a.EdgeLine, a.Camera.PlaceMm, a.Camera.HeightMm, a.Seen.ShadowUMm, a.Seen.HeelUMm, a.Seen.TipUMm),
        new(b.EdgeLine, b.Camera.PlaceMm, b.Camera.HeightMm, b.Seen.ShadowUMm, b.Seen.HeelUMm, b.Seen.TipUMm),
        a.Lifted,
        a.SpineMm);

    /// <summary>One photo's look at an edge.</summary>
    /// <param name="Line">As it appears on the mat, heel to tip.</param>
    /// <param name="CameraMm">Where the camera stood.</param>
    /// <param name="CameraHeightMm">How high.</param>
    /// <param name="LineUMm">How far shadows may have moved the line, standard uncertainty.</param>
    /// <param name="HeelUMm">Standard uncertainty of the heel along the edge.</param>
    /// <param name="TipUMm">The same of the tip.</param>
    internal readonly record struct Look(Point2[] Line, Point2 CameraMm, double CameraHeightMm, double LineUMm, double HeelUMm, double TipUMm)
    {
        /// <summary>By how much a point seen there moves per millimetre of height to where it truly is.</summary>
        public Vector2 PerMm(Point2 seen) => (CameraMm - seen) * (1 / CameraHeightMm);
    }

    /// <summary>What one place says: the second photo's line lies r to one side of the first's where both are on the mat, and comes nearer by g per millimetre of height.</summary>
    private readonly record struct Sight(double Share, double R, double G, double UMm, bool IsEnd)
    {
        public double At(double heel, double tip) => R + (G * (heel + ((tip - heel) * Share)));
    }

    /// <summary>The height that two looks give; null where it cannot be told at all.</summary>
    /// <param name="a">First look.</param>
    /// <param name="b">Second look.</param>
    /// <param name="lifted">Whether a handle lifts the blade.</param>
    /// <param name="spineMm">The spine's thickness where it was told.</param>
    internal static EdgeHeight? Between(Look a, Look b, bool lifted, double? spineMm = null)
    {
        List<Sight> sights = [.. Along(a, b)];
        int stations = sights.Count;
        if (stations == 0)
            return null;
        (double baseline, Sight heelSeen, Sight tipSeen) = (Baselines(a, b), End(a, b, 0), End(a, b, 1));
        sights.AddRange([heelSeen, tipSeen]);
        double usual = lifted ? LiftedMm : FlatMm;
        double usualU = lifted ? LiftedUMm : FlatUMm;
        double usualTip = KnownHeight.Told(usual).TipMm;
        double tipPerMiddle = lifted ? 0 : KnownHeight.FlatTip;
        double tipU = lifted ? LiftedTipUMm : FlatTipUMm;
        double shadowU = Math.Sqrt((a.LineUMm * a.LineUMm) + (b.LineUMm * b.LineUMm));

        // Unknown: middle, tip, and by how much shadows moved both lines apart at the middle.
        double[] x = [usual, usualTip, 0];
        double u = usualU;
        for (int pass = 0; pass < Passes; pass++)
        {
            double heel = (2 * x[0]) - x[1];
            double Moved(double share) => Math.Max(0, heel + ((x[1] - heel) * share)) / Math.Max(LeastMiddleMm, x[0]);
            var sums = new double[3, 4];
            void Add(double j0, double j1, double j2, double y, double weight)
            {
                double[] j = [j0, j1, j2, y];
                for (int i = 0; i < 3; i++)
                {
                    for (int k = 0; k < 4; k++)
                        sums[i, k] += weight * j[i] * j[k];
                }
            }

            Add(1, 0, 0, usual, 1 / (usualU * usualU));
            if (spineMm is { } spine)
            {
                Add(0, 1, 0, ToldHeight.TipOfSpine * spine, 1 / Math.Pow(ToldHeight.TipOfSpineU * spine, 2));
                if (!lifted)
                    Add(2, -1, 0, spine / 2, 1 / (ToldHeight.HeelUMm * ToldHeight.HeelUMm));
            }
            else
            {
                Add(-tipPerMiddle, 1, 0, lifted ? usualTip : 0, 1 / (tipU * tipU));
            }

            Add(0, 0, 1, 0, 1 / (shadowU * shadowU));
            foreach (Sight s in sights)
            {
                double along = s.IsEnd ? 0 : Moved(s.Share);
                double off = s.At(heel, x[1]) + (x[2] * along);
                double outlier = s.IsEnd ? 2 * s.UMm : OutlierMm;
                double weight = (s.IsEnd ? 1 : Looks / stations) / (s.UMm * s.UMm) / (pass == 0 ? 1 : 1 + (off * off / (outlier * outlier)));
                Add(2 * (1 - s.Share) * s.G, ((2 * s.Share) - 1) * s.G, along, -s.R, weight);
            }

            double[,]? inverse = LeastSquares.Invert(new[,] { { sums[0, 0], sums[0, 1], sums[0, 2] }, { sums[1, 0], sums[1, 1], sums[1, 2] }, { sums[2, 0], sums[2, 1], sums[2, 2] } });
            if (inverse is null)
                return null;
            x = [.. Enumerable.Range(0, 3).Select(i => (inverse[i, 0] * sums[0, 3]) + (inverse[i, 1] * sums[1, 3]) + (inverse[i, 2] * sums[2, 3]))];
            u = Math.Sqrt(inverse[0, 0]);
        }

        if (!double.IsFinite(x[0] + x[1] + u))
            return null;
        double low = (2 * x[0]) - x[1];
        double apart = Math.Sqrt(sights.Where(s => !s.IsEnd).Average(s => Math.Pow(s.At(low, x[1]) + (x[2] * (low + ((x[1] - low) * s.Share)) / Math.Max(LeastMiddleMm, x[0])), 2)));
        return new(low, x[1], u, baseline, apart);
    }

    private static IEnumerable<Sight> Along(Look a, Look b)
    {
        Point2[] first = [.. Contour.Open(a.Line, 1.0)];
        Point2[] second = b.Line;
        int spare = Math.Min((int)BesideEndMm, first.Length / 4);
        for (int i = spare; i < first.Length - spare; i++)
        {
            if (Foot(second, first[i]) is not { } found)
                continue;
            (Point2 foot, Vector2 normal) = found;
            yield return new((double)i / (first.Length - 1), (first[i] - foot).Dot(normal), (a.PerMm(first[i]) - b.PerMm(foot)).Dot(normal), AgreementMm, false);
        }
    }

    private static double Baselines(Look a, Look b)
    {
        int n = a.Line.Length;
        return Math.Sqrt(Enumerable.Range(0, n).Average(i =>
        {
            Vector2 d = a.PerMm(a.Line[i]) - b.PerMm(b.Line[(int)((long)i * (b.Line.Length - 1) / Math.Max(1, n - 1))]);
            return d.Dot(d);
        }));
    }

    // Along the edge only: across it the line itself tells.
    private static Sight End(Look a, Look b, int end)
    {
        (Point2 here, Point2 there) = end == 0 ? (a.Line[0], b.Line[0]) : (a.Line[^1], b.Line[^1]);
        Vector2 along = (a.Line[^1] - a.Line[0]).Normalized();
        (double ua, double ub) = end == 0 ? (a.HeelUMm, b.HeelUMm) : (a.TipUMm, b.TipUMm);
        (ua, ub) = (Math.Min(MostEndUMm, ua), Math.Min(MostEndUMm, ub));
        return new(end, (here - there).Dot(along), (a.PerMm(here) - b.PerMm(there)).Dot(along), Math.Sqrt((ua * ua) + (ub * ub) + (EndsUMm * EndsUMm)), true);
    }

    // The nearest place of a line; null at its ends, beyond which it does not go on.
    private static (Point2 Foot, Vector2 Normal)? Foot(Point2[] line, Point2 p)
    {
        int best = 0;
        double least = double.PositiveInfinity;
        for (int i = 0; i < line.Length; i++)
        {
            double d = line[i].DistanceTo(p);
            if (d < least)
                (least, best) = (d, i);
        }

        if (best < 2 || best > line.Length - 3)
            return null;
        Point2 before = line[Math.Max(0, best - 6)];
        Point2 after = line[Math.Min(line.Length - 1, best + 6)];
        Vector2 t = (after - before).Normalized();
        double along = (p - line[best]).Dot(t);
        return (line[best] + (t * Math.Clamp(along, -1, 1)), new(-t.Y, t.X));
    }
}
