using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>Hands back: charges, payment and pieces in one save.</summary>
internal sealed class HandingBack(
    IDbContextFactory<BookContext> books, StandingQuery standings, AccountQuery accounts, BookClock clock, BookWriter writer, BenchLog log, HandBackDesk desk, UnitsView units, ShopView shop)
{
    public static async Task<IResult> ShowAsync(long ownerId, HandingBack back, CancellationToken cancel)
    {
        if (await back.GroundAsync(ownerId, cancel) is not { } ground)
            return Nobody();
        BackForm form = new(ground, back.Shop.Currency, back.Units);
        await back.CountAsync(form, cancel);
        return Of(form);
    }

    public static async Task<IResult> SaveAsync(long ownerId, HttpContext http, HandingBack back, CancellationToken cancel)
    {
        if (await back.GroundAsync(ownerId, cancel) is not { } ground)
            return Nobody();
        BackForm form = new(ground, back.Shop.Currency, back.Units)
        {
            ChargesOnly = (await http.Request.ReadFormAsync(cancel))[BackForm.WhatName] == "charges",
        };
        bool right = await form.ReadAsync(http);
        await back.CountAsync(form, cancel);
        return right ? await back.KeepAsync(form, http, cancel) : Of(form);
    }

    private ShopView Shop => shop;

    private UnitsView Units => units;

    private Task<BackGround?> GroundAsync(long ownerId, CancellationToken cancel) => BackGround.ReadAsync(ownerId, books, standings, accounts, clock, cancel);

    private async Task CountAsync(BackForm form, CancellationToken cancel)
    {
        long[] going = [.. form.Going.Select(p => p.Here.Visit.Id)];
        long charged = form.Going.Sum(p => p.Here.Charges.Sum(c => c.AmountMinor));
        long due = going.Length == 0 ? 0 : await accounts.DueAsync(going, cancel);
        form.Due = new(charged + form.Going.Sum(p => p.ChangeMinor), charged - due, form.Ground.Owner.IsAccount ? 0 : form.Ground.EarlierMinor);
    }

    private async Task<IResult> KeepAsync(BackForm form, HttpContext http, CancellationToken cancel)
    {
        long owner = form.Ground.Owner.Id;
        Submitted<string> saved = await writer.SubmitAsync(form.Once, db => WriteAsync(db, form, cancel), address => address, cancel);
        switch (saved)
        {
            case Submitted<string>.Done done:
                return Page.SeeOther(done.LedTo, form.ChargesOnly ? "Charges kept." : null);
            case Submitted<string>.Conflict:
                return await MeetAsync(form, await http.Request.ReadFormAsync(cancel), cancel);
            case Submitted<string>.Refused refused:
                form.Refuse(refused.Problems);
                break;
            default:
                throw new InvalidOperationException($"Outcomes are a closed set; owner {owner}.");
        }

        return Of(form);
    }

    /// <summary>Somebody else saved meanwhile: what stands now is shown beside what this person was about to save, with all they typed.</summary>
    private async Task<IResult> MeetAsync(BackForm mine, IFormCollection sent, CancellationToken cancel)
    {
        long owner = mine.Ground.Owner.Id;
        if (await GroundAsync(owner, cancel) is not { } ground)
            return Nobody();
        BackForm now = new(ground, shop.Currency, units);
        now.Read(sent);
        await CountAsync(now, cancel);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        now.Meet(await BackDifferences.BetweenAsync(db, mine, now, units, cancel), ground.Seen, "On another device");
        return Of(now);
    }

    private async Task<SaveOutcome<string>> WriteAsync(BookContext db, BackForm form, CancellationToken cancel)
    {
        long owner = form.Ground.Owner.Id;
        if (await BackGround.SeenAsync(db, owner, cancel) != form.VersionSeen)
            return new SaveOutcome<string>.Conflict("");
        DateTime now = clock.Now();
        foreach (BackFields piece in form.Pieces.Where(p => form.ChargesOnly || p.Goes.Value))
        {
            IEnumerable<Charge> facts = piece.Off.Where(o => o.Off.Value).Select(o => TakenOff(o.Charge, now))
                .Concat(piece.Added(form.Ground.Rates, clock.Today(shop.TimeZone)).Select(c => c.Fact(piece.Here.Visit.Id, now, now)));
            foreach (Charge fact in facts)
            {
                switch (await log.AddAsync(db, fact, cancel: cancel))
                {
                    case SaveOutcome<Charge>.Conflict:
                        return new SaveOutcome<string>.Conflict("");
                    case SaveOutcome<Charge>.Refused refused:
                        return new SaveOutcome<string>.Refused(refused.Problems);
                }
            }
        }

        if (form.ChargesOnly)
            return new SaveOutcome<string>.Saved(Address(owner));
        SaveOutcome<IReadOnlyList<HandBack>> handed = await desk.HandBackAsync(db, new()
        {
            VisitIds = [.. form.Going.Select(p => p.Here.Visit.Id)],
            To = form.To.Value,
            EdgeNotes = form.Going.Where(p => p.Note.Value is not null).ToDictionary(p => p.Here.Visit.Id, p => p.Note.Value!),
            Payment = Payment(form),
        }, cancel);
        if (handed is not SaveOutcome<IReadOnlyList<HandBack>>.Saved { Value: var facts2 })
            return handed.As(_ => "");
        long? paid = Payment(form) is null ? null : await db.Payments.Where(p => p.OwnerId == owner).MaxAsync(p => (long?)p.Id, cancel);
        return new SaveOutcome<string>.Saved(string.Create(CultureInfo.InvariantCulture, $"{Address(owner)}/done/{facts2[0].Id}{(paid is { } id ? $"?paid={id}" : "")}"));
    }

    private static PaymentForm? Payment(BackForm form)
    {
        long amount = form.Amount.Minor ?? form.Due.Minor;
        if (form.How.Value is not { } how || how == "account" || amount == 0)
            return null;
        long?[] receipts = [.. form.Going.Select(p => p.Here.Visit.IntakeId).Distinct()];
        return new()
        {
            OwnerId = form.Ground.Owner.Id,
            AmountMinor = amount,
            How = how,
            IntakeId = receipts.Length == 1 && form.Due.EarlierMinor == 0 ? receipts[0] : null, // earlier debts are not this receipt's
        };
    }

    private static Charge TakenOff(Charge charge, DateTime now) => new()
    {
        VisitId = charge.VisitId,
        HappenedAt = now,
        EnteredAt = now,
        CorrectsId = charge.Id,
        Withdrawn = true,
        Text = charge.Text,
        AmountMinor = charge.AmountMinor,
        TaxMilliPercent = charge.TaxMilliPercent,
        PriceLineId = charge.PriceLineId,
    };

    internal static string Address(long ownerId) => string.Create(CultureInfo.InvariantCulture, $"/counter/back/{ownerId}");

    private static IResult Nobody() => Page.NotFound("There is no such owner in the book; look for the name at the counter.");

    private static IResult Of(BackForm form) => Page.Of<BackPage>($"Hand back: {form.Ground.Owner.Name}", form, Room.Counter, form.Status);
}
