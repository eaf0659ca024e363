using System.Globalization;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Api;

/// <summary>Pieces for programs.</summary>
internal static class ApiPieces
{
    private const int Most = 200;

    public static async Task<IResult> FindAsync(string? q, string? most, PieceQuery pieces, CancellationToken cancel)
    {
        int count = 30;
        if (most is not null && (!int.TryParse(most, NumberStyles.None, CultureInfo.InvariantCulture, out count) || count is < 1 or > Most))
            return ApiProblem.Wrong(new FieldFault("most", most, $"a whole number from 1 to {Most} would be right"));
        IReadOnlyList<PieceFound> found = await pieces.FindAsync(new PieceWanted { Typed = q, Most = count }, cancel);
        return Results.Json(new PiecesFound([.. found.Select(p => new PieceLine(
            p.Id, p.Name, p.Kind.Key(), p.LengthMm, p.OwnerName, p.Tag is { } tag ? TagNumber.Format(tag) : null, p.VisitId, p.LastVisit))]));
    }

    public static async Task<IResult> OneAsync(long id, PieceQuery pieces, StandingQuery standings, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        if (await pieces.OneAsync(id, cancel) is not { } piece)
            return None(id);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Composed<Blade> blade = await BladeAsync(db, piece, cancel);
        Visit? open = await OpenVisitAsync(db, id, cancel);
        VisitOut? visit = null;
        if (open is not null)
        {
            BenchStep? next = (await standings.OneAsync(open.Id, cancel))?.Next;
            List<long> readings = await db.Readings.Standing().Where(r => r.VisitId == open.Id).OrderBy(r => r.HappenedAt).ThenBy(r => r.Id).Select(r => r.Id).ToListAsync(cancel);
            visit = new(open.Id, TagNumber.Format(open.Tag), open.HappenedAt, next?.ToString().ToLowerInvariant(), readings);
        }

        Composed<Blade>.Ready? ready = blade as Composed<Blade>.Ready;
        return Results.Json(new PieceOut(
            piece.Id, piece.Name, piece.Kind.Key(), piece.Hand, piece.LengthMm, piece.Steel, piece.Owner?.Name ?? "",
            ready is null ? null : JsonNode.Parse(ready.Json), blade is Composed<Blade>.NotYet not ? not.Missing : [], ready?.Defaults ?? [], visit));
    }

    internal static IResult None(long id) => ApiProblem.Missing(string.Create(CultureInfo.InvariantCulture, $"There is no piece {id} in the book; GET /api/v1/pieces?q=… finds pieces."));

    /// <summary>The blade from all that was measured of the piece: the same as the bench's pages make.</summary>
    internal static async Task<Composed<Blade>> BladeAsync(BookContext db, Piece piece, CancellationToken cancel)
    {
        long[] visits = await db.Visits.Where(v => v.PieceId == piece.Id).Select(v => v.Id).ToArrayAsync(cancel);
        return BladeOnBench.Compose(
            piece,
            await db.Outlines.AsNoTracking().Standing().Where(f => visits.Contains(f.VisitId)).ToListAsync(cancel),
            await db.Sections.AsNoTracking().Standing().Where(f => visits.Contains(f.VisitId)).ToListAsync(cancel));
    }

    internal static Task<Visit?> OpenVisitAsync(BookContext db, long pieceId, CancellationToken cancel) =>
        db.Visits.AsNoTracking().Where(v => v.PieceId == pieceId && v.HandBackId == null).OrderByDescending(v => v.HappenedAt).FirstOrDefaultAsync(cancel);
}
