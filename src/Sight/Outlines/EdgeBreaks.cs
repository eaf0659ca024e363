namespace Whetwright.Sight.Outlines;

/// <summary>
/// How plainly an edge's dark line is broken, place by place. Along nearly every edge runs a narrow dark line: its shade on the mat and the bevel that faces away from the
/// light. It is even where the steel behind it is stained, and paper shows in it only where steel is missing. The darkest of the rows near the edge is taken: a line that
/// lies a tenth off changes nothing.
/// </summary>
internal sealed class EdgeBreaks
{
    // Chosen on 154 training photos for the most chips told with five in a hundred photos showing one that is none; none of them matters much.
    private const double OutsideMm = 0.45;
    private const double InsideMm = 0.3;
    private const double AverageMm = 0.6;
    private const double UsualMm = 16;
    private const double AroundMm = 40;

    /// <summary>No line is taken to be evener than this, in parts of the paper's light.</summary>
    private const double Evenest = 0.015;

    /// <summary>Median amount of a normal variable, in standard deviations.</summary>
    private const double MedianAmount = 0.6745;

    private readonly double[] _plain;
    private readonly double _stepMm;

    public EdgeBreaks(EdgeStrip strip, StripTones tones)
    {
        _stepMm = strip.StepMm;
        int[] rows = [.. Enumerable.Range(0, strip.Rows).Where(k => strip.DepthOf(k) is >= -OutsideMm and <= InsideMm)];
        double[] darkest = [.. Enumerable.Range(0, strip.Columns).Select(i => rows.Min(k => (double)tones[i, k, 0]))];
        double[] usual = Each(darkest.Length, UsualMm, (from, to) => Median(darkest[from..to]));
        double[] over = [.. darkest.Zip(usual, (d, u) => d - u)];
        over = Each(over.Length, AverageMm, (from, to) => over[from..to].Average());
        double[] amount = [.. over.Select(Math.Abs)];
        double[] spread = Each(over.Length, AroundMm, (from, to) => Median(amount[from..to]) / MedianAmount);
        _plain = [.. over.Zip(spread, (o, s) => o / (s + Evenest))];
    }

    /// <summary>How far the line is lighter at a place than is usual around it, in the spread that is usual there; the most within a reach.</summary>
    public double At(double atMm, double reachMm)
    {
        int from = Math.Max(0, (int)((atMm - reachMm) / _stepMm));
        int to = Math.Min(_plain.Length - 1, (int)((atMm + reachMm) / _stepMm));
        return to < from ? 0 : _plain[from..(to + 1)].Max();
    }

    /// <summary>Places at which the line is broken more plainly than <paramref name="least"/> and than within a reach, along the strip.</summary>
    public IEnumerable<double> Places(double least, double reachMm) =>
        Enumerable.Range(0, _plain.Length).Where(i => _plain[i] > least && _plain[i] >= At(i * _stepMm, reachMm)).Select(i => i * _stepMm);

    private double[] Each(int count, double widthMm, Func<int, int, double> of)
    {
        int half = Math.Max(0, (int)(widthMm / (2 * _stepMm)));
        return [.. Enumerable.Range(0, count).Select(i => of(Math.Max(0, i - half), Math.Min(count, i + half + 1)))];
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values[values.Length / 2];
    }
}
