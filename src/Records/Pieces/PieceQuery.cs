using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Pieces;

/// <summary>What is known of a piece that is looked for.</summary>
public sealed record PieceWanted
{
    /// <summary>Any part of its name, slot, steel or owner's name; or its tag.</summary>
    public string? Typed { get; init; }

    /// <summary>Kind.</summary>
    public PieceKind? Kind { get; init; }

    /// <summary>Length of the edge, mm.</summary>
    public double? LengthMm { get; init; }

    /// <summary>How far the length may be off, mm.</summary>
    public double WithinMm { get; init; } = 10;

    /// <summary>Whose.</summary>
    public long? OwnerId { get; init; }

    /// <summary>Of which set.</summary>
    public long? SetId { get; init; }

    /// <summary>True for pieces that are in the shop only: a lost tag.</summary>
    public bool HereOnly { get; init; }

    /// <summary>How many at most.</summary>
    public int Most { get; init; } = 30;
}

/// <summary>A piece as a list shows it.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">Name.</param>
/// <param name="Kind">Kind.</param>
/// <param name="LengthMm">Length, mm.</param>
/// <param name="Slot">Slot in its set.</param>
/// <param name="SetName">Its set.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="Tag">Its tag while it is here.</param>
/// <param name="VisitId">The open visit.</param>
/// <param name="LastVisit">When it was last taken in, UTC.</param>
public sealed record PieceFound(
    long Id, string Name, PieceKind Kind, double? LengthMm, string? Slot, string? SetName, long OwnerId, string OwnerName, int? Tag, long? VisitId, DateTime? LastVisit);

/// <summary>Finds pieces, those whose tag is lost too.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class PieceQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Pieces that fit; the nearest in length first, then by name.</summary>
    public async Task<IReadOnlyList<PieceFound>> FindAsync(PieceWanted wanted, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        IQueryable<Piece> pieces = db.Pieces;
        if (TagNumber.TryParse(wanted.Typed, out int tag) && await db.Visits.AnyAsync(v => v.Tag == tag, cancel))
            pieces = pieces.Where(p => p.Visits.Any(v => v.Tag == tag));
        else
        {
            foreach (string word in SearchWords.Of(wanted.Typed))
                pieces = pieces.Where(p => p.SearchText.Contains(word));
        }

        if (wanted.Kind is { } kind)
            pieces = pieces.Where(p => p.Kind == kind);
        if (wanted.OwnerId is { } owner)
            pieces = pieces.Where(p => p.OwnerId == owner);
        if (wanted.SetId is { } set)
            pieces = pieces.Where(p => p.SetId == set);
        if (wanted.HereOnly)
            pieces = pieces.Where(p => p.Visits.Any(v => v.HandBackId == null));
        if (wanted.LengthMm is { } length)
        {
            double from = length - wanted.WithinMm, to = length + wanted.WithinMm;
            pieces = pieces.Where(p => p.LengthMm >= from && p.LengthMm <= to).OrderBy(p => Math.Abs(p.LengthMm!.Value - length)).ThenBy(p => p.Name).ThenBy(p => p.Id);
        }
        else
        {
            pieces = pieces.OrderBy(p => p.Name).ThenBy(p => p.Id);
        }

        return await pieces.Take(wanted.Most).Select(p => new PieceFound(
            p.Id, p.Name, p.Kind, p.LengthMm, p.Slot, p.Set!.Name, p.OwnerId, p.Owner!.Name,
            p.Visits.Where(v => v.HandBackId == null).Select(v => (int?)v.Tag).FirstOrDefault(),
            p.Visits.Where(v => v.HandBackId == null).Select(v => (long?)v.Id).FirstOrDefault(),
            p.Visits.Max(v => (DateTime?)v.HappenedAt))).ToListAsync(cancel);
    }

    /// <summary>One piece with its owner and set, not tracked; null where there is none.</summary>
    public async Task<Piece?> OneAsync(long id, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Pieces.AsNoTracking().Include(p => p.Owner).Include(p => p.Set).FirstOrDefaultAsync(p => p.Id == id, cancel);
    }
}
