using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>An edge that a piece had before, and how it fared.</summary>
/// <param name="VisitId">The visit it was ground at.</param>
/// <param name="At">When, UTC.</param>
/// <param name="LeftDeg">Chosen, left.</param>
/// <param name="RightDeg">Chosen, right.</param>
/// <param name="CameAgain">The piece has come again since, not counting complaints.</param>
/// <param name="NextChipMm">Deepest chip it came back with; null for none seen.</param>
/// <param name="Complaint">What was complained of; null for no complaint.</param>
public sealed record EdgeBefore(long VisitId, DateTime At, double LeftDeg, double RightDeg, bool CameAgain, double? NextChipMm, string? Complaint)
{
    /// <summary>The steeper side, degrees; the ground side of a piece with a back.</summary>
    public double Deg => Math.Max(LeftDeg, RightDeg);
}

/// <summary>A piece's visits over time: for when it will come again.</summary>
/// <param name="PieceId">The piece.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="Owner">Whose.</param>
/// <param name="IsAccount">The owner has a standing account.</param>
/// <param name="Visits">When it was taken in, complaints left out, oldest first.</param>
/// <param name="Here">It is in the shop now.</param>
/// <param name="LossesMm">Height lost at each visit, as its section said, mm.</param>
public sealed record PieceComing(long PieceId, string Name, PieceKind Kind, long OwnerId, string Owner, bool IsAccount, IReadOnlyList<DateTime> Visits, bool Here, IReadOnlyList<double> LossesMm);

/// <summary>Reads how edges fared, and when pieces come again.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class EdgeHistoryQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Edges of a piece before this visit, the newest first.</summary>
    public async Task<IReadOnlyList<EdgeBefore>> BeforeAsync(long pieceId, long visitId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var visits = await db.Visits.AsNoTracking().Where(v => v.PieceId == pieceId).OrderBy(v => v.HappenedAt).ThenBy(v => v.Id)
            .Select(v => new { v.Id, v.HappenedAt, v.ComplaintAboutId, v.Wishes }).ToListAsync(cancel);
        long[] ids = [.. visits.Select(v => v.Id)];
        List<AimChosen> aims = await db.Aims.AsNoTracking().Standing().Where(a => ids.Contains(a.VisitId)).ToListAsync(cancel);
        var sections = await db.Sections.AsNoTracking().Standing().Where(s => ids.Contains(s.VisitId)).Select(s => new { s.VisitId, s.ChipMm }).ToListAsync(cancel);
        var outlines = await db.Outlines.AsNoTracking().Standing().Where(o => ids.Contains(o.VisitId)).Select(o => new { o.VisitId, o.ChipMm }).ToListAsync(cancel);
        double? Chip(long visit) => sections.Where(s => s.VisitId == visit).Select(s => s.ChipMm).Concat(outlines.Where(o => o.VisitId == visit).Select(o => o.ChipMm)).Max();
        List<EdgeBefore> before = [];
        for (int i = 0; i < visits.Count; i++)
        {
            var visit = visits[i];
            if (visit.Id == visitId || BenchVisit.Latest(aims.Where(a => a.VisitId == visit.Id)) is not { } aim)
                continue;
            var next = visits.Skip(i + 1).FirstOrDefault(v => v.ComplaintAboutId is null);
            string? complaint = visits.Where(v => v.ComplaintAboutId == visit.Id).Select(v => v.Wishes ?? "no words were written down").FirstOrDefault();
            before.Add(new(visit.Id, visit.HappenedAt, aim.LeftDeg, aim.RightDeg, next is not null, next is null ? null : Chip(next.Id), complaint));
        }

        before.Reverse();
        return before;
    }

    /// <summary>Every piece that has come, with its visits.</summary>
    public async Task<IReadOnlyList<PieceComing>> ComingAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var visits = await db.Visits.AsNoTracking()
            .Select(v => new { v.Id, v.PieceId, v.HappenedAt, v.ComplaintAboutId, v.HandBackId, v.Piece!.Name, v.Piece.Kind, v.Piece.OwnerId, Owner = v.Piece.Owner!.Name, v.Piece.Owner.IsAccount }).ToListAsync(cancel);
        var losses = (await db.Aims.AsNoTracking().Standing().Where(a => a.SectionJson != null).Select(a => new { a.Id, a.VisitId, a.HappenedAt, a.SectionJson }).ToListAsync(cancel))
            .GroupBy(a => a.VisitId).ToDictionary(g => g.Key, g => Loss(g.OrderBy(a => a.HappenedAt).ThenBy(a => a.Id).Last().SectionJson!));
        return
        [
            .. visits.GroupBy(v => v.PieceId).Select(g =>
            {
                var own = g.OrderBy(v => v.HappenedAt).ThenBy(v => v.Id).ToList();
                var last = own[^1];
                return new PieceComing(g.Key, last.Name, last.Kind, last.OwnerId, last.Owner, last.IsAccount, [.. own.Where(v => v.ComplaintAboutId is null).Select(v => v.HappenedAt)],
                    own.Any(v => v.HandBackId is null), [.. own.Select(v => losses.GetValueOrDefault(v.Id)).OfType<double>().Where(mm => mm > 0)]);
            }),
        ];
    }

    private static double? Loss(string sectionJson)
    {
        using System.Text.Json.JsonDocument section = System.Text.Json.JsonDocument.Parse(sectionJson);
        return section.RootElement.TryGetProperty("heightLostMm", out System.Text.Json.JsonElement lost) && lost.ValueKind == System.Text.Json.JsonValueKind.Number ? lost.GetDouble() : null;
    }
}
