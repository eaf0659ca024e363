using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>How the rack is looked at.</summary>
public enum RackOrder
{
    /// <summary>By the day promised; without one last.</summary>
    Promise = 0,

    /// <summary>By where it lies.</summary>
    Place = 1,

    /// <summary>By what it needs next, then by promise.</summary>
    Next = 2,
}

/// <summary>One piece on the rack.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="Tag">Its tag without check digit.</param>
/// <param name="PieceId">The piece.</param>
/// <param name="PieceName">The piece.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="LengthMm">Its length, mm.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="TakenIn">Since when it is here, UTC.</param>
/// <param name="PromisedFor">For which day.</param>
/// <param name="Place">Where it lies.</param>
/// <param name="IsComplaint">It is a complaint.</param>
/// <param name="CameBefore">It has earlier visits: "as last time" may do.</param>
/// <param name="SetId">The set it belongs to.</param>
/// <param name="Slot">Its slot in the set.</param>
/// <param name="Standing">Where it stands.</param>
public sealed record RackLine(
    long VisitId, int Tag, long PieceId, string PieceName, PieceKind Kind, double? LengthMm, long OwnerId, string OwnerName, DateTime TakenIn,
    DateOnly? PromisedFor, string? Place, bool IsComplaint, bool CameBefore, long? SetId, string? Slot, VisitStanding Standing)
{
    /// <summary>Promised for an earlier day and not ready.</summary>
    public bool IsLate(DateOnly today) => PromisedFor < today && Standing.Next is not null;
}

/// <summary>What is here.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class RackQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Every open visit.</summary>
    public async Task<IReadOnlyList<RackLine>> OpenAsync(RackOrder order = RackOrder.Promise, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var visits = await db.Visits.Where(v => v.HandBackId == null).Select(v => new
        {
            v.Id,
            v.Tag,
            v.PieceId,
            v.Piece!.Name,
            v.Piece.Kind,
            v.Piece.LengthMm,
            v.Piece.OwnerId,
            Owner = v.Piece.Owner!.Name,
            v.HappenedAt,
            v.PromisedFor,
            v.Place,
            v.Piece.SetId,
            v.Piece.Slot,
            Complaint = v.ComplaintAboutId != null,
            Before = v.Piece.Visits.Any(earlier => earlier.HandBackId != null),
        }).ToListAsync(cancel);
        IReadOnlyDictionary<long, VisitStanding> standings = await StandingQuery.OfAsync(db, [.. visits.Select(v => v.Id)], cancel);
        IEnumerable<RackLine> lines = visits.Select(v => new RackLine(
            v.Id, v.Tag, v.PieceId, v.Name, v.Kind, v.LengthMm, v.OwnerId, v.Owner, v.HappenedAt, v.PromisedFor, v.Place, v.Complaint, v.Before, v.SetId, v.Slot, standings[v.Id]));
        return order switch
        {
            RackOrder.Promise => [.. lines.OrderBy(l => l.PromisedFor ?? DateOnly.MaxValue).ThenBy(l => l.TakenIn)],
            RackOrder.Place => [.. lines.OrderBy(l => l.Place is null).ThenBy(l => l.Place, StringComparer.OrdinalIgnoreCase).ThenBy(l => l.PromisedFor ?? DateOnly.MaxValue)],
            RackOrder.Next => [.. lines.OrderBy(l => l.Standing.Next ?? (BenchStep)int.MaxValue).ThenBy(l => l.PromisedFor ?? DateOnly.MaxValue).ThenBy(l => l.TakenIn)],
            _ => throw new ArgumentOutOfRangeException(nameof(order), order, "Not an order of the rack."),
        };
    }
}
