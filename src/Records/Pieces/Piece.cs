using Whetwright.Core.Blades;
using Whetwright.Records.Owners;

namespace Whetwright.Records.Pieces;

/// <summary>The thing brought: the same row every time it comes back.</summary>
public sealed class Piece : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Whose it is.</summary>
    public long OwnerId { get; set; }

    /// <summary>Whose it is.</summary>
    public Owner? Owner { get; set; }

    /// <summary>Kind, which decides its geometry.</summary>
    public PieceKind Kind { get; set; }

    /// <summary>What it is called over the counter: "long kitchen knife, black handle".</summary>
    public required string Name { get; set; }

    /// <summary>Length of the edge, mm.</summary>
    public double? LengthMm { get; set; }

    /// <summary>"left" or "right" for a piece made for one hand.</summary>
    public string? Hand { get; set; }

    /// <summary>Steel, where known: words of the owner or the stamp.</summary>
    public string? Steel { get; set; }

    /// <summary>What the shop wants to remember.</summary>
    public string? Note { get; set; }

    /// <summary>The blade's description in our blade format (docs/formats), as far as it is known: outline, section.</summary>
    public string? BladeJson { get; set; }

    /// <summary>The set it belongs to.</summary>
    public long? SetId { get; set; }

    /// <summary>The set it belongs to.</summary>
    public PieceSet? Set { get; set; }

    /// <summary>Slot or mark within the set: "12".</summary>
    public string? Slot { get; set; }

    /// <summary>What is searched: name, slot, steel, owner's name (<see cref="Folded.Of"/>).</summary>
    public string SearchText { get; set; } = "";

    /// <summary>When first entered, UTC.</summary>
    public DateTime EnteredAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }

    /// <summary>Its visits.</summary>
    public ICollection<Visits.Visit> Visits { get; } = [];
}

/// <summary>Alike pieces of one owner that come as one, such as a kitchen's thirty knives.</summary>
public sealed class PieceSet
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Whose.</summary>
    public long OwnerId { get; init; }

    /// <summary>Name: "line knives".</summary>
    public required string Name { get; set; }

    /// <summary>How many there should be.</summary>
    public int Expected { get; set; }
}

/// <summary>A count of a set over the counter.</summary>
public sealed class SetCount : Fact
{
    /// <summary>The set.</summary>
    public long SetId { get; init; }

    /// <summary>True when they came in, false when they went out.</summary>
    public bool In { get; init; }

    /// <summary>How many were counted.</summary>
    public int Count { get; init; }

    /// <summary>Which are missing or too many, in words.</summary>
    public string? Difference { get; init; }
}

/// <summary>A set that the shop lends while theirs is here.</summary>
public sealed class LoanSet
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Name: "loan roll 1, eight knives".</summary>
    public required string Name { get; set; }

    /// <summary>How many pieces it holds.</summary>
    public int Pieces { get; set; }
}

/// <summary>A loan set going out or coming back.</summary>
public sealed class Loan : Fact
{
    /// <summary>The loan set.</summary>
    public long LoanSetId { get; init; }

    /// <summary>To whom.</summary>
    public long OwnerId { get; init; }

    /// <summary>True when it goes out.</summary>
    public bool Out { get; init; }

    /// <summary>How many pieces were counted.</summary>
    public int Count { get; init; }
}
