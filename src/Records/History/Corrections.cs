using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.History;

/// <summary>A fact that corrects another, with what it corrected. Nothing is lost: both are in the book.</summary>
/// <param name="Was">What stood before.</param>
/// <param name="Now">What corrects it, or takes it back.</param>
public sealed record Correction(VisitFact Was, VisitFact Now);

/// <summary>Reads corrections: two small queries per kind of fact, and only one where nothing was corrected.</summary>
internal static class Corrections
{
    internal static async Task<IReadOnlyList<Correction>> ReadAsync(BookContext db, long[] ids, CancellationToken cancel) =>
    [
        .. (Correction[])
        [
            .. await OfAsync(db.Mounts, ids, cancel), .. await OfAsync(db.Readings, ids, cancel), .. await OfAsync(db.Outlines, ids, cancel),
            .. await OfAsync(db.Sections, ids, cancel), .. await OfAsync(db.Steels, ids, cancel), .. await OfAsync(db.Aims, ids, cancel), .. await OfAsync(db.Settings, ids, cancel),
            .. await OfAsync(db.TouchOffs, ids, cancel), .. await OfAsync(db.Passes, ids, cancel), .. await OfAsync(db.BenchEvents, ids, cancel),
            .. await OfAsync(db.StepMarks, ids, cancel), .. await OfAsync(db.CutTests, ids, cancel), .. await OfAsync(db.ReadyNotices, ids, cancel),
            .. await OfAsync(db.VisitNotes, ids, cancel), .. await OfAsync(db.Charges, ids, cancel), .. await OfAsync(db.HandBacks, ids, cancel),
        ],
    ];

    private static async Task<IEnumerable<Correction>> OfAsync<T>(IQueryable<T> facts, long[] ids, CancellationToken cancel)
        where T : VisitFact
    {
        List<T> later = await facts.AsNoTracking().Where(f => f.CorrectsId != null && ids.Contains(f.VisitId)).OrderBy(f => f.EnteredAt).ThenBy(f => f.Id).ToListAsync(cancel);
        if (later.Count == 0)
            return [];
        long[] were = [.. later.Select(f => f.CorrectsId!.Value)];
        Dictionary<long, T> earlier = await facts.AsNoTracking().Where(f => were.Contains(f.Id)).ToDictionaryAsync(f => f.Id, cancel);
        return later.Where(f => earlier.ContainsKey(f.CorrectsId!.Value)).Select(f => new Correction(earlier[f.CorrectsId!.Value], f));
    }
}
