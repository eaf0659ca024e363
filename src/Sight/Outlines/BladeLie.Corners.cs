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
        double[] side = high ? High : Low;
        double sign = high ? 1 : -1;
        int n = side.Length;
        int[] middle = [.. Enumerable.Range((int)(0.3 * n), (int)(0.4 * n))];
        RobustPolynomial line = RobustPolynomial.Fit([.. middle.Select(i => i * StationMm)], [.. middle.Select(i => side[i])], 1, 0.3);
        double Inside(int i) => sign * (line.At(i * StationMm) - side[i]);

        // The corner: from outside in, where the outline has come to the side and stays by it; a chip is not taken for it.
        int step = far ? 1 : -1;
        int over = (int)(StaysMm / StationMm);
        int i = far ? n - 1 : 0;
        while (Math.Abs(i - (n / 2)) > over && Math.Abs(Inside(i) - Inside(i - (step * over))) > TurnsMm)
            i -= step;
        int before = i - (step * (int)(1 / StationMm));
        return Quantile([.. Enumerable.Range(-2, 5).Select(k => Inside(Math.Clamp(before + k, 0, n - 1)))], 0, 4, 0.5);
    }
}
