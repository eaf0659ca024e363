using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Pieces;

/// <summary>A set as it stands.</summary>
/// <param name="Set">The set.</param>
/// <param name="Pieces">Its pieces in the order of their slots.</param>
/// <param name="LastCount">The latest count.</param>
/// <param name="LastIn">The latest count in.</param>
public sealed record SetStanding(PieceSet Set, IReadOnlyList<SetPiece> Pieces, SetCount? LastCount, SetCount? LastIn)
{
    /// <summary>How many are here.</summary>
    public int Here => Pieces.Count(p => p.Tag is not null);
}

/// <summary>A piece of a set.</summary>
/// <param name="Id">The piece.</param>
/// <param name="Slot">Its slot.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="LengthMm">Its length.</param>
/// <param name="Tag">Tag where it is here.</param>
/// <param name="VisitId">Visit where it is here.</param>
public sealed record SetPiece(long Id, string Slot, string Name, Core.Blades.PieceKind Kind, double? LengthMm, int? Tag, long? VisitId);

/// <summary>A loan set and where it is.</summary>
/// <param name="Set">The set.</param>
/// <param name="OutTo">The loan it is out on.</param>
/// <param name="OwnerName">Who has it.</param>
/// <param name="ShortBy">Pieces that its last return lacked.</param>
public sealed record LoanStanding(LoanSet Set, Loan? OutTo, string? OwnerName, int ShortBy);

/// <summary>Finds sets and loan sets.</summary>
public sealed class SetQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>All sets of an owner.</summary>
    public async Task<IReadOnlyList<SetStanding>> OfAsync(long ownerId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        long[] ids = await db.PieceSets.Where(s => s.OwnerId == ownerId).OrderBy(s => s.Name).Select(s => s.Id).ToArrayAsync(cancel);
        List<SetStanding> sets = [];
        foreach (long id in ids)
            sets.Add((await ReadAsync(db, id, cancel))!);
        return sets;
    }

    /// <summary>One set; null where there is none.</summary>
    public async Task<SetStanding?> OneAsync(long setId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await ReadAsync(db, setId, cancel);
    }

    /// <summary>The loan sets of the shop.</summary>
    public async Task<IReadOnlyList<LoanStanding>> LoansAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<LoanSet> sets = await db.LoanSets.AsNoTracking().OrderBy(s => s.Name).ToListAsync(cancel);
        List<LoanStanding> standings = [];
        foreach (LoanSet set in sets)
        {
            List<Loan> loans = await db.Loans.AsNoTracking().Standing().Where(l => l.LoanSetId == set.Id).OrderByDescending(l => l.Id).Take(2).ToListAsync(cancel);
            Loan? latest = loans.FirstOrDefault();
            string? name = latest is { Out: true } ? await db.Owners.Where(o => o.Id == latest.OwnerId).Select(o => o.Name).FirstOrDefaultAsync(cancel) : null;
            int shortBy = loans is [{ Out: false } back, { Out: true } went] ? went.Count - back.Count : 0;
            standings.Add(new(set, latest is { Out: true } ? latest : null, name, shortBy));
        }

        return standings;
    }

    private static async Task<SetStanding?> ReadAsync(BookContext db, long setId, CancellationToken cancel)
    {
        PieceSet? set = await db.PieceSets.AsNoTracking().FirstOrDefaultAsync(s => s.Id == setId, cancel);
        if (set is null)
            return null;
        var pieces = await db.Pieces.Where(p => p.SetId == setId).Select(p => new
        {
            p.Id, p.Slot, p.Name, p.Kind, p.LengthMm,
            Visit = p.Visits.Where(v => v.HandBackId == null).Select(v => new { v.Id, v.Tag }).FirstOrDefault(),
        }).ToListAsync(cancel);
        List<SetCount> counts = await db.SetCounts.AsNoTracking().Standing().Where(c => c.SetId == setId).OrderByDescending(c => c.Id).Take(20).ToListAsync(cancel);
        Dictionary<string, int> order = SetDesk.InOrder(pieces.Select(p => p.Slot ?? "").Distinct(StringComparer.Ordinal)).Select((s, i) => (s, i)).ToDictionary(x => x.s, x => x.i, StringComparer.Ordinal);
        return new(
            set,
            [.. pieces.OrderBy(p => order[p.Slot ?? ""]).Select(p => new SetPiece(p.Id, p.Slot ?? "", p.Name, p.Kind, p.LengthMm, p.Visit?.Tag, p.Visit?.Id))],
            counts.FirstOrDefault(), counts.Find(c => c.In));
    }
}
