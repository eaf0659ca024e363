using System.Globalization;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Shop;

/// <summary>
/// Sets text down a page, and on to the next where it is full. Whatever is written wraps; a character that cannot be printed becomes a box and
/// a note says so. A roll is one page, cut where the text ends.
/// </summary>
internal sealed class Flow
{
    private const double RollLengthMm = 3000;
    private readonly List<Drawing> pages = [];
    private readonly PaperFormat format;
    private readonly string title;
    private readonly string description;
    private bool boxed;

    internal Flow(PaperFormat format, string title, string description)
    {
        this.format = PaperFormat.Checked(format);
        this.title = title;
        this.description = description;
        Left = format.MarginMm;
        Right = format.WidthMm - format.MarginMm;
        Size = format.TextMm;
        NextPage();
    }

    /// <summary>Left and right end of the lines, mm.</summary>
    internal double Left { get; }

    internal double Right { get; }

    internal double Width => Right - Left;

    /// <summary>Size of the running text, mm.</summary>
    internal double Size { get; }

    /// <summary>Top of what comes next, mm.</summary>
    internal double Y { get; private set; }

    internal Drawing Page { get; private set; } = null!;

    /// <summary>Drawn at the top of each page after the first; null draws nothing.</summary>
    internal Action<Flow>? Again { get; set; }

    private double Bottom => (format.HeightMm ?? RollLengthMm) - format.MarginMm - (format.HeightMm is null ? 0 : 4);

    /// <summary>A text as it can be printed.</summary>
    internal string Shown(string? words)
    {
        string shown = UnprintableText.Shown(words);
        boxed |= shown.Contains(UnprintableText.Box, StringComparison.Ordinal);
        return shown;
    }

    internal void Space(double mm) => Y += mm;

    /// <summary>Goes on to the next page where less than that is left.</summary>
    internal void Keep(double mm)
    {
        if (Y + mm > Bottom && Y > format.MarginMm + 1)
            NextPage();
    }

    internal void Rule(double widthMm = 0.25, double spaceMm = 1.2)
    {
        Keep(2 * spaceMm);
        Y += spaceMm;
        Page.Line(Left, Y, Right, Y, new Stroke(widthMm));
        Y += spaceMm;
    }

    /// <summary>Text that wraps; line breaks begin paragraphs.</summary>
    internal void Text(string? words, double sizeMm = 0, TextFace face = TextFace.Regular, Ink ink = Ink.Main, double indentMm = 0, double rightMm = 0)
    {
        double size = sizeMm > 0 ? sizeMm : Size;
        foreach (string paragraph in (words ?? "").Split('\n'))
        {
            foreach (string line in FontMetrics.Of(face).Lines(Shown(paragraph), size, Width - indentMm - rightMm))
                Line(line, size, face, ink, indentMm);
        }
    }

    /// <summary>A name before a text, the name in bold.</summary>
    internal void Named(string name, string? words, double indentMm = 0)
    {
        if (string.IsNullOrWhiteSpace(words))
            return;
        Keep(Size * 1.3);
        double width = FontMetrics.Of(TextFace.Bold).WidthMm(name + " ", Size) + 0.6;
        if (width > Width * 0.45)
        {
            Text(name, 0, TextFace.Bold, Ink.Main, indentMm);
            Text(words, 0, TextFace.Regular, Ink.Main, indentMm + 3);
            return;
        }

        Page.Text(Left + indentMm, Y + Size, name, Size, TextAnchor.Start, TextFace.Bold);
        Text(words, 0, TextFace.Regular, Ink.Main, indentMm + width);
    }

    /// <summary>A text that wraps, and an amount at the right on its first line.</summary>
    internal void Pair(string words, string amount, double sizeMm = 0, TextFace face = TextFace.Regular, TextFace? amountFace = null, double indentMm = 0)
    {
        double size = sizeMm > 0 ? sizeMm : Size;
        string right = Shown(amount);
        double wide = FontMetrics.Of(amountFace ?? face).WidthMm(right, size);
        if (wide > Width * 0.6)
        {
            Text(words, size, face, Ink.Main, indentMm);
            Text(amount, size, amountFace ?? face, Ink.Main, indentMm + 3);
            return;
        }

        Keep(size * 1.3);
        Page.Text(Right, Y + size, right, size, TextAnchor.End, amountFace ?? face);
        double top = Y;
        Text(words, size, face, Ink.Main, indentMm, wide + 2);
        Y = Math.Max(Y, top + (size * 1.3));
    }

    /// <summary>The line at the top of a page that goes on: cut to one line.</summary>
    internal void Running(string left, string right)
    {
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        string number = bold.OneLine(Shown(right), Size, Width * 0.5);
        Page.Text(Right, Y + Size, number, Size, TextAnchor.End, TextFace.Bold);
        Page.Text(Left, Y + Size, bold.OneLine(Shown(left), Size, Width - bold.WidthMm(number, Size) - 4), Size, TextAnchor.Start, TextFace.Bold);
        Y += Size * 1.3;
    }

    /// <summary>Cells in columns, each wrapped; a column is its left, its right and how it stands.</summary>
    internal void Row(IReadOnlyList<(double FromMm, double ToMm, TextAnchor Anchor)> columns, IReadOnlyList<string> cells, TextFace face = TextFace.Regular, double sizeMm = 0)
    {
        double size = sizeMm > 0 ? sizeMm : Size;
        FontMetrics metrics = FontMetrics.Of(face);
        List<IReadOnlyList<string>> lines = [.. columns.Select((c, i) => metrics.Lines(Shown(cells[i]), size, c.ToMm - c.FromMm))];
        int rows = Math.Max(1, lines.Max(l => l.Count));
        Keep(Math.Min(rows, 4) * size * 1.3);
        for (int row = 0; row < rows; row++)
        {
            Keep(size * 1.3);
            for (int i = 0; i < columns.Count; i++)
            {
                if (row < lines[i].Count)
                    Page.Text(columns[i].Anchor == TextAnchor.End ? columns[i].ToMm : columns[i].FromMm, Y + size, lines[i][row], size, columns[i].Anchor, face);
            }

            Y += size * 1.3;
        }
    }

    /// <summary>A line for a hand to write on, its name before or under it.</summary>
    internal void Blank(string name, double heightMm = 8, double fromMm = 0, double toMm = 0, bool advance = true)
    {
        double from = Left + fromMm;
        double to = toMm > 0 ? Left + toMm : Right;
        double width = FontMetrics.Of(TextFace.Condensed).WidthMm(name, 2.8);
        Page.Text(from, Y + heightMm - 0.8, name, 2.8, TextAnchor.Start, TextFace.Condensed, Ink.Muted);
        Page.Line(from + width + 1.2, Y + heightMm, to, Y + heightMm, new Stroke(0.2, Ink.Muted));
        if (advance)
            Y += heightMm;
    }

    internal void Advance(double mm) => Y += mm;

    /// <summary>Closes the document: the note about boxes, page numbers, a roll cut to length.</summary>
    internal IReadOnlyList<Drawing> Finish()
    {
        if (boxed)
        {
            Space(1);
            Text(UnprintableText.Note, 2.6, TextFace.Regular, Ink.Muted);
        }

        if (format.HeightMm is null)
        {
            var roll = new Drawing(format.WidthMm, Y + format.MarginMm, title, description);
            return [roll.Place(pages[0], 0, 0), .. pages.Skip(1)];
        }

        for (int i = 0; i < pages.Count && pages.Count > 1; i++)
        {
            string number = string.Create(CultureInfo.InvariantCulture, $"{title} · page {i + 1} of {pages.Count}");
            double size = FontMetrics.Of(TextFace.Regular).SizeToFit(Shown(number), 2.6, Width);
            pages[i].Text(Right, format.HeightMm.Value - format.MarginMm + 1, Shown(number), size, TextAnchor.End, TextFace.Regular, Ink.Muted);
        }

        return pages;
    }

    private void Line(string words, double size, TextFace face, Ink ink, double indentMm)
    {
        Keep(size * 1.3);
        Page.Text(Left + indentMm, Y + size, words, size, TextAnchor.Start, face, ink);
        Y += size * 1.3;
    }

    private void NextPage()
    {
        Page = new Drawing(format.WidthMm, format.HeightMm ?? RollLengthMm, title, description);
        pages.Add(Page);
        Y = format.MarginMm;
        if (pages.Count > 1)
            Again?.Invoke(this);
    }
}
