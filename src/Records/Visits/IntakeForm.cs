using System.Globalization;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Visits;

/// <summary>What is typed when pieces come over the counter.</summary>
public sealed record IntakeForm
{
    /// <summary>Whose.</summary>
    public long OwnerId { get; init; }

    /// <summary>When they came, UTC; null for now.</summary>
    public DateTime? HappenedAt { get; init; }

    /// <summary>The pieces.</summary>
    public IReadOnlyList<PieceIntake> Pieces { get; init; } = [];

    /// <summary>Deposit, minor units.</summary>
    public long? DepositMinor { get; init; }

    /// <summary>"cash", "card", "transfer".</summary>
    public string? DepositHow { get; init; }

    /// <summary>How a piece's field is called in a problem: "Pieces[1].Tag".</summary>
    public static string FieldOf(int piece, string field) => string.Create(CultureInfo.InvariantCulture, $"Pieces[{piece}].{field}");

    /// <summary>What is wrong with it as far as it can be seen without the book.</summary>
    /// <param name="now">Now, UTC.</param>
    public IReadOnlyList<FieldProblem> Problems(DateTime now)
    {
        FormCheck check = new();
        check.That(Pieces.Count > 0, nameof(Pieces), null, "at least one piece would be right")
            .That(Pieces.Count <= 500, nameof(Pieces), Pieces.Count, "at most 500 on one receipt would be right")
            .That(HappenedAt is null || HappenedAt <= now.AddMinutes(5), nameof(HappenedAt), HappenedAt, "a time that has passed would be right")
            .That(DepositMinor is null or >= 0, nameof(DepositMinor), DepositMinor, "an amount of 0 or more would be right");
        List<FieldProblem> problems = [.. check.Problems];
        HashSet<long> seen = [];
        HashSet<int> tags = [];
        for (int i = 0; i < Pieces.Count; i++)
        {
            PieceIntake piece = Pieces[i];
            List<FieldProblem> own = [.. piece.Problems()];
            if (piece.PieceId is { } id && !seen.Add(id))
                own.Add(new FieldProblem(nameof(piece.PieceId), id.ToString(CultureInfo.InvariantCulture), "each piece once would be right"));
            if (piece.PaperTag is { } tag && !tags.Add(tag))
                own.Add(new FieldProblem(nameof(piece.PaperTag), tag.ToString(CultureInfo.InvariantCulture), "each tag once would be right"));
            problems.AddRange(own.Select(p => p with { Field = FieldOf(i, p.Field) }));
        }

        return problems;
    }
}

/// <summary>One piece of an intake: one that is known, or a new one.</summary>
public sealed record PieceIntake
{
    /// <summary>A piece that is in the book.</summary>
    public long? PieceId { get; init; }

    /// <summary>A piece that is new; its owner is the intake's.</summary>
    public PieceForm? NewPiece { get; init; }

    /// <summary>The number of a printed blank that already hangs on it; null to be given one.</summary>
    public int? PaperTag { get; init; }

    /// <summary>The day it is promised for.</summary>
    public DateOnly? PromisedFor { get; init; }

    /// <summary>What the owner wants.</summary>
    public string? Wishes { get; init; }

    /// <summary>Damage seen.</summary>
    public string? Damage { get; init; }

    /// <summary>True when the owner acknowledged the damage.</summary>
    public bool DamageAcknowledged { get; init; }

    /// <summary>Work declined, and why.</summary>
    public string? Declined { get; init; }

    /// <summary>The visit that this one is a complaint about.</summary>
    public long? ComplaintAboutId { get; init; }

    /// <summary>Where it lies.</summary>
    public string? Place { get; init; }

    /// <summary>What it will cost.</summary>
    public IReadOnlyList<ChargeForm> Charges { get; init; } = [];

    internal IReadOnlyList<FieldProblem> Problems()
    {
        FormCheck check = new();
        check.That(PieceId is null != NewPiece is null, nameof(PieceId), PieceId, "either a known piece or a new one would be right")
            .Longest(nameof(Wishes), Wishes, 4000).Longest(nameof(Damage), Damage, 4000).Longest(nameof(Declined), Declined, 4000).Longest(nameof(Place), Place, 60)
            .That(!DamageAcknowledged || Trimmed.Of(Damage) is not null, nameof(Damage), Damage, "words for the damage that was acknowledged would be right")
            .That(ComplaintAboutId is null || Charges.All(c => c.AmountMinor == 0), nameof(Charges), Charges.Sum(c => c.AmountMinor), "nothing is charged for a complaint");
        return NewPiece is null ? check.Problems : [.. check.Problems, .. NewPiece.Problems()];
    }

    internal Visit Visit(long pieceId, int tag, long intakeId, DateTime happened, DateTime entered) => new()
    {
        PieceId = pieceId,
        Tag = tag,
        IntakeId = intakeId,
        HappenedAt = happened,
        EnteredAt = entered,
        PromisedFor = PromisedFor,
        Wishes = Trimmed.Of(Wishes),
        Damage = Trimmed.Of(Damage),
        DamageAcknowledged = DamageAcknowledged,
        Declined = Trimmed.Of(Declined),
        ComplaintAboutId = ComplaintAboutId,
        Place = Trimmed.Of(Place),
    };
}

/// <summary>What was taken in.</summary>
/// <param name="IntakeId">The receipt's number.</param>
/// <param name="Visits">In the order of the form.</param>
public sealed record IntakeDone(long IntakeId, IReadOnlyList<VisitTag> Visits);

/// <summary>A piece with its visit and tag.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="PieceId">The piece.</param>
/// <param name="Tag">The tag without its check digit.</param>
public sealed record VisitTag(long VisitId, long PieceId, int Tag);
