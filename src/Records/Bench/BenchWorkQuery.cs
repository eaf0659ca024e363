using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Kit;

namespace Whetwright.Records.Bench;

/// <summary>Reads what setting, grinding and finishing need.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class BenchWorkQuery(IDbContextFactory<BookContext> books)
{
    private const int LookedBack = 60; // chosen, not derived: settings looked at for the order of the rigs

    /// <summary>Facts of a visit, and the kit.</summary>
    public async Task<BenchWork> OfAsync(long visitId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<RigKept> rigs = await db.Rigs.AsNoTracking().Include(r => r.Wheels).Where(r => !r.Retired).OrderBy(r => r.Id).ToListAsync(cancel);
        List<long> lately = await db.Settings.AsNoTracking().OrderByDescending(s => s.Id).Select(s => s.RigId).Take(LookedBack).ToListAsync(cancel);
        long[] wheels = [.. rigs.SelectMany(r => r.Wheels).Select(w => w.Id)];
        List<RigStand> stands = [];
        foreach (RigKept rig in rigs)
        {
            if (await db.RigStands.AsNoTracking().Standing().Where(s => s.RigId == rig.Id).OrderByDescending(s => s.HappenedAt).ThenByDescending(s => s.Id).FirstOrDefaultAsync(cancel) is { } stand)
                stands.Add(stand);
        }

        return new()
        {
            Settings = await OfAsync(db.Settings, visitId, cancel),
            TouchOffs = await OfAsync(db.TouchOffs, visitId, cancel),
            Passes = await OfAsync(db.Passes, visitId, cancel),
            Events = await OfAsync(db.BenchEvents, visitId, cancel),
            Rigs = [.. rigs.OrderBy(r => lately.IndexOf(r.Id) is >= 0 and var at ? at : int.MaxValue)],
            Diameters = await db.Diameters.AsNoTracking().Where(d => wheels.Contains(d.WheelId)).ToListAsync(cancel),
            Stands = stands,
            Corrections = await db.Corrections.AsNoTracking().Standing().OrderBy(c => c.HappenedAt).ThenBy(c => c.Id).ToListAsync(cancel),
            Abrasives = await db.Abrasives.AsNoTracking().Where(a => !a.Retired).OrderBy(a => a.Order).ThenBy(a => a.Id).ToListAsync(cancel),
        };
    }

    /// <summary>One setting, of whatever visit.</summary>
    public async Task<SettingMade?> SettingAsync(long id, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Settings.AsNoTracking().FirstOrDefaultAsync(s => s.Id == id, cancel);
    }

    private static async Task<IReadOnlyList<T>> OfAsync<T>(IQueryable<T> facts, long visitId, CancellationToken cancel)
        where T : VisitFact =>
        await facts.AsNoTracking().Standing().Where(f => f.VisitId == visitId).OrderBy(f => f.HappenedAt).ThenBy(f => f.Id).ToListAsync(cancel);
}
