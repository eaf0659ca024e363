using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>Reads where visits stand: a fixed number of small queries, whether for one visit or the whole rack.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class StandingQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Where one visit stands; null where there is no such visit.</summary>
    public async Task<VisitStanding?> OneAsync(long visitId, CancellationToken cancel = default) =>
        (await OfAsync([visitId], cancel)).GetValueOrDefault(visitId);

    /// <summary>Where these visits stand, by visit.</summary>
    public async Task<IReadOnlyDictionary<long, VisitStanding>> OfAsync(IReadOnlyCollection<long> visitIds, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await OfAsync(db, visitIds, cancel);
    }

    /// <summary>All wheels' diameters.</summary>
    public static async Task<WheelDiameters> DiametersAsync(BookContext db, CancellationToken cancel = default) =>
        new(await db.Diameters.Select(d => new DiameterGlance(d.Id, d.WheelId, d.DiameterMm, d.HappenedAt, d.CorrectsId, d.Withdrawn)).ToListAsync(cancel));

    internal static async Task<IReadOnlyDictionary<long, VisitStanding>> OfAsync(BookContext db, IReadOnlyCollection<long> visitIds, CancellationToken cancel)
    {
        Dictionary<long, VisitStanding> standings = [];
        WheelDiameters diameters = await DiametersAsync(db, cancel);
        foreach (long[] ids in visitIds.Distinct().Chunk(500)) // chosen, not derived: keeps a query's parameters few
        {
            foreach (VisitGlance glance in await GlancesAsync(db, ids, cancel))
                standings[glance.VisitId] = VisitStanding.Of(glance, diameters);
        }

        return standings;
    }

    private static async Task<IEnumerable<VisitGlance>> GlancesAsync(BookContext db, long[] ids, CancellationToken cancel)
    {
        var visits = await db.Visits.Where(v => ids.Contains(v.Id)).Select(v => new { v.Id, Gone = v.HandBackId != null }).ToListAsync(cancel);
        var mounts = await In(db.Mounts, ids).Select(f => new { f.VisitId, Value = f.HappenedAt }).ToListAsync(cancel);
        var outlines = await In(db.Outlines, ids).Select(f => new { f.VisitId, Value = f.HappenedAt }).ToListAsync(cancel);
        var sections = await In(db.Sections, ids).Select(f => new { f.VisitId, Value = f.HappenedAt }).ToListAsync(cancel);
        var readings = await In(db.Readings, ids).Select(f => new { f.VisitId, Value = new ReadingGlance(f.HappenedAt, f.Purpose, f.Outcome) }).ToListAsync(cancel);
        var aims = await In(db.Aims, ids).Select(f => new { f.VisitId, Value = new AimGlance(f.Id, f.HappenedAt) }).ToListAsync(cancel);
        var settings = await In(db.Settings, ids).Select(f => new { f.VisitId, Value = new SettingGlance(f.Id, f.HappenedAt, f.AimId, f.DiameterIds) }).ToListAsync(cancel);
        var touches = await In(db.TouchOffs, ids).Select(f => new { f.VisitId, Value = new TouchGlance(f.HappenedAt, f.SettingId, f.Accepted) }).ToListAsync(cancel);
        var passes = await In(db.Passes, ids).Select(f => new { f.VisitId, Value = new PassGlance(f.HappenedAt, f.Stage, f.AbrasiveId, f.Side, f.Count) }).ToListAsync(cancel);
        var events = await In(db.BenchEvents, ids).Select(f => new { f.VisitId, Value = new EventGlance(f.HappenedAt, f.Kind, f.Stage, f.AtPass) }).ToListAsync(cancel);
        var marks = await In(db.StepMarks, ids).Select(f => new { f.VisitId, Value = new MarkGlance(f.HappenedAt, f.Step, f.State) }).ToListAsync(cancel);
        var cuts = await In(db.CutTests, ids).Select(f => new { f.VisitId, Value = f.HappenedAt }).ToListAsync(cancel);
        var told = await In(db.ReadyNotices, ids).Select(f => new { f.VisitId, Value = f.HappenedAt }).ToListAsync(cancel);

        var measured = mounts.Concat(outlines).Concat(sections).ToLookup(f => f.VisitId, f => f.Value);
        var readingsOf = readings.ToLookup(f => f.VisitId, f => f.Value);
        var aimsOf = aims.ToLookup(f => f.VisitId, f => f.Value);
        var settingsOf = settings.ToLookup(f => f.VisitId, f => f.Value);
        var touchesOf = touches.ToLookup(f => f.VisitId, f => f.Value);
        var passesOf = passes.ToLookup(f => f.VisitId, f => f.Value);
        var eventsOf = events.ToLookup(f => f.VisitId, f => f.Value);
        var marksOf = marks.ToLookup(f => f.VisitId, f => f.Value);
        var cutsOf = cuts.ToLookup(f => f.VisitId, f => f.Value);
        var toldOf = told.ToLookup(f => f.VisitId, f => (DateTime?)f.Value);
        return visits.Select(v => new VisitGlance
        {
            VisitId = v.Id,
            HandedBack = v.Gone,
            Measured = [.. measured[v.Id]],
            Readings = [.. readingsOf[v.Id]],
            Aims = [.. aimsOf[v.Id]],
            Settings = [.. settingsOf[v.Id]],
            TouchOffs = [.. touchesOf[v.Id]],
            Passes = [.. passesOf[v.Id]],
            Events = [.. eventsOf[v.Id]],
            Marks = [.. marksOf[v.Id]],
            CutTests = [.. cutsOf[v.Id]],
            ToldAt = toldOf[v.Id].Max(),
        });
    }

    private static IQueryable<T> In<T>(IQueryable<T> facts, long[] ids)
        where T : VisitFact => facts.Standing().Where(f => ids.Contains(f.VisitId));
}
