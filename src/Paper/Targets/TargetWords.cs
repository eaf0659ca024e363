using Whetwright.Core.Targets;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Targets;

/// <summary>The words on a target: what it is, which side is which, how to use it, what to beware of.</summary>
internal static class TargetWords
{
    private const double SmallMm = 2.3;

    internal static void Draw(Drawing drawing, TargetLayout layout)
    {
        TargetSheet sheet = layout.Sheet;
        SheetFiducial[] f = [.. sheet.Fiducials];
        double x = sheet.ZeroMm.X;
        string distance = SheetMarks.Number(sheet.DistanceMm);
        double top = f[0].TopMm;
        double room = f[2].LeftMm - f[1].RightMm - 12;
        drawing.Text(x, top + 4.6, $"TARGET  {distance} mm", 6, TextAnchor.Middle, TextFace.Bold);
        Centred(drawing, x, top + 9.4, room, $"{sheet.Paper.ToUpperInvariant()} across · print at 100 %, matt paper, no \"fit to page\"");
        Centred(drawing, x, top + 13.2, room, $"edge to sheet {distance} mm · bevel degrees per side, to {SheetMarks.Number(Math.Floor(layout.LargestBevel.Degrees))}°");

        double names = f[11].TopMm - 5;
        drawing.Text(f[11].LeftMm, names, "◀ LEFT", 5, TextAnchor.Start, TextFace.Bold, Ink.Muted);
        drawing.Text(f[4].RightMm, names, "RIGHT ▶", 5, TextAnchor.End, TextFace.Bold, Ink.Muted);
        drawing.Text(x, names, "left and right of the target: as you read it, looking along the beam", SmallMm, TextAnchor.Middle, TextFace.Regular, Ink.Muted);

        Column(drawing, f[9].RightMm + 5, f[8].LeftMm - 5, f[9].TopMm, f[9].BottomMm, "Which side is which", [
            "Blade's left: edge down, tip away from you, on your left.",
            "Tip up: its light falls on the target's RIGHT. Tip down: on the LEFT.",
        ]);
        Column(drawing, f[8].RightMm + 5, f[7].LeftMm - 5, f[8].TopMm - 11, f[8].BottomMm + 5, "How to use it", [
            "1  Measure both check lines; if they are not 100 mm, type what you got.",
            $"2  Stand the sheet upright, {distance} mm behind the edge, bare beam in the gap at 0.",
            "3  Square it, laser off: hold a thread's end at the edge where the beam meets it, pinch it at A, swing it to B and to C. It must end on both noughts; beside them the scales read the turn in degrees.",
            "4  Edge to the laser, upright. Read each mark on the row between ▶ and ◀, where it begins: nearest 0 the primary grind, next the edge.",
            "5  Photograph the whole sheet, sharp, in dim light.",
        ]);
        Column(drawing, f[7].RightMm + 5, f[6].LeftMm - 5, f[7].TopMm, f[7].BottomMm + 2, "Laser", [
            "Never look into the beam or its reflection from a polished bevel.",
            "Know its class; 2 or lower. Beam below eye level, box it in for bevels over 22°. Follow its maker and your local rules.",
        ]);
    }

    private static void Centred(Drawing drawing, double x, double y, double room, string words) =>
        drawing.Text(x, y, words, FontMetrics.Of(TextFace.Regular).SizeToFit(words, 2.8, room), TextAnchor.Middle);

    private static void Column(Drawing drawing, double left, double right, double top, double bottom, string head, string[] paragraphs)
    {
        double width = right - left;
        double size = width > 100 ? SmallMm * 1.25 : SmallMm;
        while (Needed(paragraphs, size, width) > bottom - top && size > 1.7)
            size -= 0.05;
        double y = top + size;
        drawing.Text(left, y, head, size + 0.3, TextAnchor.Start, TextFace.Bold);
        y += (size * 1.25) + 0.3;
        foreach (string paragraph in paragraphs)
            y = drawing.Paragraph(left, y, width, paragraph, size, lineMm: size * 1.25);
    }

    private static double Needed(string[] paragraphs, double size, double width) =>
        ((paragraphs.Sum(p => FontMetrics.Of(TextFace.Regular).Lines(p, size, width).Count) + 1) * size * 1.25) + 0.5;
}
