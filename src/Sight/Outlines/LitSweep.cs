using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>How a long side of a blank lies against a straight line, by its line found under the light: an outline steps to shadows' rims and back, by as much as an edge sweeps.</summary>
internal static class LitSweep
{
    /// <summary>Odds (logarithm) of a side to be the edge above which its line is worth finding for this: 4 to 1. Chosen; a spine is straight to both ends and tells nothing.</summary>
    public const double LeastSides = 1.4;

    /// <summary>How far the side lies inside its own straight line at stations <see cref="BladeLie.StationMm"/> apart, from its near end to its far end, mm.</summary>
    public static double[] InsideMm(BladeLie lie, SmoothEdge side, bool high, EdgeSections sections, double pixelMm)
    {
        Point2[] path = Contour.Open([.. side.Points()], 0.5 * pixelMm);
        return InsideMm([.. sections.Line(path, OutlineView.Inward(path, side.Outward), pixelMm).Line.Select(lie.Of)], high);
    }

    /// <summary>The same of places in the blade's own frame.</summary>
    internal static double[] InsideMm((double S, double T)[] line, bool high)
    {
        (double S, double T)[] along = [.. line.OrderBy(p => p.S)];
        int count = Math.Max(0, (int)((along[^1].S - along[0].S) / BladeLie.StationMm));
        double[] at = [.. Enumerable.Range(0, count).Select(i => along[0].S + ((i + 0.5) * BladeLie.StationMm))];
        double[] t = new double[count];
        int k = 0;
        for (int i = 0; i < count; i++)
        {
            while (k < along.Length - 2 && along[k + 1].S < at[i])
                k++;
            double span = along[k + 1].S - along[k].S;
            t[i] = span < 1e-9 ? along[k].T : along[k].T + ((along[k + 1].T - along[k].T) * (at[i] - along[k].S) / span);
        }

        int from = (int)(0.3 * count);
        int over = (int)(0.4 * count);
        if (over < 3)
            return [];
        RobustPolynomial straight = RobustPolynomial.Fit([.. at.Skip(from).Take(over)], [.. t.Skip(from).Take(over)], 1, 0.3);
        return [.. at.Zip(t, (s, v) => (high ? 1 : -1) * (straight.At(s) - v))];
    }
}
