using Whetwright.Records.Pieces;

namespace Whetwright.Records.Visits;

/// <summary>One stay of a piece: from the counter back to the counter. Where it stands is derived from its facts.</summary>
public sealed class Visit : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>The piece.</summary>
    public long PieceId { get; set; }

    /// <summary>The piece.</summary>
    public Piece? Piece { get; set; }

    /// <summary>The tag on it while it is here: the number without its check digit (<see cref="TagNumber"/>).</summary>
    public int Tag { get; init; }

    /// <summary>The receipt it came in with; pieces brought together share it.</summary>
    public long? IntakeId { get; set; }

    /// <summary>The receipt it came in with.</summary>
    public Intake? Intake { get; set; }

    /// <summary>When it was taken in, UTC.</summary>
    public required DateTime HappenedAt { get; init; }

    /// <summary>When that was entered, UTC.</summary>
    public required DateTime EnteredAt { get; init; }

    /// <summary>The day it is promised for.</summary>
    public DateOnly? PromisedFor { get; set; }

    /// <summary>What the owner wants, in words.</summary>
    public string? Wishes { get; set; }

    /// <summary>Damage seen at intake, in words, that the owner acknowledged.</summary>
    public string? Damage { get; set; }

    /// <summary>True when the owner acknowledged the damage.</summary>
    public bool DamageAcknowledged { get; set; }

    /// <summary>Work declined, and why.</summary>
    public string? Declined { get; set; }

    /// <summary>The visit that this one is a complaint about: no takings, no service interval.</summary>
    public long? ComplaintAboutId { get; set; }

    /// <summary>Where it lies: shelf, drawer.</summary>
    public string? Place { get; set; }

    /// <summary>The hand-back that ends it; null while it is here. Follows the <see cref="HandBack"/> facts, in the same transaction.</summary>
    public long? HandBackId { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }
}

/// <summary>Pieces of one owner taken in together: one receipt.</summary>
public sealed class Intake
{
    /// <summary>Key; the receipt's number.</summary>
    public long Id { get; private set; }

    /// <summary>Whose.</summary>
    public long OwnerId { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime HappenedAt { get; init; }

    /// <summary>When entered, UTC.</summary>
    public required DateTime EnteredAt { get; init; }

    /// <summary>The visits.</summary>
    public ICollection<Visit> Visits { get; } = [];
}

/// <summary>The piece left the shop.</summary>
public sealed class HandBack : VisitFact
{
    /// <summary>To whom, where not the owner.</summary>
    public string? To { get; init; }

    /// <summary>The edge note's text as it was given to the owner.</summary>
    public string? EdgeNote { get; init; }
}

/// <summary>The owner was told that it is ready.</summary>
public sealed class ReadyNotice : VisitFact
{
    /// <summary>"sms", "mail", "call".</summary>
    public required string How { get; init; }
}

/// <summary>Words about a visit.</summary>
public sealed class VisitNote : VisitFact
{
    /// <summary>The words.</summary>
    public required string Text { get; init; }
}
