namespace Whetwright.Sight.Outlines;

/// <summary>
/// How far the rim of what is dark along an edge steps inward, place by place. Before nearly every steel lies a narrow dark line: the edge's shade on the mat and the bevel that
/// faces away from the light. Its rim toward the paper is even where the steel behind is stained; a notch draws it inward, whatever is seen at the notch's ground.
/// </summary>
internal sealed class RimDips
{
    // Chosen on training photos of Darkroom with 364 chips, six-fold judged; none of them matters much (bench/Outlines/README.md).
    private const double OutsideMm = 0.45, InsideMm = 0.6;
    private const double PaperFromMm = -1.2, PaperToMm = -0.8;
    private const double SeekFromMm = -1, SeekToMm = 3.6;
    private const double UsualMm = 16;
    private const double EvenMm = 14;
    private const double AverageMm = 0.6;
    private const double AroundMm = 40;

    /// <summary>The rim is where so much of the light is gone, from the paper to the line's darkest: its foot, and halfway down.</summary>
    private const double Foot = 0.2, Halfway = 0.5;

    /// <summary>A line that takes less of the paper's light is none, as before steel brighter than the paper; what its rim does then speaks neither for a notch nor against one. Chosen.</summary>
    private const double Faint = 0.15, Unknown = 2;

    /// <summary>Further in or out than this a rim is none: steel as bright as the paper has no dark line.</summary>
    private const double MostMm = 0.8;

    /// <summary>No rim is taken to be evener than this, mm.</summary>
    private const double EvenestMm = 0.04;

    /// <summary>Nearer to heel or tip the rim turns away by itself, mm.</summary>
    private const double EndMm = 4;

    /// <summary>Share of a notch's rim that lies less deep than what is told of it. Chosen.</summary>
    private const double NearlyMost = 0.92;

    /// <summary>Median amount of a normal variable, in standard deviations.</summary>
    private const double MedianAmount = 0.6745;

    private readonly double[] _plain, _inward;
    private readonly double _stepMm;

    private RimDips(EdgeStrip strip, StripTones tones, double[] paper, double[] dark, double gone)
    {
        _stepMm = strip.StepMm;
        double[] rim = [.. paper.Zip(dark, (p, d) => p - (gone * (p - d))).Select((level, i) => Rim(strip, k => tones[i, k, 0], level))];
        double[] even = Each(strip, EvenMm, (from, to) => Median(rim, from, to));
        _inward = [.. rim.Zip(even, (r, e) => r < SeekToMm ? r - e : double.NaN)];
        double[] dip = [.. rim.Zip(even, (r, e) => Math.Clamp(r - e, -MostMm, MostMm))];
        dip = Each(strip, AverageMm, (from, to) => dip[from..to].Average());
        double[] amount = [.. dip.Select(Math.Abs)];
        double[] spread = Each(strip, AroundMm, (from, to) => Median(amount, from, to) / MedianAmount);
        int end = (int)(EndMm / _stepMm);
        _plain = [.. dip.Select((d, i) => Math.Min(i, dip.Length - 1 - i) < end ? 0 : paper[i] - dark[i] < Faint ? Unknown : d / (spread[i] + EvenestMm))];
    }

    /// <summary>Of the rim's foot, and of the rim halfway down.</summary>
    public static (RimDips Foot, RimDips Halfway) Of(EdgeStrip strip, StripTones tones)
    {
        double[] paper = Usual(strip, PaperFromMm, PaperToMm, (i, rows) => rows.Average(k => (double)tones[i, k, 0]));
        double[] dark = Usual(strip, -OutsideMm, InsideMm, (i, rows) => rows.Min(k => (double)tones[i, k, 0]));
        return (new(strip, tones, paper, dark, Foot), new(strip, tones, paper, dark, Halfway));
    }

    /// <summary>How far the rim lies inward of where it is usual around a place, in the spread that is usual there; the most within a reach.</summary>
    public double At(double atMm, double reachMm)
    {
        int from = Math.Max(0, (int)((atMm - reachMm) / _stepMm));
        int to = Math.Min(_plain.Length - 1, (int)((atMm + reachMm) / _stepMm));
        return to < from ? 0 : _plain[from..(to + 1)].Max();
    }

    /// <summary>How far the rim steps inward within a reach of a place, mm: nearly the most, for a speck may hide the rest; null where it is not seen at half of it.</summary>
    public double? DepthMm(double atMm, double reachMm)
    {
        int at = (int)(atMm / _stepMm);
        int half = (int)(reachMm / _stepMm) + 1;
        double[] within = _inward[Math.Max(0, at - half)..Math.Min(_inward.Length, at + half + 1)];
        double[] seen = [.. within.Where(double.IsFinite)];
        return 2 * seen.Length > within.Length ? OrderStatistic.Quantile(seen, NearlyMost) : null;
    }

    /// <summary>Places at which the rim dips more plainly than <paramref name="least"/> and than within a reach, along the strip, the plainest first.</summary>
    public IEnumerable<double> Places(double least, double reachMm) =>
        Enumerable.Range(0, _plain.Length).Where(i => _plain[i] > least && _plain[i] >= At(i * _stepMm, reachMm)).OrderByDescending(i => _plain[i]).Select(i => i * _stepMm);

    // Depth at which the light first falls below a level, from outside; the furthest looked at where it does not.
    private static double Rim(EdgeStrip strip, Func<int, double> light, double level)
    {
        int first = RowAt(strip, SeekFromMm);
        int last = RowAt(strip, SeekToMm);
        for (int k = first; k < last; k++)
        {
            if (light(k) < level)
                return k == first ? strip.DepthOf(k) : strip.DepthOf(k - 1) + (strip.StepMm * (light(k - 1) - level) / (light(k - 1) - light(k)));
        }

        return SeekToMm;
    }

    private static int RowAt(EdgeStrip strip, double depthMm) => Math.Clamp((int)Math.Round((depthMm - EdgeStrip.FromMm) / strip.StepMm), 0, strip.Rows - 1);

    private static double[] Usual(EdgeStrip strip, double fromMm, double toMm, Func<int, int[], double> of)
    {
        int[] rows = [.. Enumerable.Range(0, strip.Rows).Where(k => strip.DepthOf(k) >= fromMm && strip.DepthOf(k) <= toMm)];
        double[] each = [.. Enumerable.Range(0, strip.Columns).Select(i => of(i, rows))];
        return Each(strip, UsualMm, (from, to) => Median(each, from, to));
    }

    private static double[] Each(EdgeStrip strip, double widthMm, Func<int, int, double> of)
    {
        int half = Math.Max(0, (int)(widthMm / (2 * strip.StepMm)));
        return [.. Enumerable.Range(0, strip.Columns).Select(i => of(Math.Max(0, i - half), Math.Min(strip.Columns, i + half + 1)))];
    }

    // Of a copy: the values are reordered.
    private static double Median(double[] values, int from, int to) => OrderStatistic.Quantile(values.AsSpan(from, to - from).ToArray(), 0.5);
}
