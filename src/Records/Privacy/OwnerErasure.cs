using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Privacy;

/// <summary>What an erasure took.</summary>
/// <param name="OwnerId">The owner, who is a number from now on.</param>
/// <param name="Pieces">Pieces whose names and notes went.</param>
/// <param name="Visits">Visits whose words went.</param>
/// <param name="PhotoHashes">Photos whose rows went; their bytes go after the commit.</param>
public sealed record Erased(long OwnerId, int Pieces, int Visits, IReadOnlyList<string> PhotoHashes);

/// <summary>
/// Takes a person out of the book: name, telephone, mail, address, every word written about them and their pieces, and every photo. What was
/// charged and paid, when, and the measurements of edges stay: the shop's figures are the same before and after, and nobody can be told from them.
/// It is the one place that goes round the rule that facts are never changed, and it only takes words out of them.
/// </summary>
/// <param name="writer">The way into the book.</param>
/// <param name="clock">The time.</param>
/// <param name="photos">The photos.</param>
public sealed class OwnerErasure(BookWriter writer, BookClock clock, IPhotoStore photos)
{
    /// <summary>What stands in the place of a name.</summary>
    public static string NameOf(long id) => string.Create(CultureInfo.InvariantCulture, $"Erased owner {id}");

    /// <summary>Erases: all of it, or nothing. Photos' bytes go once the rows have gone; those that somebody else's photo shares stay.</summary>
    /// <param name="token">A form's token; null for a program.</param>
    /// <param name="ownerId">Whom.</param>
    /// <param name="cancel">Gives up before the commit.</param>
    public async Task<SaveOutcome<Erased>> EraseAsync(string? token, long ownerId, CancellationToken cancel = default)
    {
        Erased? erased = null;
        Submitted<Erased> done = await writer.SubmitAsync(token ?? Guid.NewGuid().ToString("N"), async db =>
        {
            SaveOutcome<Erased> outcome = await EraseAsync(db, ownerId, cancel);
            erased = (outcome as SaveOutcome<Erased>.Saved)?.Value;
            return outcome;
        }, e => string.Create(CultureInfo.InvariantCulture, $"/book/owners/{e.OwnerId}"), cancel);
        if (done is Submitted<Erased>.Refused refused)
            return new SaveOutcome<Erased>.Refused(refused.Problems);
        erased ??= new Erased(ownerId, 0, 0, []); // the same form a second time
        await photos.DeleteUnnamedAsync(erased.PhotoHashes, CancellationToken.None);
        return new SaveOutcome<Erased>.Saved(erased);
    }

    private async Task<SaveOutcome<Erased>> EraseAsync(BookContext db, long id, CancellationToken cancel)
    {
        string shown = id.ToString(CultureInfo.InvariantCulture);
        Owner? owner = await db.Owners.FirstOrDefaultAsync(o => o.Id == id, cancel);
        if (owner is null)
            return new SaveOutcome<Erased>.Refused("Owner", shown, "an owner in the book would be right");
        if (owner.ErasedAt is not null)
            return new SaveOutcome<Erased>.Refused("Owner", shown, "this owner was erased already");
        int here = await db.Visits.CountAsync(v => v.Piece!.OwnerId == id && v.HandBackId == null, cancel);
        if (here > 0)
            return new SaveOutcome<Erased>.Refused("Owner", owner.Name, $"{here} of their pieces {(here == 1 ? "is" : "are")} in the shop: hand back first, or nobody knows whose they are");
        long owed = await db.Charges.Standing().Where(c => c.Visit!.Piece!.OwnerId == id).SumAsync(c => c.AmountMinor, cancel)
            - await db.Payments.Standing().Where(p => p.OwnerId == id).SumAsync(p => p.AmountMinor, cancel);
        if (owed != 0)
            return new SaveOutcome<Erased>.Refused("Owner", owner.Name, $"{Math.Abs(owed)} (in the currency's smallest unit) {(owed > 0 ? "is still owed by them" : "is still theirs")}: settle it first");

        long[] pieces = await db.Pieces.Where(p => p.OwnerId == id).Select(p => p.Id).ToArrayAsync(cancel);
        long[] visits = await db.Visits.Where(v => pieces.Contains(v.PieceId)).Select(v => v.Id).ToArrayAsync(cancel);
        List<string> hashes = await db.Photos.Where(p => p.VisitId != null && visits.Contains(p.VisitId.Value)).Select(p => p.Hash).Distinct().ToListAsync(cancel);
        await db.Photos.Where(p => p.VisitId != null && visits.Contains(p.VisitId.Value)).ExecuteDeleteAsync(cancel);
        await WordsOfPiecesAsync(db, id, cancel);
        await WordsOfVisitsAsync(db, visits, cancel);
        await db.Set<Submission>().Where(s => s.Result == "/book/owners/" + shown).ExecuteDeleteAsync(cancel);

        owner.Name = NameOf(id);
        owner.Phone = owner.Email = owner.Address = owner.Note = null;
        owner.IsAccount = false;
        owner.SearchText = Folded.Of(owner.Name);
        owner.ErasedAt = clock.Now();
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<Erased>.Saved(new Erased(id, pieces.Length, visits.Length, hashes));
    }

    private static async Task WordsOfPiecesAsync(BookContext db, long ownerId, CancellationToken cancel)
    {
        string folded = Folded.Of("piece", NameOf(ownerId));
        await db.Pieces.Where(p => p.OwnerId == ownerId).ExecuteUpdateAsync(
            set => set.SetProperty(p => p.Name, "piece").SetProperty(p => p.Note, (string?)null).SetProperty(p => p.Slot, (string?)null).SetProperty(p => p.SearchText, folded)
                .SetProperty(p => p.Version, p => p.Version + 1), cancel);
        long[] sets = await db.PieceSets.Where(s => s.OwnerId == ownerId).Select(s => s.Id).ToArrayAsync(cancel);
        await db.PieceSets.Where(s => s.OwnerId == ownerId).ExecuteUpdateAsync(set => set.SetProperty(s => s.Name, "set"), cancel);
        await db.SetCounts.Where(c => sets.Contains(c.SetId)).ExecuteUpdateAsync(set => set.SetProperty(c => c.Difference, (string?)null), cancel);
    }

    private static async Task WordsOfVisitsAsync(BookContext db, long[] ids, CancellationToken cancel)
    {
        await db.Visits.Where(v => ids.Contains(v.Id)).ExecuteUpdateAsync(
            set => set.SetProperty(v => v.Wishes, (string?)null).SetProperty(v => v.Damage, (string?)null).SetProperty(v => v.Declined, (string?)null).SetProperty(v => v.Place, (string?)null)
                .SetProperty(v => v.Version, v => v.Version + 1), cancel);
        await db.HandBacks.Where(f => ids.Contains(f.VisitId)).ExecuteUpdateAsync(set => set.SetProperty(f => f.To, (string?)null).SetProperty(f => f.EdgeNote, (string?)null), cancel);
        await db.VisitNotes.Where(f => ids.Contains(f.VisitId)).ExecuteUpdateAsync(set => set.SetProperty(f => f.Text, "erased"), cancel);
        await db.BenchEvents.Where(f => ids.Contains(f.VisitId)).ExecuteUpdateAsync(set => set.SetProperty(f => f.Note, (string?)null), cancel);
        await db.StepMarks.Where(f => ids.Contains(f.VisitId)).ExecuteUpdateAsync(set => set.SetProperty(f => f.Why, (string?)null), cancel);
        await db.Charges.Where(f => ids.Contains(f.VisitId) && f.PriceLineId == null).ExecuteUpdateAsync(set => set.SetProperty(f => f.Text, "work"), cancel);
    }
}
