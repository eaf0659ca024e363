namespace Whetwright.Sight.Outlines;

/// <content>The four corners of a thing whose ends are equally wide.</content>
internal sealed partial class BladeLie
{
    /// <summary>An outline that comes no nearer to its side's line than this over so many millimetres has passed the corner. Chosen: an edge sweeps up by less.</summary>
    private const double StaysMm = 5, TurnsMm = 3;

    /// <summary>
    /// How far a side lies inside its own straight line (over its middle) just before its corner, mm; positive where it sweeps inward.
    /// </summary>
    /// <param name="high">Of the side of growing t.</param>
    /// <param name="far">At the end of growing s.</param>
    public double SweepMm(bool high, bool far)
    {
        Func<int, double> inside = Inside(high);
        int step = far ? 1 : -1;
        int before = Corner(inside, far) - (step * (int)(1 / StationMm));
        return Quantile([.. Enumerable.Range(-2, 5).Select(k => inside(Math.Clamp(before + k, 0, Low.Length - 1)))], 0, 4, 0.5);
    }

    /// <summary>How far a side lies inside its own straight line at each station from its corner at the beginning to that at the end, mm.</summary>
    public double[] InsideMm(bool high)
    {
        Func<int, double> inside = Inside(high);
        int from = Corner(inside, far: false);
        return [.. Enumerable.Range(from, Math.Max(0, Corner(inside, far: true) - from + 1)).Select(inside)];
    }

    private Func<int, double> Inside(bool high)
    {
        double[] side = high ? High : Low;
        double sign = high ? 1 : -1;
        int n = side.Length;
        int[] middle = [.. Enumerable.Range((int)(0.3 * n), (int)(0.4 * n))];
        RobustPolynomial line = RobustPolynomial.Fit([.. middle.Select(i => i * StationMm)], [.. middle.Select(i => side[i])], 1, 0.3);
        return i => sign * (line.At(i * StationMm) - side[i]);
    }

    // From outside in, where the outline has come to the side and stays by it; a chip is not taken for it.
    private int Corner(Func<int, double> inside, bool far)
    {
        int step = far ? 1 : -1;
        int over = (int)(StaysMm / StationMm);
        int i = far ? Low.Length - 1 : 0;
        while (Math.Abs(i - (Low.Length / 2)) > over && Math.Abs(inside(i) - inside(i - (step * over))) > TurnsMm)
            i -= step;
        return i;
    }
}
