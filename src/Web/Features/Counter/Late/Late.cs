using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Late;

/// <summary>The page.</summary>
/// <param name="Form">The form.</param>
/// <param name="Open">Blocks whose blanks are not all entered.</param>
public sealed record LateModel(LateForm Form, IReadOnlyList<(TagBlock Block, int Entered)> Open);

/// <summary>Enters what was written on paper where there was no network.</summary>
internal static class LateEntry
{
    public static void MapLate(this IEndpointRouteBuilder app)
    {
        app.MapGet("/counter/late", ShowAsync);
        app.MapPost("/counter/late", SaveAsync);
    }

    private static async Task<IResult> ShowAsync(KitQuery kit, UnitsView units, ShopView shop, CancellationToken cancel) => await OfAsync(new LateForm(units, shop), kit, cancel);

    private static async Task<IResult> SaveAsync(
        HttpContext http, KitQuery kit, BookWriter writer, OwnerDesk owners, IntakeDesk desk, BookClock clock, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        LateForm form = new(units, shop);
        if (!await form.ReadAsync(http))
            return await OfAsync(form, kit, cancel);
        DateTime happened = units.Universal(form.At.Local!.Value);
        if (happened > clock.Now().AddMinutes(5))
        {
            form.At.Refuse($"'{form.At.Typed}' is still to come; the day and hour written on the receipt would be right");
            return await OfAsync(form, kit, cancel);
        }

        Submitted<IntakeDone> outcome = await writer.SubmitAsync(form.Once, db => TakeInAsync(db, form, happened, owners, desk, cancel), _ => "/counter/late", cancel);
        switch (outcome)
        {
            case Submitted<IntakeDone>.Done done:
                return Page.SeeOther(done.LedTo, $"{form.Owner.Value}: {form.Filled.Count} entered, as of {units.Moment(happened)}. Next receipt?");
            case Submitted<IntakeDone>.Refused refused:
                Tell(form, refused.Problems);
                return await OfAsync(form, kit, cancel);
            default:
                throw new InvalidOperationException("A new receipt meets no other version.");
        }
    }

    /// <summary>Owner and pieces: all of it or nothing.</summary>
    private static async Task<SaveOutcome<IntakeDone>> TakeInAsync(BookContext db, LateForm form, DateTime happened, OwnerDesk owners, IntakeDesk desk, CancellationToken cancel)
    {
        string name = form.Owner.Value!;
        string? reach = form.Phone.Value;
        bool mail = reach?.Contains('@', StringComparison.Ordinal) ?? false;
        List<long> known = await db.Owners.Where(o => o.Name == name && (reach == null || o.Phone == reach || o.Email == reach)).Select(o => o.Id).Take(2).ToListAsync(cancel);
        long owner;
        if (known.Count == 1)
            owner = known[0];
        else if (await owners.AddAsync(db, new OwnerForm { Name = name, Phone = mail ? null : reach, Email = mail ? reach : null }, cancel) is SaveOutcome<Owner>.Saved added)
            owner = added.Value.Id;
        else
            return new SaveOutcome<IntakeDone>.Refused("Phone", reach, "a telephone number or a mail address would be right, or nothing");
        return await desk.TakeInAsync(db, new IntakeForm
        {
            OwnerId = owner,
            HappenedAt = happened,
            DepositMinor = form.Deposit.Minor,
            DepositHow = "cash",
            Pieces = [.. form.Filled.Select(p => p.Intake(form.Promised.Value))],
        }, cancel);
    }

    private static void Tell(LateForm form, IReadOnlyList<FieldProblem> problems)
    {
        IReadOnlyList<LatePiece> filled = form.Filled;
        foreach (FieldProblem problem in problems)
        {
            int close = problem.Field.IndexOf("].", StringComparison.Ordinal);
            if (problem.Field.StartsWith("Pieces[", StringComparison.Ordinal) && close > 0
                && int.TryParse(problem.Field.AsSpan(7, close - 7), NumberStyles.None, CultureInfo.InvariantCulture, out int i) && i < filled.Count
                && filled[i].Of(problem.Field[(close + 2)..]) is { } field)
                field.Refuse($"'{field.Typed}' is not right; {problem.Right}");
            else
                form.Refuse([problem]);
        }
    }

    private static async Task<IResult> OfAsync(LateForm form, KitQuery kit, CancellationToken cancel) => Page.Of<LatePage>(
        "Written on paper", new LateModel(form, [.. (await kit.BlanksAsync(cancel)).Where(b => b.Entered < b.Block.To - b.Block.From + 1)]), Room.Counter, form.Status);
}
