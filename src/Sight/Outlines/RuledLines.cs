using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Thin lines ruled on the mat along its sides that run in under the edge. Their ink darkens the paper by one share, in sun and shadow alike, and steel not at all:
/// where it ends the edge begins, whatever the light. They are looked for on the paper before the edge.
/// </summary>
internal sealed class RuledLines
{
    /// <summary>Paper beside a line is looked at so far from its middle, mm. Chosen: wider than a line and its blur.</summary>
    public const double BesideMm = 0.8;

    /// <summary>Spacing of a line's own profile, mm.</summary>
    public const double LateralMm = 0.05;

    /// <summary>Sine of the least angle between a line and the edge that it runs under. Chosen: a flatter one is drawn out along the edge.</summary>
    public const double LeastSine = 0.4;

    /// <summary>The paper looked at lies this far before the edge, mm, clear of its shadows' dark, and so far apart. Chosen.</summary>
    private const double NearestMm = 3, FarthestMm = 25, EveryMm = 0.5;

    /// <summary>Spacing across the lines, mm.</summary>
    internal const double StepMm = 0.1;

    /// <summary>Fewest places along a line, and fewest across all, from which a dip is told. Chosen.</summary>
    private const int FewestAlong = 8, FewestAcross = 20;

    /// <summary>Least darkness of a line, as a share of the paper's light, and in standard deviations of what paper shows between lines. Chosen.</summary>
    private const double LeastDip = 0.012, LeastSigmas = 4;

    /// <summary>A line is nowhere wider than this to either side, blur and all, mm; what is darker or brighter than its paper by this share is something else. Chosen.</summary>
    private const double HalfWidthMm = 0.5, MostDip = 0.4;

    private readonly Paper _paper;

    private RuledLines(Paper paper) => _paper = paper;

    /// <summary>A line: whether it runs down the mat (else across), and where.</summary>
    /// <param name="Down">Whether it runs down the mat.</param>
    /// <param name="AtMm">Its x, or its y where it runs across.</param>
    public readonly record struct RuledLine(bool Down, double AtMm)
    {
        /// <summary>How far a place lies from the line.</summary>
        public double Off(Point2 p) => (Down ? p.X : p.Y) - AtMm;

        /// <summary>Its direction in under the edge.</summary>
        public Vector2 Under(Vector2 inward)
        {
            Vector2 u = Down ? new(0, 1) : new(1, 0);
            return u.Dot(inward) < 0 ? u * -1 : u;
        }

        /// <summary>The direction across it.</summary>
        public Vector2 Across => Down ? new(1, 0) : new(0, 1);
    }

    /// <summary>The lines found.</summary>
    public IReadOnlyList<RuledLine> Lines { get; private init; } = [];

    /// <summary>How much darker than its paper a line is, as a share, from <see cref="BesideMm"/> on one side of its middle to the other: the mean of all lines.</summary>
    public IReadOnlyList<double> Profile { get; private set; } = [];

    /// <summary>Looks for lines that run in under an edge; null where none do.</summary>
    /// <param name="sampler">The photo.</param>
    /// <param name="map">Mat to photo.</param>
    /// <param name="line">Stations along the edge on the mat, evenly spaced.</param>
    /// <param name="inward">Their normals, toward the steel.</param>
    public static RuledLines? Find(PhotoSampler sampler, LensMap map, Point2[] line, Vector2[] inward)
    {
        var all = new RuledLines(new(sampler, map));
        var found = new RuledLines(all._paper) { Lines = [.. all.Along(line, inward, down: true), .. all.Along(line, inward, down: false)] };
        if (found.Lines.Count == 0)
            return null;
        found.Profile = found.Mean(line, inward);
        return found.Profile.Sum() > 0 ? found : null;
    }

    /// <summary>Where a line crosses the edge, in stations from the first.</summary>
    public static IEnumerable<double> Crossings(RuledLine rule, Point2[] line)
    {
        for (int i = 1; i < line.Length; i++)
        {
            (double before, double after) = (rule.Off(line[i - 1]), rule.Off(line[i]));
            if (before != after && before * after <= 0)
                yield return i - 1 + (before / (before - after));
        }
    }

    /// <summary>Linear light at a place of the mat.</summary>
    public double Light(Point2 p) => _paper.Light(p);

    // Dips of the tone that stay at one place across while the paper before the edge is gone along.
    private IEnumerable<RuledLine> Along(Point2[] line, Vector2[] inward, bool down)
    {
        double from = line.Min(p => down ? p.X : p.Y);
        int n = (int)((line.Max(p => down ? p.X : p.Y) - from) / StepMm);
        double?[] dip = [.. Enumerable.Range(0, n + 1).Select(k => Dip(new(down, from + (k * StepMm)), line, inward))];
        return Dips(dip).Select(at => new RuledLine(down, from + (at * StepMm)));
    }

    /// <summary>Where a row of medians across dips as a line's does: between which of them.</summary>
    internal static IEnumerable<double> Dips(double?[] dip)
    {
        double[] sizes = [.. dip.Where(d => d is not null).Select(d => Math.Abs(d!.Value)).Order()];
        if (sizes.Length < FewestAcross)
            yield break;
        double least = Math.Max(LeastDip, LeastSigmas * 1.4826 * sizes[sizes.Length / 2]);
        const int reach = 3;
        for (int k = reach; k < dip.Length - reach; k++)
        {
            double[] around = [.. Enumerable.Range(k - reach, (2 * reach) + 1).Select(j => dip[j] ?? 0)];
            if (dip[k] is not { } deepest || deepest < least || around[..reach].Any(v => v >= deepest) || around[(reach + 1)..].Any(v => v > deepest))
                continue;
            double middle = around.Select((v, j) => Math.Max(0, v) * j).Sum() / around.Sum(v => Math.Max(0, v));
            yield return k - reach + middle;
        }
    }

    // Median share by which a line's place is darker than the paper to both sides of it; null where too little paper is seen.
    private double? Dip(RuledLine rule, Point2[] line, Vector2[] inward) => _paper.Dip(rule, Before(rule, line, inward, EveryMm));

    // Places on a line along the paper before the edge, away from it.
    private IEnumerable<Point2> Before(RuledLine rule, Point2[] line, Vector2[] inward, double everyMm)
    {
        if (Crossings(rule, line).Cast<double?>().FirstOrDefault() is not { } crossing)
            yield break;
        int i = Math.Min((int)crossing, line.Length - 2);
        Vector2 under = rule.Under(inward[i]);
        if (under.Dot(inward[i]) < LeastSine)
            yield break;
        Point2 at = line[i] + ((line[i + 1] - line[i]) * (crossing - i));
        for (double s = NearestMm; s <= FarthestMm; s += everyMm)
        {
            Point2 p = at + (under * -s);
            if (!_paper.Holds(p))
                yield break;
            yield return p;
        }
    }

    private double[] Mean(Point2[] line, Vector2[] inward) => _paper.Mean(Lines.SelectMany(rule => Before(rule, line, inward, EveryMm / 2).Select(p => (rule, p))));

    /// <summary>Paper with lines on it.</summary>
    /// <param name="sampler">The photo.</param>
    /// <param name="map">Mat to photo.</param>
    internal sealed class Paper(PhotoSampler sampler, LensMap map)
    {
        /// <summary>Linear light at a place of the mat.</summary>
        public double Light(Point2 p) => sampler.SharpLightAt(map.ToPhoto(p));

        /// <summary>Whether the photo shows the place.</summary>
        public bool Holds(Point2 p) => sampler.Holds(map.ToPhoto(p));

        private double Beside(RuledLine rule, Point2 p) => 0.5 * (Light(p + (rule.Across * BesideMm)) + Light(p + (rule.Across * -BesideMm)));

        /// <summary>Median share by which places on a line are darker than the paper to both sides of it; null of too few.</summary>
        public double? Dip(RuledLine rule, IEnumerable<Point2> places)
        {
            var shares = new List<double>();
            foreach (Point2 p in places)
                shares.Add(1 - (Light(p) / Math.Max(1e-4, Beside(rule, p))));
            if (shares.Count < FewestAlong)
                return null;
            shares.Sort();
            return shares[shares.Count / 2];
        }

        /// <summary>How much darker than the paper beside it lines are across, the mean of places on them; nothing further out than a line is wide.</summary>
        public double[] Mean(IEnumerable<(RuledLine Rule, Point2 At)> places)
        {
            int half = (int)Math.Round(BesideMm / LateralMm);
            double[] sum = new double[(2 * half) + 1];
            int count = 0;
            foreach ((RuledLine rule, Point2 p) in places)
            {
                double paper = Beside(rule, p);
                double[] here = [.. Enumerable.Range(-half, (2 * half) + 1).Select(j => 1 - (Light(p + (rule.Across * (j * LateralMm))) / paper))];
                if (here.Any(v => Math.Abs(v) > MostDip))
                    continue;
                sum = [.. sum.Zip(here, (a, b) => a + b)];
                count++;
            }

            return [.. sum.Select((v, j) => Math.Abs(j - half) * LateralMm > HalfWidthMm ? 0 : Math.Max(0, v / Math.Max(1, count)))];
        }
    }
}
