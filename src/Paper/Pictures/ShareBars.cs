using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>One bar: a source and how much it adds.</summary>
/// <param name="Name">In words.</param>
/// <param name="Value">Zero or more.</param>
/// <param name="Shown">The value as the person reads it.</param>
/// <param name="Marked">The one to look at: hatched and named.</param>
public sealed record ShareBar(string Name, double Value, string Shown, bool Marked = false);

/// <summary>Sources as bars, the largest first; names stand over the bars, so that long ones fit a phone.</summary>
public static class ShareBars
{
    /// <summary>Draws them in the order given.</summary>
    /// <exception cref="ArgumentException">No bar.</exception>
    public static Drawing Draw(IReadOnlyList<ShareBar> bars, string title, string said)
    {
        if (bars.Count == 0)
            throw new ArgumentException("There is nothing to show.", nameof(bars));
        const double width = 92, row = 8.6;
        var drawing = new Drawing(width, (bars.Count * row) + 1, title, said);
        double most = Math.Max(bars.Max(b => b.Value), 1e-12);
        for (int i = 0; i < bars.Count; i++)
        {
            ShareBar bar = bars[i];
            double y = i * row, wide = Math.Max(0.4, bar.Value / most * (width - 2));
            drawing.Text(1, y + 3.4, bar.Name, 3, TextAnchor.Start, bar.Marked ? TextFace.Bold : TextFace.Regular).Text(width - 1, y + 3.4, bar.Shown, 3, TextAnchor.End, TextFace.Bold);
            if (!bar.Marked)
            {
                drawing.Rectangle(1, y + 4.4, wide, 2.8, new Stroke(0.2), Ink.Accent);
                continue;
            }

            Core.Quantities.Point2[] box = [new(1, y + 4.4), new(1 + wide, y + 4.4), new(1 + wide, y + 7.2), new(1, y + 7.2)];
            drawing.Polygon(box, new Stroke(0.35), Ink.Paper).Hatch(box, 0.9, 45, new Stroke(0.25));
        }

        return drawing;
    }
}
