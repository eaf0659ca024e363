using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;

namespace Whetwright.Records.Visits;

/// <summary>Takes pieces in over the counter: several at once, one receipt.</summary>
/// <param name="clock">The time.</param>
/// <param name="pieces">Adds new pieces.</param>
/// <param name="tags">Gives out tags.</param>
/// <param name="log">Adds charges.</param>
/// <param name="till">Takes deposits.</param>
public sealed class IntakeDesk(BookClock clock, PieceDesk pieces, TagNumbers tags, BenchLog log, Till till)
{
    /// <summary>Takes in all of it or nothing.</summary>
    public async Task<SaveOutcome<IntakeDone>> TakeInAsync(BookContext db, IntakeForm form, CancellationToken cancel = default)
    {
        DateTime now = clock.Now();
        List<FieldProblem> problems = [.. form.Problems(now)];
        if (!await db.Owners.AnyAsync(o => o.Id == form.OwnerId, cancel))
            problems.Add(new FieldProblem(nameof(form.OwnerId), Shown(form.OwnerId), "an owner in the book would be right"));
        for (int i = 0; i < form.Pieces.Count; i++)
            problems.AddRange((await ProblemsAsync(db, form, form.Pieces[i], cancel)).Select(p => p with { Field = IntakeForm.FieldOf(i, p.Field) }));
        if (problems.Count > 0)
            return new SaveOutcome<IntakeDone>.Refused(problems);

        DateTime happened = form.HappenedAt ?? now;
        Intake intake = new() { OwnerId = form.OwnerId, HappenedAt = happened, EnteredAt = now };
        db.Intakes.Add(intake);
        await db.SaveChangesAsync(cancel);
        Queue<int> given = new(await tags.TakeAsync(db, form.Pieces.Count(p => p.PaperTag is null), cancel));
        List<VisitTag> done = [];
        for (int i = 0; i < form.Pieces.Count; i++)
        {
            PieceIntake taken = form.Pieces[i];
            long pieceId;
            if (taken.PieceId is { } known)
                pieceId = known;
            else if (await pieces.AddAsync(db, taken.NewPiece! with { OwnerId = form.OwnerId }, cancel) is SaveOutcome<Piece>.Saved added)
                pieceId = added.Value.Id;
            else
                throw new InvalidOperationException("A piece that was found right was refused.");
            Visit visit = taken.Visit(pieceId, taken.PaperTag ?? given.Dequeue(), intake.Id, happened, now);
            db.Visits.Add(visit);
            await db.SaveChangesAsync(cancel);
            foreach (ChargeForm charge in taken.Charges)
            {
                SaveOutcome<Charge> charged = await log.AddAsync(db, charge.Fact(visit.Id, happened, now), cancel: cancel);
                if (charged is SaveOutcome<Charge>.Refused refused)
                    return new SaveOutcome<IntakeDone>.Refused([.. refused.Problems.Select(p => p with { Field = IntakeForm.FieldOf(i, p.Field) })]);
            }

            done.Add(new VisitTag(visit.Id, pieceId, visit.Tag));
        }

        if (form.DepositMinor is { } deposit and not 0)
        {
            PaymentForm paid = new() { OwnerId = form.OwnerId, IntakeId = intake.Id, AmountMinor = deposit, How = form.DepositHow, Deposit = true, HappenedAt = form.HappenedAt };
            if (await till.TakeAsync(db, paid, cancel) is SaveOutcome<Payment>.Refused refused)
                return new SaveOutcome<IntakeDone>.Refused(refused.Problems);
        }

        return new SaveOutcome<IntakeDone>.Saved(new IntakeDone(intake.Id, done));
    }

    private async Task<IReadOnlyList<FieldProblem>> ProblemsAsync(BookContext db, IntakeForm form, PieceIntake taken, CancellationToken cancel)
    {
        List<FieldProblem> problems = [];
        if (taken.PieceId is { } id)
        {
            if (!await db.Pieces.AnyAsync(p => p.Id == id && p.OwnerId == form.OwnerId, cancel))
                problems.Add(new FieldProblem(nameof(taken.PieceId), Shown(id), "a piece of this owner would be right"));
            if (await db.Visits.Where(v => v.PieceId == id && v.HandBackId == null).Select(v => (int?)v.Tag).FirstOrDefaultAsync(cancel) is { } here)
                problems.Add(new FieldProblem(nameof(taken.PieceId), Shown(id), $"a piece that is not here already would be right; this one hangs under tag {TagNumber.Format(here)}"));
        }

        if (taken.ComplaintAboutId is { } about && !await db.Visits.AnyAsync(v => v.Id == about && v.Piece!.OwnerId == form.OwnerId, cancel))
            problems.Add(new FieldProblem(nameof(taken.ComplaintAboutId), Shown(about), "an earlier visit of this owner's would be right"));
        if (taken.PaperTag is { } tag && await tags.WhyNotAsync(db, tag, cancel) is { } why)
            problems.Add(new FieldProblem(nameof(taken.PaperTag), Shown(tag), why));
        if (taken.NewPiece?.SetId is { } set && !await db.PieceSets.AnyAsync(s => s.Id == set && s.OwnerId == form.OwnerId, cancel))
            problems.Add(new FieldProblem(nameof(PieceForm.SetId), Shown(set), "a set of this owner would be right"));
        return problems;
    }

    private static string Shown(long value) => value.ToString(CultureInfo.InvariantCulture);
}
