namespace Whetwright.Paper.Shop;

/// <summary>The shop as it stands on its papers.</summary>
/// <param name="Name">Name.</param>
public sealed record ShopHead(string Name)
{
    /// <summary>Address, one line each.</summary>
    public IReadOnlyList<string> Address { get; init; } = [];

    /// <summary>Telephone, mail, what a customer needs; one line each.</summary>
    public IReadOnlyList<string> Contact { get; init; } = [];

    /// <summary>The shop's own conditions; line breaks begin paragraphs.</summary>
    public string? Conditions { get; init; }

    /// <summary>True for an invented shop: every paper says so.</summary>
    public bool Invented { get; init; }

    /// <summary>What every paper of an invented shop says.</summary>
    public const string InventedNote = "Invented example: no such shop, owner or piece.";
}
