namespace Whetwright.Paper.Drawings;

/// <summary>
/// The few inks our drawings use. On screen each is a CSS custom property with a fallback, so that a page may set it for light and dark;
/// in print each is a fixed colour. Nothing is told by ink alone: what differs in ink differs in line, hatch or words too.
/// </summary>
public enum Ink
{
    /// <summary>Text and outlines. On screen <c>--ww-ink</c>, else the current colour.</summary>
    Main = 0,

    /// <summary>Second text, dimensions. <c>--ww-muted</c>.</summary>
    Muted = 1,

    /// <summary>Guides, ticks that shall not catch the eye. <c>--ww-faint</c>.</summary>
    Faint = 2,

    /// <summary>The dimension to dial and what else the eye shall find first. <c>--ww-accent</c>.</summary>
    Accent = 3,

    /// <summary>Fill of steel. <c>--ww-steel</c>.</summary>
    Steel = 4,

    /// <summary>Fill of wheels, stones, holders. <c>--ww-stone</c>.</summary>
    Stone = 5,

    /// <summary>The sheet itself. <c>--ww-paper</c>.</summary>
    Paper = 6,

    /// <summary>Lines ruled under what is photographed: light and without colour. <c>--ww-ruling</c>.</summary>
    Ruling = 7,
}

/// <summary>A line's width and dash, in mm.</summary>
/// <param name="WidthMm">Width, mm.</param>
/// <param name="Ink">Ink.</param>
/// <param name="DashMm">Dash and gap, mm; null for a whole line.</param>
public readonly record struct Stroke(double WidthMm, Ink Ink = Ink.Main, double? DashMm = null)
{
    /// <summary>Outline of a thing: 0.35 mm.</summary>
    public static Stroke Outline { get; } = new(0.35);

    /// <summary>Dimension line: 0.2 mm.</summary>
    public static Stroke Thin { get; } = new(0.2, Ink.Muted);
}

/// <summary>Which point of a text stands at the given place.</summary>
public enum TextAnchor
{
    /// <summary>Its start.</summary>
    Start = 0,

    /// <summary>Its middle.</summary>
    Middle = 1,

    /// <summary>Its end.</summary>
    End = 2,
}

/// <summary>Cut of the bundled face.</summary>
public enum TextFace
{
    /// <summary>Regular.</summary>
    Regular = 0,

    /// <summary>Bold.</summary>
    Bold = 1,

    /// <summary>Condensed.</summary>
    Condensed = 2,

    /// <summary>Condensed bold.</summary>
    CondensedBold = 3,
}
