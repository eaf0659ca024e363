using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Bench;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Gauges;

/// <summary>A piece that was set on a rig, ground and read afterwards.</summary>
public sealed record CheckedWork
{
    /// <summary>The visit.</summary>
    public long VisitId { get; init; }

    /// <summary>The tag as it is read out.</summary>
    public required string Tag { get; init; }

    /// <summary>The piece.</summary>
    public required string Piece { get; init; }

    /// <summary>Its kind.</summary>
    public PieceKind Kind { get; init; }

    /// <summary>When it was set, UTC.</summary>
    public DateTime At { get; init; }

    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>The wheel that ground last; null for a rig without wheels.</summary>
    public long? WheelId { get; init; }

    /// <summary>Wanted on both sides together, degrees: from the back for pieces with one.</summary>
    public double WantedIncludedDeg { get; init; }

    /// <summary>Read afterwards, degrees.</summary>
    public double GotIncludedDeg { get; init; }

    /// <summary>Standard uncertainty of that.</summary>
    public double GotIncludedUDeg { get; init; }

    /// <summary>Tolerance per side, degrees.</summary>
    public double ToleranceDeg { get; init; }

    /// <summary>What the setting was made from.</summary>
    public required string SettingInputsJson { get; init; }
}

/// <summary>Reads what the shop has measured of its measuring.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class GaugeQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Days looked back (chosen, not derived): the learning gives old pieces little weight anyway.</summary>
    public const int LookedBackDays = 800;

    /// <summary>Pieces set on a rig and read afterwards, oldest first. Work by hand, and readings that told no included angle, are left out.</summary>
    /// <param name="now">Now, UTC.</param>
    /// <param name="rigId">Only this rig; null for all.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<CheckedWork>> CheckedAsync(DateTime now, long? rigId = null, CancellationToken cancel = default)
    {
        DateTime since = now.AddDays(-LookedBackDays);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var settings = await db.Settings.AsNoTracking().Standing().Where(s => s.HappenedAt >= since && (rigId == null || s.RigId == rigId))
            .Select(s => new { s.Id, s.VisitId, s.RigId, s.HappenedAt, s.InputsJson }).ToListAsync(cancel);
        var lastSetting = settings.GroupBy(s => s.VisitId).ToDictionary(g => g.Key, g => g.OrderBy(s => s.HappenedAt).ThenBy(s => s.Id).Last());
        var readings = await db.Readings.AsNoTracking().Standing().Where(r => r.Purpose == ReadingPurpose.Check && r.HappenedAt >= since && r.IncludedDeg != null && r.IncludedUDeg != null)
            .Select(r => new { r.Id, r.VisitId, r.HappenedAt, Deg = r.IncludedDeg!.Value, U = r.IncludedUDeg!.Value }).ToListAsync(cancel);
        var aims = await db.Aims.AsNoTracking().Standing().Where(a => a.HappenedAt >= since)
            .Select(a => new { a.Id, a.VisitId, a.HappenedAt, a.LeftDeg, a.RightDeg, a.ToleranceDeg }).ToListAsync(cancel);
        var lastAim = aims.GroupBy(a => a.VisitId).ToDictionary(g => g.Key, g => g.OrderBy(a => a.HappenedAt).ThenBy(a => a.Id).Last());
        var passes = await db.Passes.AsNoTracking().Standing().Where(p => p.HappenedAt >= since && p.WheelId != null)
            .Select(p => new { p.Id, p.VisitId, p.Stage, WheelId = p.WheelId!.Value }).ToListAsync(cancel);
        var lastPass = passes.GroupBy(p => p.VisitId).ToDictionary(g => g.Key, g => g.OrderBy(p => p.Stage).ThenBy(p => p.Id).Last().WheelId);
        var visits = await db.Visits.AsNoTracking().Where(v => v.HappenedAt >= since.AddDays(-60)).Select(v => new { v.Id, v.Tag, v.Piece!.Name, v.Piece.Kind }).ToDictionaryAsync(v => v.Id, cancel);
        Dictionary<long, long> rigOf = await db.Wheels.AsNoTracking().ToDictionaryAsync(w => w.Id, w => w.RigId, cancel);
        List<CheckedWork> all = [];
        foreach (var check in readings.GroupBy(r => r.VisitId).Select(g => g.OrderBy(r => r.HappenedAt).ThenBy(r => r.Id).Last()))
        {
            if (!lastSetting.TryGetValue(check.VisitId, out var setting) || !lastAim.TryGetValue(check.VisitId, out var aim) || !visits.TryGetValue(check.VisitId, out var visit) || !(check.U > 0))
                continue;
            all.Add(new()
            {
                VisitId = check.VisitId, Tag = TagNumber.Format(visit.Tag), Piece = visit.Name, Kind = visit.Kind, At = setting.HappenedAt, RigId = setting.RigId,
                WheelId = lastPass.TryGetValue(check.VisitId, out long wheel) && rigOf.GetValueOrDefault(wheel) == setting.RigId ? wheel : null,
                WantedIncludedDeg = aim.LeftDeg + aim.RightDeg, GotIncludedDeg = check.Deg, GotIncludedUDeg = check.U, ToleranceDeg = aim.ToleranceDeg, SettingInputsJson = setting.InputsJson,
            });
        }

        return [.. all.OrderBy(w => w.At).ThenBy(w => w.VisitId)];
    }

    /// <summary>Studies that stand, the newest first.</summary>
    public async Task<IReadOnlyList<GaugeStudyKept>> StudiesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.GaugeStudies.AsNoTracking().Standing().OrderByDescending(s => s.HappenedAt).ThenByDescending(s => s.Id).ToListAsync(cancel);
    }

    /// <summary>Every correction ever applied, the newest first.</summary>
    public async Task<IReadOnlyList<CorrectionApplied>> CorrectionsAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Corrections.AsNoTracking().Standing().OrderByDescending(c => c.HappenedAt).ThenByDescending(c => c.Id).ToListAsync(cancel);
    }

    /// <summary>Checks of instruments, oldest first.</summary>
    public async Task<IReadOnlyList<InstrumentCheck>> ChecksAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.InstrumentChecks.AsNoTracking().Standing().OrderBy(c => c.HappenedAt).ThenBy(c => c.Id).ToListAsync(cancel);
    }

    /// <summary>The order of a day that counts; null where none was settled.</summary>
    public async Task<BenchDayPlanned?> DayAsync(DateOnly day, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.BenchDays.AsNoTracking().Standing().Where(d => d.Day == day).OrderByDescending(d => d.HappenedAt).ThenByDescending(d => d.Id).FirstOrDefaultAsync(cancel);
    }

    /// <summary>The latest setting of a rig that stands; null where none was made.</summary>
    public async Task<SettingMade?> LastSettingAsync(long rigId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Settings.AsNoTracking().Standing().Where(s => s.RigId == rigId).OrderByDescending(s => s.HappenedAt).ThenByDescending(s => s.Id).FirstOrDefaultAsync(cancel);
    }

    /// <summary>The latest reading that stands and told an angle; null for none.</summary>
    public async Task<Reading?> LastReadingAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Readings.AsNoTracking().Standing().Where(r => r.Outcome == "read").OrderByDescending(r => r.HappenedAt).ThenByDescending(r => r.Id).FirstOrDefaultAsync(cancel);
    }

    /// <summary>Bench minutes of the charges of some visits.</summary>
    public async Task<IReadOnlyDictionary<long, double>> PriceMinutesAsync(IReadOnlyCollection<long> visitIds, CancellationToken cancel = default)
    {
        long[] ids = [.. visitIds];
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var charges = await db.Charges.AsNoTracking().Standing().Where(c => ids.Contains(c.VisitId)).Select(c => new { c.VisitId, c.Minutes }).ToListAsync(cancel);
        return charges.GroupBy(c => c.VisitId).ToDictionary(g => g.Key, g => g.Sum(c => c.Minutes));
    }

    /// <summary>Changes whenever passes, aims or diameters were added: what was learnt before is old then.</summary>
    public async Task<(long Passes, long Aims, long Diameters)> StampAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return (await db.Passes.MaxAsync(p => (long?)p.Id, cancel) ?? 0, await db.Aims.MaxAsync(a => (long?)a.Id, cancel) ?? 0, await db.Diameters.MaxAsync(d => (long?)d.Id, cancel) ?? 0);
    }

    /// <summary>Area and passes behind each wheel's and abrasive's rate: passes that stand with the section chosen at their visit, oldest first.</summary>
    public async Task<IReadOnlyList<PassesWithAim>> PassesAsync(DateTime now, CancellationToken cancel = default)
    {
        DateTime since = now.AddDays(-LookedBackDays);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var aims = (await db.Aims.AsNoTracking().Standing().Where(a => a.HappenedAt >= since && a.SectionJson != null)
            .Select(a => new { a.Id, a.VisitId, a.HappenedAt, a.SectionJson }).ToListAsync(cancel))
            .GroupBy(a => a.VisitId).ToDictionary(g => g.Key, g => g.OrderBy(a => a.HappenedAt).ThenBy(a => a.Id).Last().SectionJson!);
        List<Passes> passes = await db.Passes.AsNoTracking().Standing().Where(p => p.HappenedAt >= since).OrderBy(p => p.HappenedAt).ThenBy(p => p.Id).ToListAsync(cancel);
        return [.. passes.GroupBy(p => p.VisitId).Where(g => aims.ContainsKey(g.Key)).Select(g => new PassesWithAim(g.Key, g.First().HappenedAt, [.. g], aims[g.Key]))];
    }
}

/// <summary>A visit's passes with the section before and after.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="At">When the first was made.</param>
/// <param name="Passes">The passes.</param>
/// <param name="SectionJson">The section, in our section format.</param>
public sealed record PassesWithAim(long VisitId, DateTime At, IReadOnlyList<Passes> Passes, string SectionJson);
