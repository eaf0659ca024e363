using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Shop;

/// <summary>One tag, laid out for its label: the number as large as fits, the code beside it or under it.</summary>
internal static class TagLabel
{
    private const double EdgeMm = 1.5;

    internal static Drawing Draw(Tag tag, LabelSize label, ShopPrint print)
    {
        var drawing = new Drawing(label.WidthMm, label.HeightMm, "Tag " + tag.Number, string.Join(", ", new[] { tag.Owner, tag.Piece }.OfType<string>()));
        (double w, double h) = (label.WidthMm, label.HeightMm);
        double left = EdgeMm;
        double top = EdgeMm;
        double right = w - EdgeMm;
        double bottom = h - EdgeMm;
        if (tag.Address is { } address)
        {
            bool beside = w >= h * 1.4;
            // The quiet zone of the code is white paper already: it may reach the label's edge.
            double side = beside ? Math.Min(h - 1, w * 0.48) : Math.Min(w - 1, h * 0.62);
            if (beside)
            {
                QrSquares.Draw(drawing, address, w - side - 0.5, (h - side) / 2, side);
                right = w - side - 0.5;
            }
            else
            {
                QrSquares.Draw(drawing, address, (w - side) / 2, h - side - 0.5, side);
                bottom = h - side - 0.5;
            }
        }

        Words(drawing, tag, print, left, top, right, bottom);
        return drawing;
    }

    private static void Words(Drawing drawing, Tag tag, ShopPrint print, double left, double top, double right, double bottom)
    {
        double width = right - left;
        double height = bottom - top;
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        string number = UnprintableText.Shown(tag.Number);
        double share = tag.IsBlank ? 0.5 : 0.42; // of the height, for the number
        double size = bold.SizeToFit(number, height * share / 0.73, width);
        double y = top + (size * 0.73);
        drawing.Text(left, y, number, size, TextAnchor.Start, TextFace.Bold);
        y += 1.2;
        double small = Math.Clamp(height * 0.11, 1.9, 3.2);
        if (tag.Invented)
        {
            string note = FontMetrics.Of(TextFace.Condensed).OneLine("invented example", 1.9, width);
            drawing.Text(left, bottom - 0.2, note, 1.9, TextAnchor.Start, TextFace.Condensed, Ink.Main);
            bottom -= 2.2;
        }

        if (tag.IsBlank)
        {
            Lines(drawing, left, right, y, bottom);
            return;
        }

        if (tag.Promise is { } promise)
        {
            string day = UnprintableText.Shown(print.Day(promise));
            double daySize = bold.SizeToFit(day, small * 1.25, width);
            drawing.Text(left, bottom - 0.4, day, daySize, TextAnchor.Start, TextFace.Bold);
            bottom -= daySize * 1.15;
        }

        int room = Math.Max(0, (int)((bottom - y) / (small * 1.15)));
        (string? Words, TextFace Face)[] texts = [(tag.Owner, TextFace.CondensedBold), (tag.Piece, TextFace.Condensed)];
        (string? Words, TextFace Face)[] said = [.. texts.Where(t => !string.IsNullOrWhiteSpace(t.Words))];
        for (int i = 0; i < said.Length && room > 0; i++)
        {
            int least = said.Length - 1 - i; // a line kept for each text that follows
            int most = i == 0 ? Math.Max(1, Math.Min(2, room - least)) : room;
            foreach (string line in FontMetrics.Of(said[i].Face).Lines(UnprintableText.Shown(said[i].Words), small, width, most))
            {
                y += small * 1.15;
                room--;
                drawing.Text(left, y, line, small, TextAnchor.Start, said[i].Face);
            }
        }
    }

    private static void Lines(Drawing drawing, double left, double right, double top, double bottom)
    {
        string[] names = ["who", "what", "by"];
        double step = (bottom - top) / names.Length;
        if (step < 3)
            return;
        for (int i = 0; i < names.Length; i++)
        {
            double y = top + ((i + 1) * step) - 0.4;
            drawing.Text(left, y, names[i], 2, TextAnchor.Start, TextFace.Condensed, Ink.Muted);
            drawing.Line(left + 5.2, y + 0.2, right - 1, y + 0.2, new Stroke(0.15, Ink.Muted));
        }
    }
}
