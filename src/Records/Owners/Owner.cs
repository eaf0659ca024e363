namespace Whetwright.Records.Owners;

/// <summary>Whose piece it is: a person, or a kitchen with a standing account.</summary>
public sealed class Owner : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Name as they give it.</summary>
    public required string Name { get; set; }

    /// <summary>Telephone as written.</summary>
    public string? Phone { get; set; }

    /// <summary>Mail address.</summary>
    public string? Email { get; set; }

    /// <summary>Postal address.</summary>
    public string? Address { get; set; }

    /// <summary>What the shop wants to remember.</summary>
    public string? Note { get; set; }

    /// <summary>Pays by monthly statement, has sets with slots and perhaps own prices.</summary>
    public bool IsAccount { get; set; }

    /// <summary>What is searched: name, phone digits, mail, folded to lower case without accents (<see cref="Folded.Of"/>).</summary>
    public string SearchText { get; set; } = "";

    /// <summary>When first entered, UTC.</summary>
    public DateTime EnteredAt { get; set; }

    /// <summary>When their personal data were erased on request, UTC.</summary>
    public DateTime? ErasedAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }

    /// <summary>Their pieces.</summary>
    public ICollection<Pieces.Piece> Pieces { get; } = [];
}
