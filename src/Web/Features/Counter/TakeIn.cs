using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter;

/// <summary>Takes pieces in: several at once, priced from the shop's own list, promised by the load of the coming days.</summary>
internal static class TakeIn
{
    public static async Task<IResult> ShowAsync(
        long ownerId, IDbContextFactory<BookContext> books, BookClock clock, PieceQuery pieces, LoadQuery load, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        if (await GroundAsync(ownerId, books, pieces, units, cancel) is not { } ground)
            return Nobody();
        TakeInForm form = new(ground, units, shop, TakeInForm.FirstRows);
        form.Offer = await OfferAsync(form, books, clock, load, cancel);
        return Of(form);
    }

    public static async Task<IResult> SaveAsync(
        long ownerId, HttpContext http, IDbContextFactory<BookContext> books, BookClock clock, PieceQuery pieces, LoadQuery load, BookWriter writer, IntakeDesk desk,
        IPhotoStore photos, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        if (await GroundAsync(ownerId, books, pieces, units, cancel) is not { } ground)
            return Nobody();
        TakeInForm form = new(ground, units, shop, TakeInForm.RowsOf(await http.Request.ReadFormAsync(cancel)));
        bool right = await form.ReadAsync(http);
        form.Offer = await OfferAsync(form, books, clock, load, cancel);
        if (!right)
            return Of(form);
        List<PieceFields> filled = [.. form.Filled];
        IntakeForm intake = new()
        {
            OwnerId = ownerId,
            DepositMinor = form.Deposit.Minor,
            DepositHow = form.DepositHow.Value,
            Pieces = [.. filled.Select((p, i) => Intake(p, form, form.Offer.Charges[i]))],
        };
        switch (await writer.SubmitAsync(form.Once, db => SaveAsync(db, desk, photos, intake, filled, cancel), d => string.Create(CultureInfo.InvariantCulture, $"/counter/receipts/{d.IntakeId}"), cancel))
        {
            case Submitted<IntakeDone>.Done done:
                return Page.SeeOther(done.LedTo);
            case Submitted<IntakeDone>.Refused refused:
                form.Refuse(refused.Problems);
                return Of(form);
            default:
                throw new InvalidOperationException("A new receipt meets no other version.");
        }
    }

    /// <summary>The pieces and their photos: all of it or nothing.</summary>
    private static async Task<SaveOutcome<IntakeDone>> SaveAsync(
        BookContext db, IntakeDesk desk, IPhotoStore photos, IntakeForm intake, List<PieceFields> filled, CancellationToken cancel)
    {
        SaveOutcome<IntakeDone> outcome = await desk.TakeInAsync(db, intake, cancel);
        if (outcome is not SaveOutcome<IntakeDone>.Saved { Value: var done })
            return outcome;
        for (int i = 0; i < filled.Count; i++)
        {
            foreach (IFormFile file in filled[i].Photo.Files)
            {
                await using Stream content = file.OpenReadStream();
                PhotoSubject subject = filled[i].Damage.Value is null ? PhotoSubject.Piece : PhotoSubject.Damage;
                if (await photos.PutAsync(db, content, new(subject, done.Visits[i].VisitId), cancel) is SaveOutcome<Photo>.Refused refused)
                    return new SaveOutcome<IntakeDone>.Refused([.. refused.Problems.Select(p => p with { Field = filled[i].Photo.Name })]);
            }
        }

        return outcome;
    }

    private static PieceIntake Intake(PieceFields p, TakeInForm form, IReadOnlyList<ChargeForm> charges) => new()
    {
        PieceId = p.Known?.Id,
        NewPiece = p.Known is null ? new PieceForm { Kind = p.KindValue, LengthMm = p.LengthMm, Name = p.Name.Value } : null,
        PromisedFor = form.Promised.Value ?? form.Offer.Promise,
        Place = form.Place.Value,
        Wishes = p.Wishes.Value,
        Damage = p.Damage.Value,
        DamageAcknowledged = p.Acknowledged.Value,
        Declined = p.Declined.Value,
        PaperTag = TagNumber.TryParse(p.PaperTag.Value, out int tag) ? tag : null,
        ComplaintAboutId = Complaint(p),
        Charges = charges,
    };

    private static long? Complaint(PieceFields p) =>
        long.TryParse(p.Complaint?.Value, NumberStyles.None, CultureInfo.InvariantCulture, out long visit) ? visit : null;

    private static async Task<TakeInOffer> OfferAsync(TakeInForm form, IDbContextFactory<BookContext> books, BookClock clock, LoadQuery load, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        long owner = form.Ground.OwnerId;
        List<PriceLine> lines = await db.Prices.AsNoTracking().Where(p => !p.Retired && (p.OwnerId == null || p.OwnerId == owner)).ToListAsync(cancel);
        List<TaxRate> rates = await db.TaxRates.AsNoTracking().ToListAsync(cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        DateOnly today = clock.Today(card.Zone());
        List<IReadOnlyList<ChargeForm>> charges = [];
        foreach (PieceFields piece in form.Filled)
        {
            if (Complaint(piece) is not null)
            {
                charges.Add([]);
                continue;
            }

            List<PriceLine> chosen = [];
            if (PriceList.Choose(lines, piece.KindValue, piece.LengthMm, owner) is { } line)
                chosen.Add(line);
            chosen.AddRange(lines.Where(l => l.Extra && piece.Extras.Values.Contains(l.Id.ToString(CultureInfo.InvariantCulture), StringComparer.Ordinal)));
            charges.Add([.. chosen.Select(l => new ChargeForm
            {
                Text = l.Name,
                AmountMinor = l.AmountMinor,
                TaxMilliPercent = PriceList.TaxOn(today, l.TaxRateId, rates),
                PriceLineId = l.Id,
                Minutes = l.Minutes,
            })]);
        }

        double minutes = charges.Sum(c => c.Sum(x => x.Minutes));
        IReadOnlyList<DayLoad> days = await load.ComingAsync(today, cancel: cancel);
        return new(charges, charges.Sum(c => c.Sum(x => x.AmountMinor)), minutes, Load.Promise(days, minutes), days);
    }

    private static async Task<TakeInGround?> GroundAsync(long ownerId, IDbContextFactory<BookContext> books, PieceQuery pieces, UnitsView units, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Owner? owner = await db.Owners.AsNoTracking().FirstOrDefaultAsync(o => o.Id == ownerId, cancel);
        if (owner is null)
            return null;
        IReadOnlyList<PieceFound> known = await pieces.FindAsync(new PieceWanted { OwnerId = ownerId, Most = 60 }, cancel);
        List<PriceLine> extras = await db.Prices.AsNoTracking().Where(p => p.Extra && !p.Retired && (p.OwnerId == null || p.OwnerId == ownerId)).OrderBy(p => p.Order).ToListAsync(cancel);
        var visits = await db.Visits.AsNoTracking().Where(v => v.Piece!.OwnerId == ownerId && v.HandBackId != null).OrderByDescending(v => v.HappenedAt).Take(60)
            .Select(v => new { v.Id, v.PieceId, v.Tag, v.HappenedAt }).ToListAsync(cancel);
        return new(ownerId, owner.Name, [.. known.Where(k => k.VisitId is null)], extras,
            [.. visits.Select(v => new EarlierVisit(v.Id, v.PieceId, $"{TagNumber.Format(v.Tag)}, {units.Date(units.LocalDay(v.HappenedAt))}"))]);
    }

    private static IResult Nobody() => Page.NotFound("There is no such owner in the book; look for the name at the counter.");

    private static IResult Of(TakeInForm form) => Page.Of<TakeInPage>($"Take in: {form.Ground.OwnerName}", form, Room.Counter, form.Status);
}
