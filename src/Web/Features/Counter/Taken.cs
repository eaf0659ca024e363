using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Counter;

/// <summary>What was taken in, with the tags to hang on.</summary>
/// <param name="IntakeId">Receipt number.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="At">When, UTC.</param>
/// <param name="Pieces">The pieces.</param>
/// <param name="DepositMinor">Deposit.</param>
public sealed record TakenModel(long IntakeId, long OwnerId, string OwnerName, DateTime At, IReadOnlyList<TakenPiece> Pieces, long DepositMinor)
{
    /// <summary>Together.</summary>
    public long TotalMinor => Pieces.Sum(p => p.AmountMinor);
}

/// <summary>One of them.</summary>
/// <param name="Tag">Tag with check digit.</param>
/// <param name="Name">The piece.</param>
/// <param name="PromisedFor">The day promised.</param>
/// <param name="AmountMinor">What it costs.</param>
/// <param name="Charges">What for.</param>
/// <param name="Damage">Damage acknowledged.</param>
public sealed record TakenPiece(string Tag, string Name, DateOnly? PromisedFor, long AmountMinor, string Charges, string? Damage);

/// <summary>Shows a receipt.</summary>
internal static class Taken
{
    public static async Task<IResult> ShowAsync(long intakeId, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Intake? intake = await db.Intakes.AsNoTracking().Include(i => i.Visits).ThenInclude(v => v.Piece).FirstOrDefaultAsync(i => i.Id == intakeId, cancel);
        if (intake is null)
            return Page.NotFound("There is no receipt of that number in the book.");
        string owner = await db.Owners.Where(o => o.Id == intake.OwnerId).Select(o => o.Name).SingleAsync(cancel);
        long[] ids = [.. intake.Visits.Select(v => v.Id)];
        List<Charge> charges = await db.Charges.AsNoTracking().Standing().Where(c => ids.Contains(c.VisitId)).ToListAsync(cancel);
        long deposit = await db.Payments.Standing().Where(p => p.IntakeId == intakeId).SumAsync(p => p.AmountMinor, cancel);
        return Page.Of<TakenPage>(
            "Taken in",
            new TakenModel(intakeId, intake.OwnerId, owner, intake.HappenedAt, [.. intake.Visits.OrderBy(v => v.Id).Select(v => Piece(v, [.. charges.Where(c => c.VisitId == v.Id)]))], deposit),
            Room.Counter);
    }

    private static TakenPiece Piece(Visit visit, IReadOnlyList<Charge> charges) => new(
        TagNumber.Format(visit.Tag), visit.Piece!.Name, visit.PromisedFor, charges.Sum(c => c.AmountMinor), string.Join(", ", charges.Select(c => c.Text)),
        visit.DamageAcknowledged ? visit.Damage : null);
}
