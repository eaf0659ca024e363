using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Counter.Papers;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter;

/// <summary>What was taken in, with the tags to hang on.</summary>
/// <param name="IntakeId">Receipt number.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="At">When, UTC.</param>
/// <param name="Pieces">The pieces.</param>
/// <param name="PaidMinor">Deposit and what was paid since.</param>
/// <param name="Taxes">Tax in the amounts, per rate.</param>
/// <param name="Counted">What was counted and lent with it, in words.</param>
/// <param name="CodeWarning">What is wrong with the codes on the tags; null where nothing is.</param>
public sealed record TakenModel(
    long IntakeId, long OwnerId, string OwnerName, DateTime At, IReadOnlyList<TakenPiece> Pieces, long PaidMinor, IReadOnlyList<TaxShare> Taxes, IReadOnlyList<string> Counted,
    string? CodeWarning)
{
    /// <summary>Together.</summary>
    public long TotalMinor => Pieces.Sum(p => p.AmountMinor);
}

/// <summary>One of them, or alike ones of a set.</summary>
/// <param name="Tag">Tag with check digit; of several, the first and the last.</param>
/// <param name="Name">The piece; of a set, with count and slots.</param>
/// <param name="Count">How many pieces the line stands for.</param>
/// <param name="PromisedFor">The day promised.</param>
/// <param name="AmountMinor">What it costs.</param>
/// <param name="Charges">What for.</param>
/// <param name="Damage">Damage acknowledged.</param>
/// <param name="IsComplaint">It came as a complaint: nothing is charged.</param>
public sealed record TakenPiece(string Tag, string Name, int Count, DateOnly? PromisedFor, long AmountMinor, string Charges, string? Damage, bool IsComplaint);

/// <summary>Shows a receipt.</summary>
internal static class Taken
{
    public static async Task<IResult> ShowAsync(long intakeId, IDbContextFactory<BookContext> books, ShopView shop, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (await ReceiptOfIntake.ReadAsync(db, intakeId, cancel) is not { } receipt)
            return Page.NotFound("There is no receipt of that number in the book.");
        return Page.Of<TakenPage>(
            "Taken in",
            new TakenModel(
                intakeId, receipt.Owner.Id, receipt.Owner.Name, receipt.Intake.HappenedAt, [.. receipt.Lines.Select(l => Piece(l, receipt.Charges))],
                receipt.PaidMinor, receipt.Taxes, receipt.Counted, ShopPapers.CodeWarning(shop)),
            Room.Counter);
    }

    private static TakenPiece Piece(AlikeVisits line, ILookup<long, Charge> charges) => new(
        line.Tags, line.Title, line.Count, line.First.PromisedFor, line.Visits.Sum(v => charges[v.Id].Sum(c => c.AmountMinor)), string.Join(", ", charges[line.First.Id].Select(c => c.Text)),
        line.First.DamageAcknowledged ? line.First.Damage : null, line.First.ComplaintAboutId is not null);
}
