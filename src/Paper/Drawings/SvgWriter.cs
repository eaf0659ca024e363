using System.Globalization;
using System.Text;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Drawings;

/// <summary>
/// Writes a drawing as SVG text. The same drawing always gives the same text. Inks are CSS custom properties with fallbacks; a page sets
/// <c>--ww-ink</c>, <c>--ww-muted</c>, <c>--ww-faint</c>, <c>--ww-accent</c>, <c>--ww-steel</c>, <c>--ww-stone</c> and <c>--ww-paper</c>.
/// They stand in presentation attributes, never in a <c>style</c> attribute, so that a page's content security policy may forbid those.
/// </summary>
public static class SvgWriter
{
    /// <summary>An <c>svg</c> element to stand inside a page: it takes the width it is given and the page's colours.</summary>
    public static string Inline(Drawing drawing)
    {
        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {N(drawing.WidthMm)} {N(drawing.HeightMm)}\"");
        svg.Append(CultureInfo.InvariantCulture, $" role=\"img\" aria-label=\"{Printable.Escaped(drawing.Title)}\">\n");
        Body(svg, drawing);
        return svg.Append("</svg>\n").ToString();
    }

    /// <summary>A whole SVG file at true size on white paper.</summary>
    public static string File(Drawing drawing)
    {
        var svg = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{N(drawing.WidthMm)}mm\" height=\"{N(drawing.HeightMm)}mm\"");
        svg.Append(CultureInfo.InvariantCulture, $" viewBox=\"0 0 {N(drawing.WidthMm)} {N(drawing.HeightMm)}\"");
        svg.Append(CultureInfo.InvariantCulture, $" role=\"img\" aria-label=\"{Printable.Escaped(drawing.Title)}\" color=\"#111\">\n");
        svg.Append("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
        Body(svg, drawing);
        // A file is also read by programs that know no custom properties: plain colours.
        foreach (Ink ink in Enum.GetValues<Ink>())
            svg.Replace(Css(ink), PlainColour(ink));
        return svg.Append("</svg>\n").ToString();
    }

    private static void Body(StringBuilder svg, Drawing drawing)
    {
        svg.Append(CultureInfo.InvariantCulture, $"<title>{Printable.Escaped(drawing.Title)}</title>\n");
        if (drawing.Description.Length > 0)
            svg.Append(CultureInfo.InvariantCulture, $"<desc>{Printable.Escaped(drawing.Description)}</desc>\n");
        svg.Append("<g font-family=\"'DejaVu Sans',Verdana,sans-serif\" stroke-linejoin=\"round\" stroke-linecap=\"round\">\n");
        foreach (DrawingItem item in drawing.Items)
            Item(svg, item);
        svg.Append("</g>\n");
    }

    private static void Item(StringBuilder svg, DrawingItem item)
    {
        switch (item)
        {
            case DrawingItem.Path path:
                svg.Append("<path d=\"M").AppendJoin(' ', path.PointsMm.Select(p => N(p.X) + "," + N(p.Y)));
                svg.Append(path.Closed ? "Z\"" : "\"").Append(Paint(path.Stroke, path.Fill)).Append("/>\n");
                break;
            case DrawingItem.Area area:
                svg.Append("<path d=\"");
                foreach (IReadOnlyList<Point2> contour in area.ContoursMm)
                    svg.Append('M').AppendJoin(' ', contour.Select(p => N(p.X) + "," + N(p.Y))).Append('Z');
                svg.Append("\" fill-rule=\"evenodd\" shape-rendering=\"crispEdges\"").Append(Paint(null, area.Fill)).Append("/>\n");
                break;
            case DrawingItem.Circle circle:
                svg.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(circle.CentreMm.X)}\" cy=\"{N(circle.CentreMm.Y)}\" r=\"{N(circle.RadiusMm)}\"");
                svg.Append(Paint(circle.Stroke, circle.Fill)).Append("/>\n");
                break;
            case DrawingItem.Arc arc:
                Point2 from = On(arc, arc.StartDeg);
                Point2 to = On(arc, arc.StartDeg + arc.SweepDeg);
                svg.Append(CultureInfo.InvariantCulture, $"<path d=\"M{N(from.X)},{N(from.Y)}A{N(arc.RadiusMm)},{N(arc.RadiusMm)} 0 ");
                svg.Append(CultureInfo.InvariantCulture, $"{(Math.Abs(arc.SweepDeg) > 180 ? 1 : 0)} {(arc.SweepDeg > 0 ? 1 : 0)} {N(to.X)},{N(to.Y)}\"");
                svg.Append(Paint(arc.Stroke, null)).Append("/>\n");
                break;
            case DrawingItem.Text text:
                Words(svg, text);
                break;
            default:
                throw new InvalidOperationException("Unknown thing on a drawing: " + item.GetType().Name);
        }
    }

    private static void Words(StringBuilder svg, DrawingItem.Text text)
    {
        if (text.Backed)
        {
            double width = FontMetrics.Of(text.Face).WidthMm(text.Words, text.SizeMm);
            double left = text.AtMm.X - (text.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
            svg.Append(CultureInfo.InvariantCulture, $"<rect x=\"{N(left - 0.5)}\" y=\"{N(text.AtMm.Y - (text.SizeMm * 0.8))}\"");
            svg.Append(CultureInfo.InvariantCulture, $" width=\"{N(width + 1)}\" height=\"{N(text.SizeMm)}\"{Turn(text)} fill=\"{Css(Ink.Paper)}\"/>\n");
        }

        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{N(text.AtMm.X)}\" y=\"{N(text.AtMm.Y)}\" font-size=\"{N(text.SizeMm)}\"");
        if (text.Anchor != TextAnchor.Start)
            svg.Append(text.Anchor == TextAnchor.Middle ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
        if (text.Face is TextFace.Bold or TextFace.CondensedBold)
            svg.Append(" font-weight=\"700\"");
        if (text.Face is TextFace.Condensed or TextFace.CondensedBold)
            svg.Append(" font-stretch=\"condensed\"");
        svg.Append(CultureInfo.InvariantCulture, $"{Turn(text)} fill=\"{Css(text.Ink)}\">{Printable.Escaped(text.Words)}</text>\n");
    }

    private static string Turn(DrawingItem.Text text) =>
        text.TurnDeg == 0 ? "" : $" transform=\"rotate({N(text.TurnDeg)} {N(text.AtMm.X)} {N(text.AtMm.Y)})\"";

    private static string Paint(Stroke? stroke, Ink? fill)
    {
        // Presentation attributes, no style attribute: a page under a strict content security policy shows them.
        string paint = " fill=\"" + (fill is { } f ? Css(f) : "none") + "\"";
        if (stroke is { } s)
        {
            paint += " stroke=\"" + Css(s.Ink) + "\" stroke-width=\"" + N(s.WidthMm) + "\"";
            if (s.DashMm is { } dash)
                paint += " stroke-dasharray=\"" + N(dash) + "\"";
        }

        return paint;
    }

    private static string Css(Ink ink) => ink switch
    {
        Ink.Main => "var(--ww-ink,currentColor)",
        Ink.Muted => "var(--ww-muted,#4a5560)",
        Ink.Faint => "var(--ww-faint,#a9b2bb)",
        Ink.Accent => "var(--ww-accent,#0b4f9e)",
        Ink.Steel => "var(--ww-steel,#d5dbe1)",
        Ink.Stone => "var(--ww-stone,#ece7dd)",
        Ink.Paper => "var(--ww-paper,#fff)",
        Ink.Ruling => "var(--ww-ruling,#b0b0b0)",
        _ => throw new ArgumentOutOfRangeException(nameof(ink), ink, "Not one of our inks."),
    };

    /// <summary>The fallback of an ink's custom property, as a colour of its own.</summary>
    private static string PlainColour(Ink ink)
    {
        string css = Css(ink);
        string fallback = css[(css.IndexOf(',', StringComparison.Ordinal) + 1)..^1];
        return fallback == "currentColor" ? "#111" : fallback;
    }

    private static Point2 On(DrawingItem.Arc arc, double deg) => new(
        arc.CentreMm.X + (arc.RadiusMm * Math.Cos(double.DegreesToRadians(deg))),
        arc.CentreMm.Y + (arc.RadiusMm * Math.Sin(double.DegreesToRadians(deg))));

    private static string N(double value)
    {
        string text = value.ToString("0.###", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }
}
