using System.Globalization;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Shop;

/// <summary>Tags: on a label roll, one page a label; or on sheets with cut marks.</summary>
public static class TagSheet
{
    private const double SheetMarginMm = 10;

    /// <summary>One page per tag, as large as the label.</summary>
    /// <exception cref="ArgumentException">No tag, a tag without number, or an address too long for the label.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The label is too small or too large.</exception>
    public static IReadOnlyList<Drawing> Roll(IReadOnlyList<Tag> tags, LabelSize label, ShopPrint print)
    {
        Check(tags);
        return [.. tags.Select(t => TagLabel.Draw(t, label.Checked(), print))];
    }

    /// <summary>As many tags to a sheet as fit, with cut marks in the margins and crosses between.</summary>
    /// <param name="tags">The tags.</param>
    /// <param name="paper">A sheet, not a roll.</param>
    /// <param name="label">Size of a tag.</param>
    /// <param name="print">Numbers and dates.</param>
    /// <param name="skip">Places already used on the first sheet.</param>
    /// <exception cref="ArgumentException">As <see cref="Roll"/>; or the label does not fit the sheet.</exception>
    public static IReadOnlyList<Drawing> Sheets(IReadOnlyList<Tag> tags, PaperFormat paper, LabelSize label, ShopPrint print, int skip = 0)
    {
        Check(tags);
        label.Checked();
        if (paper.HeightMm is not { } height)
            throw new ArgumentException($"Tags on sheets need a sheet; {paper.Name} is a roll.", nameof(paper));
        int columns = (int)((paper.WidthMm - (2 * SheetMarginMm)) / label.WidthMm);
        int rows = (int)((height - (2 * SheetMarginMm)) / label.HeightMm);
        int places = columns * rows;
        if (places == 0)
        {
            throw new ArgumentException(string.Create(
                CultureInfo.InvariantCulture, $"A label of {label.WidthMm} × {label.HeightMm} mm does not fit {paper.Name} with {SheetMarginMm} mm of edge."), nameof(label));
        }

        if (skip < 0 || skip >= places)
            throw new ArgumentOutOfRangeException(nameof(skip), skip, $"Places already used: from 0 to {places - 1}.");
        List<Drawing> sheets = [];
        double left = (paper.WidthMm - (columns * label.WidthMm)) / 2;
        double top = (height - (rows * label.HeightMm)) / 2;
        for (int i = 0; i < tags.Count; i++)
        {
            int place = (i + skip) % places;
            if (sheets.Count == 0 || place == 0)
            {
                sheets.Add(new(paper.WidthMm, height, $"Tags, sheet {sheets.Count + 1}", "Tags to cut apart along the marks."));
                CutMarks(sheets[^1], left, top, columns, rows, label);
            }

            sheets[^1].Place(TagLabel.Draw(tags[i], label, print), left + (place % columns * label.WidthMm), top + (place / columns * label.HeightMm));
        }

        return sheets;
    }

    /// <summary>Tags with numbers alone, to fill in by hand.</summary>
    /// <param name="numbers">Short numbers with their check digits.</param>
    /// <param name="address">Address of each number's page; null prints no QR code.</param>
    public static IReadOnlyList<Tag> Blanks(IEnumerable<string> numbers, Func<string, string>? address = null) =>
        [.. numbers.Select(n => new Tag(n) { Address = address?.Invoke(n) })];

    private static void CutMarks(Drawing sheet, double left, double top, int columns, int rows, LabelSize label)
    {
        var mark = new Stroke(0.15, Ink.Muted);
        double right = left + (columns * label.WidthMm);
        double bottom = top + (rows * label.HeightMm);
        for (int c = 0; c <= columns; c++)
        {
            double x = left + (c * label.WidthMm);
            sheet.Line(x, top - 6, x, top - 2, mark).Line(x, bottom + 2, x, bottom + 6, mark);
            for (int r = 0; r <= rows; r++)
            {
                double y = top + (r * label.HeightMm);
                if (c == 0)
                    sheet.Line(left - 6, y, left - 2, y, mark).Line(right + 2, y, right + 6, y, mark);
                if (c > 0 && c < columns && r > 0 && r < rows)
                    sheet.Line(x - 1, y, x + 1, y, mark).Line(x, y - 1, x, y + 1, mark);
            }
        }
    }

    private static void Check(IReadOnlyList<Tag> tags)
    {
        if (tags.Count == 0)
            throw new ArgumentException("There is no tag to print.", nameof(tags));
        for (int i = 0; i < tags.Count; i++)
        {
            if (string.IsNullOrWhiteSpace(tags[i].Number) || tags[i].Number.Length > 16)
                throw new ArgumentException($"Tag {i + 1} has the number \"{tags[i].Number}\"; it should be a short number with its check digit, such as 1047-3.", nameof(tags));
        }
    }
}
