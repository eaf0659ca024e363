using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Drawings;

/// <summary>Writes drawings as PDF pages at exact size, fonts embedded. The only home of the PDF library.</summary>
public static class PdfWriter
{
    /// <summary>One page per drawing, each as large as its drawing.</summary>
    /// <exception cref="ArgumentException">No page.</exception>
    public static byte[] Write(IReadOnlyList<Drawing> pages)
    {
        if (pages.Count == 0)
            throw new ArgumentException("A document needs a page.", nameof(pages));
        BundledFonts.Register();
        using var document = new PdfDocument();
        document.Info.Title = pages[0].Title;
        document.Info.Subject = pages[0].Description;
        document.Info.Creator = "Whetwright";
        document.ViewerPreferences.Elements.SetName("/PrintScaling", "/None");
        foreach (Drawing drawing in pages)
        {
            PdfPage page = document.AddPage();
            page.Width = XUnit.FromMillimeter(drawing.WidthMm);
            page.Height = XUnit.FromMillimeter(drawing.HeightMm);
            using XGraphics graphics = XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter);
            foreach (DrawingItem item in drawing.Items)
                Draw(graphics, item);
        }

        using var stream = new MemoryStream();
        document.Save(stream, closeStream: false);
        return stream.ToArray();
    }

    private static void Draw(XGraphics graphics, DrawingItem item)
    {
        switch (item)
        {
            case DrawingItem.Path { Closed: false, Stroke: { } stroke } open:
                graphics.DrawLines(PenOf(stroke), [.. open.PointsMm.Select(p => new XPoint(p.X, p.Y))]);
                break;
            case DrawingItem.Path closed:
                var outline = new XGraphicsPath { FillMode = XFillMode.Alternate };
                outline.AddPolygon([.. closed.PointsMm.Select(p => new XPoint(p.X, p.Y))]);
                graphics.DrawPath(Pen(closed.Stroke), Brush(closed.Fill), outline);
                break;
            case DrawingItem.Area area:
                var contours = new XGraphicsPath { FillMode = XFillMode.Alternate };
                foreach (IReadOnlyList<Point2> contour in area.ContoursMm)
                {
                    contours.StartFigure();
                    contours.AddPolygon([.. contour.Select(p => new XPoint(p.X, p.Y))]);
                }

                graphics.DrawPath(null, Brush(area.Fill), contours);
                break;
            case DrawingItem.Circle circle:
                double diameter = circle.RadiusMm * 2;
                var box = new XRect(circle.CentreMm.X - circle.RadiusMm, circle.CentreMm.Y - circle.RadiusMm, diameter, diameter);
                graphics.DrawEllipse(Pen(circle.Stroke), Brush(circle.Fill), box);
                break;
            case DrawingItem.Arc arc:
                double side = arc.RadiusMm * 2;
                graphics.DrawArc(PenOf(arc.Stroke), arc.CentreMm.X - arc.RadiusMm, arc.CentreMm.Y - arc.RadiusMm, side, side, arc.StartDeg, arc.SweepDeg);
                break;
            case DrawingItem.Text text:
                Words(graphics, text);
                break;
            default:
                throw new InvalidOperationException("Unknown thing on a drawing: " + item.GetType().Name);
        }
    }

    private static void Words(XGraphics graphics, DrawingItem.Text text)
    {
        XGraphicsState state = graphics.Save();
        if (text.TurnDeg != 0)
            graphics.RotateAtTransform(text.TurnDeg, new XPoint(text.AtMm.X, text.AtMm.Y));
        double width = FontMetrics.Of(text.Face).WidthMm(text.Words, text.SizeMm);
        double left = text.AtMm.X - (text.Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => width / 2, _ => width });
        if (text.Backed)
            graphics.DrawRectangle(Brush(Ink.Paper)!, left - 0.5, text.AtMm.Y - (text.SizeMm * 0.8), width + 1, text.SizeMm);
        var font = new XFont(BundledFonts.FamilyName(text.Face), text.SizeMm, BundledFonts.Style(text.Face), new XPdfFontOptions(PdfFontEncoding.Unicode));
        graphics.DrawString(text.Words, font, Brush(text.Ink)!, left, text.AtMm.Y);
        graphics.Restore(state);
    }

    private static XPen? Pen(Stroke? stroke) => stroke is { } s ? PenOf(s) : null;

    private static XPen PenOf(Stroke stroke)
    {
        var pen = new XPen(Colour(stroke.Ink), stroke.WidthMm) { LineJoin = XLineJoin.Round, LineCap = XLineCap.Flat };
        if (stroke.DashMm is { } dash)
            pen.DashPattern = [dash / stroke.WidthMm, dash / stroke.WidthMm];
        return pen;
    }

    private static XSolidBrush? Brush(Ink? ink) => ink is { } i ? new XSolidBrush(Colour(i)) : null;

    private static XColor Colour(Ink ink) => ink switch
    {
        Ink.Main => XColor.FromArgb(0, 0, 0),
        Ink.Muted => XColor.FromArgb(0x40, 0x48, 0x50),
        Ink.Faint => XColor.FromArgb(0xa9, 0xb2, 0xbb),
        Ink.Accent => XColor.FromArgb(0x0b, 0x3f, 0x8a),
        Ink.Steel => XColor.FromArgb(0xd5, 0xdb, 0xe1),
        Ink.Stone => XColor.FromArgb(0xec, 0xe7, 0xdd),
        Ink.Paper => XColor.FromArgb(0xff, 0xff, 0xff),
        Ink.Ruling => XColor.FromArgb(0xb0, 0xb0, 0xb0),
        _ => throw new ArgumentOutOfRangeException(nameof(ink), ink, "Not one of our inks."),
    };
}
