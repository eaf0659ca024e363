using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>What an earlier visit of the same piece left to repeat; each the latest that stands, null where there was none.</summary>
/// <param name="Aim">The edge chosen.</param>
/// <param name="Setting">The setting with its clamp and inputs.</param>
/// <param name="Found">The edge it came with.</param>
/// <param name="Check">The edge it left with.</param>
/// <param name="Mounts">The mounts of the check, or of the found reading where nothing was checked.</param>
/// <param name="Section">The section measured.</param>
/// <param name="Outline">The outline.</param>
/// <param name="Passes">Passes of the visit that the setting was made in.</param>
public sealed record LastTime(
    AimChosen? Aim, SettingMade? Setting, Reading? Found, Reading? Check, IReadOnlyList<Mount> Mounts, SectionMeasured? Section, OutlineTaken? Outline, IReadOnlyList<Passes> Passes)
{
    /// <summary>True where "as last time" can set the piece.</summary>
    public bool CanBeRepeated => Aim is not null && Setting is not null;
}

/// <summary>Reads what was done last time.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class LastTimeQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>What the visits before this one left.</summary>
    /// <param name="visitId">The visit that is open now.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<LastTime> BeforeAsync(long visitId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var now = await db.Visits.Where(v => v.Id == visitId).Select(v => new { v.PieceId, v.HappenedAt }).FirstOrDefaultAsync(cancel);
        if (now is null)
            return new LastTime(null, null, null, null, [], null, null, []);
        long[] earlier = await db.Visits.Where(v => v.PieceId == now.PieceId && v.Id != visitId && v.HappenedAt <= now.HappenedAt).Select(v => v.Id).ToArrayAsync(cancel);
        AimChosen? aim = await LatestAsync(db.Aims, earlier, cancel);
        SettingMade? setting = await LatestAsync(db.Settings, earlier, cancel);
        Reading? check = await LatestAsync(db.Readings, earlier, cancel, r => r.Purpose == ReadingPurpose.Check && r.Outcome != "refused");
        Reading? found = await LatestAsync(db.Readings, earlier, cancel, r => r.Purpose == ReadingPurpose.Found && r.Outcome != "refused");
        long[] mountIds = (check ?? found)?.MountIds ?? [];
        return new LastTime(
            aim, setting, found, check,
            await db.Mounts.AsNoTracking().Where(m => mountIds.Contains(m.Id)).OrderBy(m => m.Id).ToListAsync(cancel),
            await LatestAsync(db.Sections, earlier, cancel),
            await LatestAsync(db.Outlines, earlier, cancel),
            setting is null ? [] : await db.Passes.AsNoTracking().Standing().Where(p => p.VisitId == setting.VisitId).OrderBy(p => p.Stage).ThenBy(p => p.Id).ToListAsync(cancel));
    }

    private static Task<T?> LatestAsync<T>(IQueryable<T> facts, long[] visits, CancellationToken cancel, Expression<Func<T, bool>>? such = null)
        where T : VisitFact
    {
        IQueryable<T> standing = facts.AsNoTracking().Standing().Where(f => visits.Contains(f.VisitId));
        return (such is null ? standing : standing.Where(such)).OrderByDescending(f => f.HappenedAt).ThenByDescending(f => f.Id).FirstOrDefaultAsync(cancel);
    }
}
