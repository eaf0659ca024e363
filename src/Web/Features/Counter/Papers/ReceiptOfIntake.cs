using Microsoft.EntityFrameworkCore;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>A receipt out of the book: the page and the paper show the same.</summary>
internal sealed record ReceiptOfIntake(Intake Intake, Owner Owner, IReadOnlyList<Visit> Visits, ILookup<long, Charge> Charges, IReadOnlyList<Payment> Payments, IReadOnlyList<TaxShare> Taxes, IReadOnlyList<string> Counted, ShopCard Card)
{
    /// <summary>The visits, alike ones of a set together.</summary>
    public IReadOnlyList<AlikeVisits> Lines => AlikeVisits.Of(Visits, Charges);

    /// <summary>All charges together.</summary>
    public long TotalMinor => Visits.Sum(v => Charges[v.Id].Sum(c => c.AmountMinor));

    /// <summary>All that was paid on it.</summary>
    public long PaidMinor => Payments.Sum(p => p.AmountMinor);

    /// <summary>Reads one; null where there is none of that number.</summary>
    public static async Task<ReceiptOfIntake?> ReadAsync(BookContext db, long intakeId, CancellationToken cancel)
    {
        Intake? intake = await db.Intakes.AsNoTracking().Include(i => i.Visits).ThenInclude(v => v.Piece).FirstOrDefaultAsync(i => i.Id == intakeId, cancel);
        if (intake is null)
            return null;
        Owner owner = await db.Owners.AsNoTracking().SingleAsync(o => o.Id == intake.OwnerId, cancel);
        long[] ids = [.. intake.Visits.Select(v => v.Id)];
        List<Charge> charges = await db.Charges.AsNoTracking().Standing().Where(c => ids.Contains(c.VisitId)).OrderBy(c => c.Id).ToListAsync(cancel);
        List<Payment> payments = await db.Payments.AsNoTracking().Standing().Where(p => p.IntakeId == intakeId || (p.VisitId != null && ids.Contains(p.VisitId.Value))).OrderBy(p => p.Id).ToListAsync(cancel);
        List<TaxRate> rates = await db.TaxRates.AsNoTracking().ToListAsync(cancel);
        long?[] lineIds = [.. charges.Select(c => c.PriceLineId).Where(id => id is not null).Distinct()];
        Dictionary<long, long?> lines = await db.Prices.AsNoTracking().Where(p => lineIds.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => p.TaxRateId, cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        return new(intake, owner, [.. intake.Visits.OrderBy(v => v.Id)], charges.ToLookup(c => c.VisitId), payments, Shares(charges, rates, lines), await CountedAsync(db, intake, cancel), card);
    }

    /// <summary>What was counted and lent with it, in words: facts of one write carry its moment of entry.</summary>
    private static async Task<IReadOnlyList<string>> CountedAsync(BookContext db, Intake intake, CancellationToken cancel)
    {
        List<string> words = [];
        long[] sets = [.. intake.Visits.Select(v => v.Piece!.SetId).OfType<long>().Distinct()];
        if (sets.Length == 0)
            return words;
        Dictionary<long, PieceSet> named = await db.PieceSets.AsNoTracking().Where(s => sets.Contains(s.Id)).ToDictionaryAsync(s => s.Id, cancel);
        foreach (SetCount count in await db.SetCounts.AsNoTracking().Standing().Where(c => c.In && c.EnteredAt == intake.EnteredAt && sets.Contains(c.SetId)).OrderBy(c => c.Id).ToListAsync(cancel))
            words.Add($"{named[count.SetId].Name}: {count.Count} of {named[count.SetId].Expected} counted in{(count.Difference is { } difference ? "; " + difference : ", nothing missing")}.");
        foreach (var lent in await db.Loans.AsNoTracking().Standing().Where(l => l.Out && l.OwnerId == intake.OwnerId && l.EnteredAt == intake.EnteredAt)
            .Join(db.LoanSets, l => l.LoanSetId, s => s.Id, (l, s) => new { l.Count, s.Name }).ToListAsync(cancel))
            words.Add($"Lent meanwhile: {lent.Name}, {lent.Count} {(lent.Count == 1 ? "piece" : "pieces")}.");
        return words;
    }

    /// <summary>What the paper says.</summary>
    public Receipt Paper(IReadOnlyDictionary<long, int> complaintTags) => new()
    {
        Shop = ShopPapers.Head(Card),
        Number = Intake.Id.ToString(System.Globalization.CultureInfo.InvariantCulture),
        Date = ShopDays.DayOf(Intake.HappenedAt, Card.Zone()),
        Owner = Owner.Name,
        OwnerContact = Owner.Phone ?? Owner.Email,
        Pieces = [.. Lines.Select(l => Piece(l, complaintTags))],
        Taxes = Taxes,
        Received = [.. Payments.Select(p => new ReceivedMoney($"{(p.Deposit ? "Deposit" : "Paid")}, {p.How}", p.AmountMinor, ShopDays.DayOf(p.HappenedAt, Card.Zone())))],
        Promise = Visits.Select(v => v.PromisedFor).Distinct().ToList() is [{ } day] ? day : null,
        Notes = Counted,
    };

    private ReceiptPiece Piece(AlikeVisits line, IReadOnlyDictionary<long, int> complaintTags)
    {
        Visit visit = line.First;
        Charged[] charges = [.. Charges[visit.Id].Select(c => new Charged(c.Text, c.AmountMinor))];
        if (charges.Length == 0)
        {
            charges = visit.ComplaintAboutId is { } about
                ? [new("Complaint" + (complaintTags.TryGetValue(about, out int tag) ? " about " + TagNumber.Format(tag) : "") + ", nothing charged", 0)]
                : [new("Sharpening", null)];
        }

        return new(line.Tags, line.Title)
        {
            Count = line.Count,
            Charges = charges,
            Damage = visit.DamageAcknowledged ? visit.Damage : null,
            Declined = visit.Declined,
            Wishes = visit.Wishes,
        };
    }

    /// <summary>Tax inside the amounts, per rate as it was charged; none where nothing is taxed.</summary>
    internal static IReadOnlyList<TaxShare> Shares(IReadOnlyList<Charge> charges, IReadOnlyList<TaxRate> rates, IReadOnlyDictionary<long, long?> lineRates)
    {
        if (charges.All(c => c.TaxMilliPercent == 0))
            return [];
        return
        [
            .. charges.GroupBy(c => (Name: NameOf(c), c.TaxMilliPercent)).OrderByDescending(g => g.Key.TaxMilliPercent).ThenBy(g => g.Key.Name, StringComparer.Ordinal).Select(g =>
            {
                long gross = g.Sum(c => c.AmountMinor);
                return new TaxShare(g.Key.Name, g.Key.TaxMilliPercent, gross, Takings.TaxInside(gross, g.Key.TaxMilliPercent));
            }),
        ];

        string NameOf(Charge charge) =>
            (charge.PriceLineId is { } line && lineRates.GetValueOrDefault(line) is { } rate ? rates.FirstOrDefault(r => r.Id == rate)?.Name : null)
            ?? rates.FirstOrDefault(r => r.MilliPercent == charge.TaxMilliPercent)?.Name ?? "Tax";
    }
}
