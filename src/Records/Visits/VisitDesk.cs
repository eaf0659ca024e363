using Whetwright.Records.Saving;

namespace Whetwright.Records.Visits;

/// <summary>What can be changed of a visit while it is here.</summary>
public sealed record VisitForm
{
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

    /// <summary>Where it lies.</summary>
    public string? Place { get; init; }

    /// <summary>A form filled from what is in the book.</summary>
    public static VisitForm From(Visit visit) => new()
    {
        PromisedFor = visit.PromisedFor,
        Wishes = visit.Wishes,
        Damage = visit.Damage,
        DamageAcknowledged = visit.DamageAcknowledged,
        Declined = visit.Declined,
        Place = visit.Place,
    };
}

/// <summary>Edits visits.</summary>
public sealed class VisitDesk
{
    /// <summary>Edits a visit as the form saw it.</summary>
    public async Task<SaveOutcome<Visit>> EditAsync(BookContext db, long id, int seen, VisitForm form, CancellationToken cancel = default)
    {
        FormCheck check = new();
        check.Longest(nameof(form.Wishes), form.Wishes, 4000).Longest(nameof(form.Damage), form.Damage, 4000)
            .Longest(nameof(form.Declined), form.Declined, 4000).Longest(nameof(form.Place), form.Place, 60)
            .That(!form.DamageAcknowledged || Trimmed.Of(form.Damage) is not null, nameof(form.Damage), form.Damage, "words for the damage that was acknowledged would be right");
        return check.Passed
            ? await db.EditAsync<Visit>(id, seen, visit => Fill(visit, form), cancel)
            : new SaveOutcome<Visit>.Refused(check.Problems);
    }

    private static void Fill(Visit visit, VisitForm form)
    {
        visit.PromisedFor = form.PromisedFor;
        visit.Wishes = Trimmed.Of(form.Wishes);
        visit.Damage = Trimmed.Of(form.Damage);
        visit.DamageAcknowledged = form.DamageAcknowledged;
        visit.Declined = Trimmed.Of(form.Declined);
        visit.Place = Trimmed.Of(form.Place);
    }
}
