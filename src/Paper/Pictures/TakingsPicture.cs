using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>One bar: a week or a month.</summary>
/// <param name="Name">Under the bar: <c>W12</c>, <c>Mar</c>.</param>
/// <param name="Charged">Charged for work, in the currency's unit.</param>
/// <param name="Received">Money received.</param>
public sealed record TakingsBar(string Name, double Charged, double Received);

/// <summary>Takings as bars: charged is full, received is hatched beside it, so that colour is not needed.</summary>
public static class TakingsPicture
{
    /// <summary>Draws them.</summary>
    /// <param name="bars">In order.</param>
    /// <param name="number">Shows an amount.</param>
    /// <param name="widthMm">Width, mm.</param>
    /// <param name="heightMm">Height, mm.</param>
    /// <exception cref="ArgumentException">No bar, or an amount that is not finite.</exception>
    public static Drawing Draw(IReadOnlyList<TakingsBar> bars, Func<double, string> number, double widthMm = 140, double heightMm = 62)
    {
        if (bars.Count == 0 || bars.Any(b => !double.IsFinite(b.Charged) || !double.IsFinite(b.Received)))
            throw new ArgumentException("One bar or more with finite amounts is needed.", nameof(bars));
        TakingsBar most = bars.MaxBy(b => b.Charged)!;
        var drawing = new Drawing(widthMm, heightMm, "Takings", $"Most was charged in {most.Name}: {number(most.Charged)}.");
        double high = Math.Max(bars.Max(b => Math.Max(b.Charged, b.Received)), 1), low = Math.Min(0, bars.Min(b => Math.Min(b.Charged, b.Received)));
        const double left = 20, top = 9;
        double right = widthMm - 2, bottom = heightMm - 6;
        double Y(double amount) => bottom - ((amount - low) / (high - low) * (bottom - top));
        double step = Step(high - low);
        for (double at = Math.Ceiling(low / step) * step; at <= high + 1e-9; at += step)
        {
            drawing.Line(left, Y(at), right, Y(at), new Stroke(0.1, Ink.Faint));
            drawing.Text(left - 1, Y(at) + 1, number(at), 2.8, TextAnchor.End);
        }

        double slot = (right - left) / bars.Count, wide = Math.Min(slot * 0.38, 6);
        for (int i = 0; i < bars.Count; i++)
        {
            double x = left + (slot * (i + 0.5));
            if (bars[i].Charged != 0)
                drawing.Polygon(Box(x - wide, x, Y(bars[i].Charged), Y(0)), new Stroke(0.3), Ink.Accent);
            if (bars[i].Received != 0)
            {
                drawing.Polygon(Box(x, x + wide, Y(bars[i].Received), Y(0)), new Stroke(0.3), Ink.Paper);
                drawing.Hatch([.. Box(x, x + wide, Y(bars[i].Received), Y(0))], 1, 45, new Stroke(0.18));
            }

            drawing.Text(x, heightMm - 1.6, bars[i].Name, 2.8, TextAnchor.Middle);
        }

        drawing.Line(left, Y(0), right, Y(0), new Stroke(0.3));
        drawing.Polygon(Box(left, left + 4, 2, 5), new Stroke(0.3), Ink.Accent).Text(left + 5.5, 4.6, "charged", 2.8);
        drawing.Polygon(Box(left + 24, left + 28, 2, 5), new Stroke(0.3), Ink.Paper);
        drawing.Hatch([.. Box(left + 24, left + 28, 2, 5)], 1, 45, new Stroke(0.18));
        drawing.Text(left + 29.5, 4.6, "received", 2.8);
        return drawing;
    }

    private static IEnumerable<Core.Quantities.Point2> Box(double x0, double x1, double y0, double y1) => [new(x0, y0), new(x1, y0), new(x1, y1), new(x0, y1)];

    /// <summary>Whole amounts, six lines at most.</summary>
    private static double Step(double span)
    {
        double ten = Math.Pow(10, Math.Floor(Math.Log10(span)));
        return Math.Max(1, new[] { 0.1, 0.2, 0.5, 1, 2 }.Select(s => s * ten).First(s => span / s <= 6 || s > ten));
    }
}
