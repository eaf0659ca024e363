using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records.History;

/// <summary>What a search of the book found.</summary>
/// <param name="Visit">The visit whose tag was typed.</param>
/// <param name="Owners">Owners.</param>
/// <param name="Pieces">Pieces.</param>
public sealed record BookFound(VisitTag? Visit, IReadOnlyList<OwnerFound> Owners, IReadOnlyList<PieceFound> Pieces);

/// <summary>One visit in a list.</summary>
/// <param name="VisitId">Key.</param>
/// <param name="Tag">Tag.</param>
/// <param name="PieceId">The piece.</param>
/// <param name="PieceName">The piece.</param>
/// <param name="TakenIn">When, UTC.</param>
/// <param name="HandedBack">When, UTC; null while it is here.</param>
/// <param name="ComplaintAboutId">The visit it complains about.</param>
/// <param name="ChargedMinor">What was charged.</param>
public sealed record VisitLine(
    long VisitId, int Tag, long PieceId, string PieceName, DateTime TakenIn, DateTime? HandedBack, long? ComplaintAboutId, long ChargedMinor);

/// <summary>An owner with everything that ever came.</summary>
/// <param name="Owner">The owner.</param>
/// <param name="Pieces">Their pieces.</param>
/// <param name="Visits">Their visits, the latest first.</param>
/// <param name="OwedMinor">What they owe now.</param>
public sealed record OwnerHistory(Owner Owner, IReadOnlyList<PieceFound> Pieces, IReadOnlyList<VisitLine> Visits, long OwedMinor);

/// <summary>A piece with every visit and every fact that stands.</summary>
/// <param name="Piece">The piece with owner and set.</param>
/// <param name="Visits">The latest first.</param>
public sealed record PieceHistory(Piece Piece, IReadOnlyList<VisitRecord> Visits);

/// <summary>Searches the book and reads whole histories.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="owners">Finds owners.</param>
/// <param name="pieces">Finds pieces.</param>
/// <param name="accounts">Knows what is owed.</param>
public sealed class BookQuery(IDbContextFactory<BookContext> books, OwnerQuery owners, PieceQuery pieces, Money.AccountQuery accounts)
{
    /// <summary>Owners, pieces and the visit of a tag, by whatever was typed.</summary>
    public async Task<BookFound> SearchAsync(string? typed, int most = 20, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        VisitTag? visit = null;
        if (TagNumber.TryParse(typed, out int tag) || int.TryParse(typed?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out tag))
            visit = await db.Visits.Where(v => v.Tag == tag).Select(v => new VisitTag(v.Id, v.PieceId, v.Tag)).FirstOrDefaultAsync(cancel);
        return new BookFound(visit, await owners.FindAsync(typed, most, cancel), await pieces.FindAsync(new PieceWanted { Typed = typed, Most = most }, cancel));
    }

    /// <summary>The visit that a tag hangs or hung on, with or without its check digit; null where there is none.</summary>
    public async Task<VisitTag?> ByTagAsync(int tag, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Visits.Where(v => v.Tag == tag).Select(v => new VisitTag(v.Id, v.PieceId, v.Tag)).FirstOrDefaultAsync(cancel);
    }

    /// <summary>An owner's whole history; null where there is no such owner.</summary>
    public async Task<OwnerHistory?> OwnerAsync(long ownerId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Owner? owner = await db.Owners.AsNoTracking().FirstOrDefaultAsync(o => o.Id == ownerId, cancel);
        if (owner is null)
            return null;
        IReadOnlyList<PieceFound> theirs = await pieces.FindAsync(new PieceWanted { OwnerId = ownerId, Most = int.MaxValue }, cancel);
        List<VisitLine> visits = await db.Visits.Where(v => v.Piece!.OwnerId == ownerId).OrderByDescending(v => v.HappenedAt).ThenByDescending(v => v.Id)
            .Select(v => new VisitLine(
                v.Id, v.Tag, v.PieceId, v.Piece!.Name, v.HappenedAt,
                db.HandBacks.Where(h => h.Id == v.HandBackId).Select(h => (DateTime?)h.HappenedAt).FirstOrDefault(), v.ComplaintAboutId,
                db.Charges.Where(c => c.VisitId == v.Id && !c.Withdrawn && !db.Charges.Any(l => l.CorrectsId == c.Id)).Sum(c => c.AmountMinor)))
            .ToListAsync(cancel);
        return new OwnerHistory(owner, theirs, visits, await accounts.OwedAsync(ownerId, cancel));
    }

    /// <summary>A piece's whole history; null where there is no such piece.</summary>
    public async Task<PieceHistory?> PieceAsync(long pieceId, CancellationToken cancel = default)
    {
        Piece? piece = await pieces.OneAsync(pieceId, cancel);
        if (piece is null)
            return null;
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        long[] ids = await db.Visits.Where(v => v.PieceId == pieceId).Select(v => v.Id).ToArrayAsync(cancel);
        return new PieceHistory(piece, await VisitRecords.ReadAsync(db, ids, cancel));
    }

    /// <summary>Every correction made in these visits.</summary>
    public async Task<IReadOnlyList<Correction>> CorrectionsAsync(IReadOnlyCollection<long> visitIds, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await Corrections.ReadAsync(db, [.. visitIds], cancel);
    }

    /// <summary>One visit with its piece, owner and every fact that stands; null where there is no such visit.</summary>
    public async Task<VisitRecord?> VisitAsync(long visitId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await VisitRecords.ReadAsync(db, [visitId], cancel) is [VisitRecord found, ..] ? found : null;
    }
}
