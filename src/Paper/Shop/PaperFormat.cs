namespace Whetwright.Paper.Shop;

/// <summary>What a paper of the shop is printed on, upright.</summary>
/// <param name="Name">Name: <c>a5</c>.</param>
/// <param name="WidthMm">Width, mm.</param>
/// <param name="HeightMm">Height, mm; null for a roll, cut where the text ends.</param>
public sealed record PaperFormat(string Name, double WidthMm, double? HeightMm)
{
    /// <summary>A5: 148 × 210 mm ([iso216]).</summary>
    public static PaperFormat A5 { get; } = new("a5", 148, 210);

    /// <summary>A4: 210 × 297 mm ([iso216]).</summary>
    public static PaperFormat A4 { get; } = new("a4", 210, 297);

    /// <summary>Letter: 8.5 × 11 in ([asme-y14.1] size A, from memory).</summary>
    public static PaperFormat Letter { get; } = new("letter", 215.9, 279.4);

    /// <summary>Half a Letter: 5.5 × 8.5 in.</summary>
    public static PaperFormat HalfLetter { get; } = new("half-letter", 139.7, 215.9);

    /// <summary>A roll 80 mm wide; printers of that kind leave 72 mm (common practice, no source).</summary>
    public static PaperFormat Roll80 { get; } = new("roll-80", 80, null);

    /// <summary>All of them.</summary>
    public static IReadOnlyList<PaperFormat> All { get; } = [A5, A4, Letter, HalfLetter, Roll80];

    /// <summary>A format by its name, whatever the case.</summary>
    /// <exception cref="ArgumentException">No such name.</exception>
    public static PaperFormat Named(string name) =>
        All.FirstOrDefault(f => f.Name.Equals(name?.Trim(), StringComparison.OrdinalIgnoreCase))
        ?? throw new ArgumentException($"No paper is called \"{name}\"; use one of {string.Join(", ", All.Select(f => f.Name))}.", nameof(name));

    /// <summary>White edge, mm: 4 on a roll, 10 on A5, 15 on larger sheets (chosen, not derived).</summary>
    internal double MarginMm => HeightMm is null ? 4 : WidthMm < 160 ? 10 : 15;

    /// <summary>A roll's texts are as large as A5's; larger sheets a little larger.</summary>
    internal double TextMm => WidthMm < 160 ? 3.1 : 3.5;

    /// <summary>The paper, or a refusal where no text fits it.</summary>
    internal static PaperFormat Checked(PaperFormat format) => format is { WidthMm: >= 48 and <= 1000, HeightMm: null or (>= 100 and <= 1500) }
        ? format
        : throw new ArgumentOutOfRangeException(
            nameof(format), format, FormattableString.Invariant($"The paper is {format.WidthMm} × {format.HeightMm} mm; it should be from 48 mm wide and 100 mm high."));
}
