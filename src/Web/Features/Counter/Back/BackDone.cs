using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>One piece that went.</summary>
/// <param name="VisitId">Its visit.</param>
/// <param name="Tag">Tag with check digit.</param>
/// <param name="Name">The piece.</param>
/// <param name="IntakeId">Its receipt.</param>
/// <param name="Gone">It is still away: the hand-back was not undone.</param>
public sealed record PieceGone(long VisitId, string Tag, string Name, long? IntakeId, bool Gone);

/// <summary>What was handed back.</summary>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="To">To whom, where not the owner.</param>
/// <param name="At">When, UTC.</param>
/// <param name="EnteredAt">Its one moment of entry, UTC.</param>
/// <param name="Counted">What was counted out with it, and which loan set came back, in words.</param>
/// <param name="Pieces">What.</param>
/// <param name="Paid">The payment that came with it.</param>
/// <param name="OwedMinor">What the owner owes now, for all that is and was here.</param>
/// <param name="Form">For the undo buttons: token and message.</param>
public sealed record BackDoneModel(long OwnerId, string OwnerName, string? To, DateTime At, DateTime EnteredAt, IReadOnlyList<string> Counted, IReadOnlyList<PieceGone> Pieces, Payment? Paid, long OwedMinor, UndoForm Form);

/// <summary>Undoes a mistaken hand-back.</summary>
public sealed class UndoForm : WebForm
{
    /// <summary>In place of a visit: all that went.</summary>
    public const string All = "all";

    /// <summary>Empty.</summary>
    public UndoForm(string? payment = null)
    {
        Visit = Add(new TextField("visit", "Piece") { Required = true, MaxLength = 20 });
        PaymentToo = Add(new FlagField("paymentToo", payment is null ? "Take the payment back too" : $"Take the payment of {payment} back too"));
        Paid = Add(new TextField("paid", "Payment") { MaxLength = 20 });
    }

    /// <summary>The visit.</summary>
    public TextField Visit { get; }

    /// <summary>The payment goes as well.</summary>
    public FlagField PaymentToo { get; }

    /// <summary>Number of the payment.</summary>
    public TextField Paid { get; }
}

/// <summary>Shows what went, and undoes it.</summary>
internal static class BackDone
{
    public static async Task<IResult> ShowAsync(long ownerId, long handBackId, long? paid, IDbContextFactory<BookContext> books, AccountQuery accounts, Shared.Showing.UnitsView units, CancellationToken cancel) =>
        await ModelAsync(ownerId, handBackId, paid, books, accounts, units, null, cancel) is { } model ? Of(model) : Unknown();

    public static async Task<IResult> UndoAsync(
        long ownerId, long handBackId, HttpContext http, IDbContextFactory<BookContext> books, AccountQuery accounts, Shared.Showing.UnitsView units, BookWriter writer, HandBackDesk desk, Till till, CancellationToken cancel)
    {
        UndoForm form = new();
        bool right = await form.ReadAsync(http);
        if (await ModelAsync(ownerId, handBackId, Number(form.Paid), books, accounts, units, form, cancel) is not { } model)
            return Unknown();
        if (!right)
            return Of(model);
        PieceGone[] back = [.. model.Pieces.Where(p => p.Gone && (form.Visit.Value == UndoForm.All || p.VisitId == Number(form.Visit)))];
        if (back.Length == 0)
        {
            form.Refuse($"'{form.Visit.Typed}' is none of the pieces of this hand-back; use the button beside the piece");
            return Of(model);
        }

        Submitted<HandBack> saved = await writer.SubmitAsync(form.Once, db => UndoAsync(db, desk, till, model, back, form.PaymentToo.Value, cancel), _ => HandingBack.Address(ownerId), cancel);
        string words = back.Length == 1 ? $"{back[0].Name} ({back[0].Tag}) is" : $"{back.Length} pieces are";
        if (saved is Submitted<HandBack>.Done done)
            return Page.SeeOther(done.LedTo, $"{words} here again{(form.PaymentToo.Value && model.Paid is not null ? "; the payment is taken back" : model.Paid is not null ? "; the payment stands" : "")}.");
        if (saved is Submitted<HandBack>.Refused r)
        {
            foreach (FieldProblem problem in r.Problems)
                form.Refuse($"{(back.Length == 1 ? $"{back[0].Name} ({back[0].Tag}) is" : "They are")} not taken back: {problem.Right}");
        }

        return Of(model);
    }

    /// <summary>All in one write: the hand-backs, a set's count and loan of the same moment where all of it is undone, and the payment.</summary>
    private static async Task<SaveOutcome<HandBack>> UndoAsync(BookContext db, HandBackDesk desk, Till till, BackDoneModel model, PieceGone[] back, bool paymentToo, CancellationToken cancel)
    {
        SaveOutcome<HandBack>? undone = null;
        foreach (PieceGone piece in back)
        {
            undone = await desk.UndoAsync(db, piece.VisitId, cancel);
            if (undone is not SaveOutcome<HandBack>.Saved)
                return undone;
        }

        if (back.Length == model.Pieces.Count)
        {
            foreach (SetCount count in await db.SetCounts.AsNoTracking().Standing().Where(c => c.EnteredAt == model.EnteredAt && !c.In).ToListAsync(cancel))
            {
                SetCount off = new() { SetId = count.SetId, In = count.In, Count = count.Count, Difference = count.Difference, HappenedAt = count.HappenedAt, EnteredAt = desk.Now(), CorrectsId = count.Id, Withdrawn = true };
                await db.AddFactAsync(off, c => c.SetId == count.SetId, cancel: cancel);
            }

            foreach (Loan loan in await db.Loans.AsNoTracking().Standing().Where(l => l.EnteredAt == model.EnteredAt && !l.Out && l.OwnerId == model.OwnerId).ToListAsync(cancel))
            {
                Loan off = new() { LoanSetId = loan.LoanSetId, OwnerId = loan.OwnerId, Out = loan.Out, Count = loan.Count, HappenedAt = loan.HappenedAt, EnteredAt = desk.Now(), CorrectsId = loan.Id, Withdrawn = true };
                await db.AddFactAsync(off, l => l.LoanSetId == loan.LoanSetId, cancel: cancel);
            }
        }

        if (paymentToo && model.Paid is { } payment)
        {
            PaymentForm money = new() { OwnerId = model.OwnerId, VisitId = payment.VisitId, IntakeId = payment.IntakeId, AmountMinor = payment.AmountMinor, How = payment.How, CorrectsId = payment.Id, Withdrawn = true };
            switch (await till.TakeAsync(db, money, cancel))
            {
                case SaveOutcome<Payment>.Refused refused:
                    return new SaveOutcome<HandBack>.Refused(refused.Problems);
                case SaveOutcome<Payment>.Conflict:
                    return new SaveOutcome<HandBack>.Refused("paymentToo", null, "the payment was taken back already: leave this unticked");
            }
        }

        return undone!;
    }

    private static async Task<BackDoneModel?> ModelAsync(
        long ownerId, long handBackId, long? paid, IDbContextFactory<BookContext> books, AccountQuery accounts, Shared.Showing.UnitsView units, UndoForm? form, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        HandBack? first = await db.HandBacks.AsNoTracking().FirstOrDefaultAsync(h => h.Id == handBackId && !h.Withdrawn && h.Visit!.Piece!.OwnerId == ownerId, cancel);
        if (first is null)
            return null;
        // All pieces of one hand-back carry its one moment of entry.
        var together = await db.HandBacks.AsNoTracking().Where(h => h.EnteredAt == first.EnteredAt && !h.Withdrawn && h.Visit!.Piece!.OwnerId == ownerId).OrderBy(h => h.Id)
            .Select(h => new { h.Id, h.VisitId, h.Visit!.Tag, h.Visit.Piece!.Name, h.Visit.IntakeId, h.Visit.HandBackId }).ToListAsync(cancel);
        Payment? payment = paid is { } id ? await db.Payments.AsNoTracking().Standing().FirstOrDefaultAsync(p => p.Id == id && p.OwnerId == ownerId, cancel) : null;
        UndoForm undo = form ?? new UndoForm(payment is null ? null : units.Amount(payment.AmountMinor));
        undo.Paid.Fill(payment?.Id.ToString(CultureInfo.InvariantCulture));
        string owner = await db.Owners.Where(o => o.Id == ownerId).Select(o => o.Name).SingleAsync(cancel);
        return new(
            ownerId, owner, first.To, first.HappenedAt, first.EnteredAt, await CountedAsync(db, ownerId, first.EnteredAt, cancel),
            [.. together.Select(h => new PieceGone(h.VisitId, TagNumber.Format(h.Tag), h.Name, h.IntakeId, h.HandBackId == h.Id))],
            payment, await accounts.OwedAsync(ownerId, cancel), undo);
    }

    private static async Task<IReadOnlyList<string>> CountedAsync(BookContext db, long ownerId, DateTime moment, CancellationToken cancel)
    {
        var counts = await db.SetCounts.AsNoTracking().Standing().Where(c => !c.In && c.EnteredAt == moment)
            .Join(db.PieceSets.Where(s => s.OwnerId == ownerId), c => c.SetId, s => s.Id, (c, s) => new { s.Name, c.Count, c.Difference }).ToListAsync(cancel);
        var loans = await db.Loans.AsNoTracking().Standing().Where(l => !l.Out && l.OwnerId == ownerId && l.EnteredAt == moment)
            .Join(db.LoanSets, l => l.LoanSetId, s => s.Id, (l, s) => new { s.Name, l.Count, s.Pieces }).ToListAsync(cancel);
        return
        [
            .. counts.Select(c => $"{c.Name}: {c.Count} counted out{(c.Difference is { } difference ? "; " + difference : ", nothing missing")}."),
            .. loans.Select(l => $"{l.Name} came back: {l.Count} of {l.Pieces}."),
        ];
    }

    private static long? Number(TextField field) => long.TryParse(field.Value, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null;

    private static IResult Unknown() => Page.NotFound("There is no such hand-back in the book; look for the owner at the counter.");

    private static IResult Of(BackDoneModel model) => Page.Of<BackDonePage>("Handed back", model, Room.Counter, model.Form.Status);
}
