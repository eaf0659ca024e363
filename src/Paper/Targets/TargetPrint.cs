using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Targets;

/// <summary>A printed target: the bytes to print and the description to keep beside it.</summary>
/// <param name="Pdf">One page at exact size.</param>
/// <param name="Sheet">What target.json says.</param>
public sealed record TargetPrint(byte[] Pdf, TargetSheet Sheet)
{
    /// <summary>Designs and prints a target.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The distance does not suit the paper.</exception>
    public static TargetPrint For(PaperSize paper, Length distance)
    {
        TargetLayout layout = TargetLayout.For(paper, distance);
        return new(PdfWriter.Write([Draw(layout)]), layout.Sheet);
    }

    /// <summary>The target as a drawing.</summary>
    public static Drawing Draw(TargetLayout layout)
    {
        TargetSheet sheet = layout.Sheet;
        string distance = SheetMarks.Number(sheet.DistanceMm);
        var drawing = new Drawing(
            sheet.SizeMm.X, sheet.SizeMm.Y, $"Target {sheet.Paper.ToUpperInvariant()}, {distance} mm", $"Printed target for reading an edge with light, {distance} mm behind the edge.");
        foreach (SheetFiducial fiducial in sheet.Fiducials)
            SheetMarks.Fiducial(drawing, fiducial);
        DrawScale(drawing, layout);
        DrawZero(drawing, layout);
        SheetMarks.CheckAcross(drawing, layout.CheckAcrossFromMm, "check line: 100 mm between the ticks");
        SheetMarks.CheckDown(drawing, layout.CheckDownFromMm, "check line: 100 mm between the ticks");
        DrawSquareness(drawing, layout);
        TargetWords.Draw(drawing, layout);
        return drawing;
    }

    private static void DrawZero(Drawing drawing, TargetLayout layout)
    {
        // Zero is a gap between four short strokes: the spot of the bare beam falls on plain paper.
        (double x, double y) = (layout.Sheet.ZeroMm.X, layout.Sheet.ZeroMm.Y);
        var stroke = new Stroke(0.15, Ink.Faint);
        drawing.Line(x, y - 9, x, y - 4, stroke).Line(x, y + 4, x, y + 9, stroke);
        SheetRectangle field = layout.Sheet.SpotFieldMm;
        foreach (double end in (double[])[field.LeftMm, field.RightMm])
        {
            double inward = end < x ? 4 : -4;
            drawing.Polygon([new(end, y - 1.2), new(end + (inward / 2), y), new(end, y + 1.2)], null, Ink.Muted);
        }
    }

    private static void DrawScale(Drawing drawing, TargetLayout layout)
    {
        SheetRectangle field = layout.Sheet.SpotFieldMm;
        double y = layout.Sheet.ZeroMm.Y;
        double clearLeft = layout.Sheet.Fiducials[11].RightMm + 5;
        foreach (DegreeTick tick in layout.Ticks)
        {
            double degrees = tick.Bevel.Degrees;
            bool whole = Math.Abs(degrees - Math.Round(degrees)) < 1e-9;
            int degree = (int)Math.Round(degrees);
            bool five = whole && degree % 5 == 0;
            double length = five ? 4 : whole ? 2.6 : 1.4;
            foreach (int way in (int[])[-1, 1])
            {
                double inner = y + (way * layout.PlainHalfMm);
                drawing.Line(tick.AtXMm, inner, tick.AtXMm, inner + (way * length), new Stroke(0.12, Ink.Faint));
                double rim = way < 0 ? field.TopMm : field.BottomMm;
                drawing.Line(tick.AtXMm, rim - (way * length), tick.AtXMm, rim, new Stroke(0.15, Ink.Muted));
                if (five)
                    drawing.Line(tick.AtXMm, inner + (way * length), tick.AtXMm, rim - (way * length), new Stroke(0.08, Ink.Faint, 0.8));
                bool numbered = whole && (degree % layout.NumberEveryDeg == 0 || five);
                bool clear = tick.AtXMm > clearLeft && tick.AtXMm < layout.Sheet.SizeMm.X - clearLeft;
                if (numbered && clear)
                {
                    drawing.Text(
                        tick.AtXMm, way < 0 ? rim - 0.8 : rim + 2.7, SheetMarks.Number(degree), five ? 2.6 : 2.2,
                        TextAnchor.Middle, five ? TextFace.Bold : TextFace.Regular, Ink.Muted);
                }
            }
        }

        foreach (double rim in (double[])[field.TopMm, field.BottomMm])
            drawing.Text(layout.Sheet.ZeroMm.X, rim == field.TopMm ? rim - 0.8 : rim + 2.7, "0", 2.6, TextAnchor.Middle, TextFace.Bold, Ink.Muted);
    }

    private static void DrawSquareness(Drawing drawing, TargetLayout layout)
    {
        SquarenessAid aid = layout.Squareness;
        var stroke = new Stroke(0.2);
        Cross(drawing, aid.AMm, stroke);
        drawing.Text(aid.AMm.X - 3, aid.AMm.Y + 1, "A", 3, TextAnchor.End, TextFace.Bold);
        Cross(drawing, aid.BMm, stroke);
        Cross(drawing, aid.CMm, stroke);
        double last = aid.TicksDeg[^1];
        double reach = Reach(layout, last);
        drawing.Line(aid.BMm.X - reach, aid.BMm.Y, aid.BMm.X + reach, aid.BMm.Y, stroke);
        drawing.Line(aid.CMm.X, aid.CMm.Y - reach, aid.CMm.X, aid.CMm.Y + reach, stroke);
        foreach (double degrees in aid.TicksDeg)
        {
            double shift = Reach(layout, degrees);
            double length = degrees % 1 == 0 ? 1.8 : 1;
            foreach (int way in (int[])[-1, 1])
            {
                drawing.Line(aid.BMm.X + (way * shift), aid.BMm.Y - length, aid.BMm.X + (way * shift), aid.BMm.Y, stroke);
                drawing.Line(aid.CMm.X, aid.CMm.Y + (way * shift), aid.CMm.X + length, aid.CMm.Y + (way * shift), stroke);
                if (degrees == Math.Floor(last) || (last < 1 && degrees == last))
                {
                    string label = SheetMarks.Number(degrees) + "°";
                    drawing.Text(aid.BMm.X + (way * shift), aid.BMm.Y - 2.4, label, 2, TextAnchor.Middle);
                    drawing.Text(aid.CMm.X + 2.4, aid.CMm.Y + (way * shift) + 0.7, label, 2);
                }
            }
        }

        drawing.Text(aid.BMm.X - reach - 1.5, aid.BMm.Y + 1, "B", 3, TextAnchor.End, TextFace.Bold);
        drawing.Text(aid.CMm.X - 2.6, aid.CMm.Y + 1, "C", 3, TextAnchor.End, TextFace.Bold);
    }

    private static double Reach(TargetLayout layout, double degrees) =>
        SquarenessAid.Shift(Length.FromMillimetres(layout.Sheet.DistanceMm), Angle.FromDegrees(degrees)).Millimetres;

    private static void Cross(Drawing drawing, Point2 at, Stroke stroke) =>
        drawing.Line(at.X - 2, at.Y, at.X + 2, at.Y, stroke).Line(at.X, at.Y - 2, at.X, at.Y + 2, stroke);
}
