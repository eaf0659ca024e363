namespace Whetwright.Paper.Shop;

/// <summary>What one tag says. A tag with a number alone is a blank, for work without network.</summary>
/// <param name="Number">The short number with its check digit, as people read it out: <c>1047-3</c>.</param>
public sealed record Tag(string Number)
{
    /// <summary>Address of the piece's page, for the QR code; null prints none.</summary>
    public string? Address { get; init; }

    /// <summary>Whose it is, short.</summary>
    public string? Owner { get; init; }

    /// <summary>What it is: <c>kitchen knife, 210 mm</c>.</summary>
    public string? Piece { get; init; }

    /// <summary>The day it is promised for.</summary>
    public DateOnly? Promise { get; init; }

    /// <summary>The shop is invented: the tag says so.</summary>
    public bool Invented { get; init; }

    /// <summary>True where a hand shall fill in whose and what.</summary>
    public bool IsBlank => Owner is null && Piece is null && Promise is null;
}
