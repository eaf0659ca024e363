using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;
using Whetwright.Records.Shop;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Bench;

/// <summary>What of the kit the first steps and the check need.</summary>
/// <param name="Instruments">Instruments that stand, newest first.</param>
/// <param name="Rules">House rules in their order.</param>
/// <param name="Shop">The shop.</param>
public sealed record BenchKit(IReadOnlyList<InstrumentKept> Instruments, IReadOnlyList<HouseRule> Rules, ShopCard Shop);

/// <summary>Reads one visit for the bench.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="standings">Where visits stand.</param>
public sealed class BenchVisitQuery(IDbContextFactory<BookContext> books, StandingQuery standings)
{
    /// <summary>The visit with this tag: the one that is here, else the last that was. Null for none.</summary>
    /// <param name="tag">Number without its check digit.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<BenchVisit?> ByTagAsync(int tag, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Visit? visit = await db.Visits.AsNoTracking().Include(v => v.Piece!.Owner).Where(v => v.Tag == tag)
            .OrderBy(v => v.HandBackId != null).ThenByDescending(v => v.HappenedAt).FirstOrDefaultAsync(cancel);
        if (visit is not { Piece: { Owner: { } owner } piece } || await standings.OneAsync(visit.Id, cancel) is not { } standing)
            return null;
        long id = visit.Id;
        long[] visits = await db.Visits.Where(v => v.PieceId == piece.Id).Select(v => v.Id).ToArrayAsync(cancel);
        return new()
        {
            Visit = visit,
            Piece = piece,
            Owner = owner,
            Standing = standing,
            Mounts = await OfAsync(db.Mounts, [id], cancel),
            Readings = await OfAsync(db.Readings, [id], cancel),
            Outlines = await OfAsync(db.Outlines, visits, cancel),
            Sections = await OfAsync(db.Sections, visits, cancel),
            Steels = await OfAsync(db.Steels, visits, cancel),
            Aims = await OfAsync(db.Aims, [id], cancel),
            CutTests = await OfAsync(db.CutTests, [id], cancel),
            StepMarks = await OfAsync(db.StepMarks, [id], cancel),
            Photos = await db.Photos.AsNoTracking().Where(p => p.VisitId == id).OrderBy(p => p.Id).ToListAsync(cancel),
        };
    }

    /// <summary>The latest fact of a kind at a visit, corrected ones and all: what a form had seen.</summary>
    public async Task<long?> LatestAsync<T>(long visitId, CancellationToken cancel = default)
        where T : VisitFact
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Set<T>().Where(f => f.VisitId == visitId).MaxAsync(f => (long?)f.Id, cancel);
    }

    /// <summary>Instruments, rules and the shop.</summary>
    public async Task<BenchKit> KitAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<InstrumentKept> instruments = await db.Instruments.AsNoTracking().Standing().OrderByDescending(i => i.HappenedAt).ThenByDescending(i => i.Id).ToListAsync(cancel);
        // Each calibration is a fact; the newest of a name is the instrument.
        return new(
            [.. instruments.GroupBy(i => i.Name, StringComparer.OrdinalIgnoreCase).Select(g => g.First())],
            await db.HouseRules.AsNoTracking().OrderBy(r => r.Order).ThenBy(r => r.Id).ToListAsync(cancel),
            await db.Shop.AsNoTracking().SingleOrDefaultAsync(s => s.Id == 1, cancel) ?? new ShopCard());
    }

    private static async Task<IReadOnlyList<T>> OfAsync<T>(IQueryable<T> facts, long[] visits, CancellationToken cancel)
        where T : VisitFact =>
        await facts.AsNoTracking().Standing().Where(f => visits.Contains(f.VisitId)).OrderBy(f => f.HappenedAt).ThenBy(f => f.Id).ToListAsync(cancel);
}
