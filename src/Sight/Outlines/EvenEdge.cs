using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// A line of an edge without the waves that the outline's bulges and chips left in it: a ground edge turns slowly, so that within some centimetres it is a curve of the
/// third degree. A wave of the line would be seen as a notch of an edge that has none.
/// </summary>
internal static class EvenEdge
{
    /// <summary>Half of what is evened at once: several chips wide, short against a belly. Chosen.</summary>
    private const double WindowMm = 18;

    private const double KnotMm = 2;
    private const double EveryMm = 0.5;

    /// <summary>Stations some four times as far off have no say. Chosen: an edge's line is good to a tenth or two.</summary>
    private const double ScaleMm = 0.1;

    /// <summary>The stations of a line, moved across its chord onto the even curve.</summary>
    public static Point2[] Of(Point2[] line)
    {
        double chord = line[0].DistanceTo(line[^1]);
        if (line.Length < 8 || chord < KnotMm)
            return line;
        Vector2 x = (line[^1] - line[0]).Normalized();
        var y = new Vector2(-x.Y, x.X);
        double[] along = [.. line.Select(p => (p - line[0]).Dot(x))];
        double[] across = [.. line.Select(p => (p - line[0]).Dot(y))];
        int every = Math.Max(1, (int)(EveryMm / line[0].DistanceTo(line[1])));
        int[] few = [.. Enumerable.Range(0, line.Length).Where(i => i % every == 0).OrderBy(i => along[i])];
        double[] fewAlong = [.. few.Select(i => along[i])];
        double[] fewAcross = [.. few.Select(i => across[i])];
        double half = Math.Min(WindowMm, chord / 2);
        int count = (int)Math.Ceiling(chord / KnotMm) + 1;
        double[] knot = [.. Enumerable.Range(0, count).Select(i => chord * i / (count - 1))];
        double[] even = [.. knot.Select(at =>
        {
            double middle = Math.Clamp(at, half, chord - half);
            int from = Array.FindIndex(fewAlong, v => v >= middle - half - 1e-9);
            int to = Array.FindLastIndex(fewAlong, v => v <= middle + half + 1e-9);
            return RobustPolynomial.Fit(fewAlong.AsSpan(from, to - from + 1), fewAcross.AsSpan(from, to - from + 1), 3, ScaleMm).At(at);
        })];
        return [.. along.Select(a => line[0] + (x * a) + (y * EdgeSections.At(knot, even, a)))];
    }
}
