namespace Whetwright.Core.Targets;

/// <summary>A sheet of paper as our sheets lie on it: wide side across.</summary>
/// <param name="Name">Name in files and on the command line: <c>a4</c>.</param>
/// <param name="WidthMm">Wide side, mm.</param>
/// <param name="HeightMm">Narrow side, mm.</param>
public sealed record PaperSize(string Name, double WidthMm, double HeightMm);

/// <summary>The paper sizes our sheets are made for.</summary>
public static class KnownPaperSizes
{
    /// <summary>A4: 297 × 210 mm ([iso216], trimmed to ±2 mm).</summary>
    public static PaperSize A4 { get; } = new("a4", 297, 210);

    /// <summary>A3: 420 × 297 mm ([iso216], trimmed to ±2 mm).</summary>
    public static PaperSize A3 { get; } = new("a3", 420, 297);

    /// <summary>Letter: 11 × 8.5 in ([asme-y14.1] size A, from memory).</summary>
    public static PaperSize Letter { get; } = new("letter", 279.4, 215.9);

    /// <summary>Tabloid: 17 × 11 in ([asme-y14.1] size B, from memory).</summary>
    public static PaperSize Tabloid { get; } = new("tabloid", 431.8, 279.4);

    /// <summary>All of them.</summary>
    public static IReadOnlyList<PaperSize> All { get; } = [A4, A3, Letter, Tabloid];

    /// <summary>A size by its name, whatever the case.</summary>
    /// <exception cref="ArgumentException">No such name; the message lists the known ones.</exception>
    public static PaperSize Named(string name) =>
        All.FirstOrDefault(size => size.Name.Equals(name?.Trim(), StringComparison.OrdinalIgnoreCase))
        ?? throw new ArgumentException($"No paper is called \"{name}\"; use one of {string.Join(", ", All.Select(size => size.Name))}.", nameof(name));
}
