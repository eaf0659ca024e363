using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;

namespace Whetwright.Records.Gauges;

/// <summary>What a moment at the bench was.</summary>
public enum BenchMomentKind
{
    /// <summary>Anything else that was entered: read, chosen, cooled, marked.</summary>
    Other = 0,

    /// <summary>A setting was dialled.</summary>
    Dialled = 1,

    /// <summary>Put into another clamp of the setting.</summary>
    Clamped = 2,

    /// <summary>Touched off.</summary>
    TouchedOff = 3,

    /// <summary>A pass was counted.</summary>
    Pass = 4,

    /// <summary>The clamp slipped.</summary>
    Slipped = 5,
}

/// <summary>A moment at the bench: something was entered as it happened.</summary>
/// <param name="At">When, UTC.</param>
/// <param name="By">By which person or device; null for the master at the machine.</param>
/// <param name="VisitId">For which visit.</param>
/// <param name="Kind">What.</param>
public sealed record BenchMoment(DateTime At, string? By, long VisitId, BenchMomentKind Kind)
{
    /// <summary>Rig dialled.</summary>
    public long? RigId { get; init; }

    /// <summary>Angle it was dialled for, degrees.</summary>
    public double? AngleDeg { get; init; }

    /// <summary>Wheel of a pass.</summary>
    public long? WheelId { get; init; }

    /// <summary>Abrasive of a pass.</summary>
    public long? AbrasiveId { get; init; }

    /// <summary>Passes counted at once.</summary>
    public int Count { get; init; }
}

/// <summary>Reads when things were done at the bench: what changes of set-up take is learnt from it.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class BenchTimesQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Days looked back (chosen, not derived): half a year, so that a bench that was moved or a hand that grew quicker shows.</summary>
    public const int LookedBackDays = 183;

    /// <summary>Entered later than this after it happened, it was written on paper first, and its minute is a guess (chosen, not derived).</summary>
    public static readonly TimeSpan AtOnce = TimeSpan.FromSeconds(30);

    /// <summary>All moments since, oldest first; what was entered afterwards is left out.</summary>
    public async Task<IReadOnlyList<BenchMoment>> SinceAsync(DateTime now, CancellationToken cancel = default)
    {
        DateTime since = now.AddDays(-LookedBackDays);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<BenchMoment> all = [];
        var aims = (await db.Aims.AsNoTracking().Where(a => a.HappenedAt >= since).OrderBy(a => a.Id)
            .Select(a => new { a.Id, a.VisitId, a.HappenedAt, a.EnteredAt, a.EnteredBy, a.LeftDeg, a.RightDeg }).ToListAsync(cancel)).ToDictionary(a => a.Id);
        all.AddRange(aims.Values.Where(a => a.EnteredAt - a.HappenedAt <= AtOnce).Select(a => new BenchMoment(a.HappenedAt, a.EnteredBy, a.VisitId, BenchMomentKind.Other)));
        foreach (var s in await db.Settings.AsNoTracking().Where(s => s.HappenedAt >= since).Select(s => new { s.VisitId, s.HappenedAt, s.EnteredAt, s.EnteredBy, s.RigId, s.AimId }).ToListAsync(cancel))
        {
            if (s.EnteredAt - s.HappenedAt <= AtOnce)
            {
                all.Add(new(s.HappenedAt, s.EnteredBy, s.VisitId, BenchMomentKind.Dialled)
                {
                    RigId = s.RigId, AngleDeg = s.AimId is { } id && aims.TryGetValue(id, out var aim) ? Math.Max(aim.LeftDeg, aim.RightDeg) : null,
                });
            }
        }

        foreach (var p in await db.Passes.AsNoTracking().Where(p => p.HappenedAt >= since)
            .Select(p => new { p.VisitId, p.HappenedAt, p.EnteredAt, p.EnteredBy, p.WheelId, p.AbrasiveId, p.Count, Undone = p.CorrectsId != null }).ToListAsync(cancel))
        {
            if (p.EnteredAt - p.HappenedAt <= AtOnce)
                all.Add(new(p.HappenedAt, p.EnteredBy, p.VisitId, p.Undone ? BenchMomentKind.Other : BenchMomentKind.Pass) { WheelId = p.WheelId, AbrasiveId = p.AbrasiveId, Count = p.Count });
        }

        foreach (var e in await db.BenchEvents.AsNoTracking().Where(e => e.HappenedAt >= since).Select(e => new { e.VisitId, e.HappenedAt, e.EnteredAt, e.EnteredBy, e.Kind }).ToListAsync(cancel))
        {
            if (e.EnteredAt - e.HappenedAt <= AtOnce)
                all.Add(new(e.HappenedAt, e.EnteredBy, e.VisitId, e.Kind switch { BenchEventKind.Clamped => BenchMomentKind.Clamped, BenchEventKind.Slipped => BenchMomentKind.Slipped, _ => BenchMomentKind.Other }));
        }

        await AddAsync(db.TouchOffs, BenchMomentKind.TouchedOff);
        await AddAsync(db.Readings, BenchMomentKind.Other);
        await AddAsync(db.Mounts, BenchMomentKind.Other);
        await AddAsync(db.StepMarks, BenchMomentKind.Other);
        await AddAsync(db.CutTests, BenchMomentKind.Other);
        await AddAsync(db.Outlines, BenchMomentKind.Other);
        await AddAsync(db.Sections, BenchMomentKind.Other);
        await AddAsync(db.Steels, BenchMomentKind.Other);
        return [.. all.OrderBy(m => m.At).ThenBy(m => m.VisitId).ThenBy(m => m.Kind)];

        async Task AddAsync<T>(IQueryable<T> facts, BenchMomentKind kind)
            where T : VisitFact
        {
            foreach (var f in await facts.AsNoTracking().Where(f => f.HappenedAt >= since).Select(f => new { f.VisitId, f.HappenedAt, f.EnteredAt, f.EnteredBy }).ToListAsync(cancel))
            {
                if (f.EnteredAt - f.HappenedAt <= AtOnce)
                    all.Add(new(f.HappenedAt, f.EnteredBy, f.VisitId, kind));
            }
        }
    }
}
