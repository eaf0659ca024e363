using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Money;

/// <summary>Something to charge.</summary>
public sealed record ChargeForm
{
    /// <summary>What for, as the receipt says it.</summary>
    public string? Text { get; init; }

    /// <summary>Amount, tax included.</summary>
    public long AmountMinor { get; init; }

    /// <summary>Tax rate, thousandths of a percent.</summary>
    public int TaxMilliPercent { get; init; }

    /// <summary>The price line it came from.</summary>
    public long? PriceLineId { get; init; }

    /// <summary>Bench minutes it stands for.</summary>
    public double Minutes { get; init; }

    /// <summary>The fact for a visit.</summary>
    public Charge Fact(long visitId, DateTime happened, DateTime entered) => new()
    {
        VisitId = visitId,
        HappenedAt = happened,
        EnteredAt = entered,
        Text = Trimmed.Of(Text) ?? "",
        AmountMinor = AmountMinor,
        TaxMilliPercent = TaxMilliPercent,
        PriceLineId = PriceLineId,
        Minutes = Minutes,
    };
}

/// <summary>Money that changes hands.</summary>
public sealed record PaymentForm
{
    /// <summary>From whom.</summary>
    public long OwnerId { get; init; }

    /// <summary>The visit it settles.</summary>
    public long? VisitId { get; init; }

    /// <summary>The receipt it settles.</summary>
    public long? IntakeId { get; init; }

    /// <summary>Amount; negative when given back.</summary>
    public long AmountMinor { get; init; }

    /// <summary>"cash", "card", "transfer".</summary>
    public string? How { get; init; }

    /// <summary>Paid before the work.</summary>
    public bool Deposit { get; init; }

    /// <summary>When, UTC; null for now.</summary>
    public DateTime? HappenedAt { get; init; }

    /// <summary>An earlier payment that this one corrects.</summary>
    public long? CorrectsId { get; init; }

    /// <summary>With <see cref="CorrectsId"/>: it is taken back.</summary>
    public bool Withdrawn { get; init; }
}

/// <summary>Takes money and gives it back.</summary>
/// <param name="clock">The time.</param>
public sealed class Till(BookClock clock)
{
    /// <summary>Writes down a payment or the correction of one.</summary>
    public async Task<SaveOutcome<Payment>> TakeAsync(BookContext db, PaymentForm form, CancellationToken cancel = default)
    {
        FormCheck check = new();
        check.That(form.How is "cash" or "card" or "transfer", nameof(form.How), form.How, "cash, card or transfer would be right")
            .That(form.Withdrawn || form.AmountMinor != 0, nameof(form.AmountMinor), form.AmountMinor, "an amount other than 0 would be right")
            .That(Math.Abs(form.AmountMinor) <= Amounts.Largest, nameof(form.AmountMinor), form.AmountMinor, "an amount within reason would be right");
        List<FieldProblem> problems = [.. check.Problems];
        if (!await db.Owners.AnyAsync(o => o.Id == form.OwnerId, cancel))
            problems.Add(Missing(nameof(form.OwnerId), form.OwnerId, "an owner in the book would be right"));
        if (form.VisitId is { } visit && !await db.Visits.AnyAsync(v => v.Id == visit && v.Piece!.OwnerId == form.OwnerId, cancel))
            problems.Add(Missing(nameof(form.VisitId), visit, "a visit of this owner's would be right"));
        if (form.IntakeId is { } intake && !await db.Intakes.AnyAsync(i => i.Id == intake && i.OwnerId == form.OwnerId, cancel))
            problems.Add(Missing(nameof(form.IntakeId), intake, "a receipt of this owner's would be right"));
        if (problems.Count > 0)
            return new SaveOutcome<Payment>.Refused(problems);

        DateTime now = clock.Now();
        Payment payment = new()
        {
            OwnerId = form.OwnerId,
            VisitId = form.VisitId,
            IntakeId = form.IntakeId,
            AmountMinor = form.AmountMinor,
            How = form.How!,
            Deposit = form.Deposit,
            HappenedAt = form.HappenedAt ?? now,
            EnteredAt = now,
            CorrectsId = form.CorrectsId,
            Withdrawn = form.Withdrawn,
        };
        return await db.AddFactAsync(payment, p => p.OwnerId == form.OwnerId, cancel: cancel);
    }

    private static FieldProblem Missing(string field, long value, string right) => new(field, value.ToString(CultureInfo.InvariantCulture), right);
}
