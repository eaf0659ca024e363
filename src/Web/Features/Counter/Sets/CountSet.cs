using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Sets;

/// <summary>Counting a set: what is missing is tapped, all else is there.</summary>
public sealed class CountSetForm : WebForm
{
    internal CountSetForm(SetStanding set, IReadOnlyList<LoanStanding> loans, long ownerId, bool comesIn)
    {
        Set = set;
        In = comesIn;
        VersionSeen = Stands;
        Expected = [.. set.Pieces.Where(p => comesIn ? p.VisitId is null : p.VisitId is not null)];
        Missing = Add(new ManyField("missing", comesIn ? "Tap the slots that are missing" : "Tap the slots that do not go out",
            [.. Expected.Select(p => new Choice(p.Id.ToString(CultureInfo.InvariantCulture), p.Slot, comesIn ? null : TagNumber.Format(p.Tag!.Value)))]));
        Strangers = Add(new NumberField("strangers", "Pieces that belong to no slot") { Whole = true, Min = 0, Max = SetDesk.MostSlots, Hint = comesIn ? "Counted, not taken in: take them in by themselves." : null });
        Promised = Add(new DateField("promisedFor", "Promised for") { Hint = "Empty: the earliest day with room for all." });
        Place = Add(new TextField("place", "Where it lies") { MaxLength = 60 });
        LoanStanding[] fitting = [.. loans.Where(l => comesIn ? l.OutTo is null : l.OutTo?.OwnerId == ownerId)];
        Loan = Add(new ChoiceField("loan", comesIn ? "Loan set that goes out" : "Loan set that comes back",
            [.. fitting.Select(l => new Choice(l.Set.Id.ToString(CultureInfo.InvariantCulture), $"{l.Set.Name}, {l.OutTo?.Count ?? l.Set.Pieces} pieces"))]) { List = true });
        LoanCount = Add(new NumberField("loanCount", "How many of it") { Whole = true, Min = 0, Max = SetDesk.MostSlots, Hint = "Empty: all of it." });
    }

    /// <summary>The set.</summary>
    public SetStanding Set { get; }

    /// <summary>How the set stands: its latest count, and how many are here.</summary>
    internal string Stands => string.Create(CultureInfo.InvariantCulture, $"{Set.LastCount?.Id ?? 0}-{Set.Here}");

    /// <summary>It comes in; else it goes out.</summary>
    public bool In { get; }

    /// <summary>What can come in or go out.</summary>
    public IReadOnlyList<SetPiece> Expected { get; }

    /// <summary>What does not.</summary>
    public ManyField Missing { get; }

    /// <summary>Others.</summary>
    public NumberField Strangers { get; }

    /// <summary>The day promised.</summary>
    public DateField Promised { get; }

    /// <summary>Where it lies.</summary>
    public TextField Place { get; }

    /// <summary>The loan set.</summary>
    public ChoiceField Loan { get; }

    /// <summary>How many of it.</summary>
    public NumberField LoanCount { get; }

    /// <summary>The pieces that are there.</summary>
    public IReadOnlyList<SetPiece> There => [.. Expected.Where(p => !Missing.Values.Contains(p.Id.ToString(CultureInfo.InvariantCulture), StringComparer.Ordinal))];

    /// <summary>Slots that should be there: all of the set coming in; those counted in last going out.</summary>
    public IReadOnlyList<string> ShouldBe => [.. (In ? Set.Pieces.Where(p => p.VisitId is null) : Expected).Select(p => p.Slot)];

    /// <summary>The difference in words; null where there is none.</summary>
    public string? Difference => SetDesk.DifferenceOf([.. There.Select(p => p.Slot)], ShouldBe, (int)(Strangers.Value ?? 0));

    /// <summary>What the pieces that are there will cost.</summary>
    public long TotalMinor { get; internal set; }

    /// <summary>The day there is room for them.</summary>
    public DateOnly? Promise { get; internal set; }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (There.Count == 0)
            Missing.Refuse($"says that none {(In ? "came" : "goes")}; at least one slot that is there would be right");
        if (LoanCount.Value is not null && Loan.Value is null)
            Loan.Refuse("is not chosen, yet there is a count for it; choose the loan set");
    }
}

/// <summary>What a count shows.</summary>
/// <param name="OwnerId">Whose.</param>
/// <param name="OwnerName">Whose.</param>
/// <param name="Form">The count.</param>
public sealed record CountSetModel(long OwnerId, string OwnerName, CountSetForm Form);

/// <summary>Counts a set in, with one receipt, or out, with one hand-back.</summary>
internal sealed class CountSet(
    IDbContextFactory<BookContext> books, SetQuery sets, SetDesk desk, IntakeDesk intakes, HandBackDesk handBacks, BookWriter writer, BookClock clock, LoadQuery load, ShopView shop)
{
    public static Task<IResult> ShowInAsync(long ownerId, long setId, CountSet count, CancellationToken cancel) => count.ShowAsync(ownerId, setId, true, null, cancel);

    public static Task<IResult> ShowOutAsync(long ownerId, long setId, CountSet count, CancellationToken cancel) => count.ShowAsync(ownerId, setId, false, null, cancel);

    public static Task<IResult> SaveInAsync(long ownerId, long setId, HttpContext http, CountSet count, CancellationToken cancel) => count.ShowAsync(ownerId, setId, true, http, cancel);

    public static Task<IResult> SaveOutAsync(long ownerId, long setId, HttpContext http, CountSet count, CancellationToken cancel) => count.ShowAsync(ownerId, setId, false, http, cancel);

    private async Task<IResult> ShowAsync(long ownerId, long setId, bool comesIn, HttpContext? sent, CancellationToken cancel)
    {
        if (await sets.OneAsync(setId, cancel) is not { } set || set.Set.OwnerId != ownerId)
            return Page.NotFound("There is no such set in the book; look among the owner's sets.");
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        string owner = await db.Owners.Where(o => o.Id == ownerId).Select(o => o.Name).SingleAsync(cancel);
        CountSetForm form = new(set, await sets.LoansAsync(cancel), ownerId, comesIn);
        bool right = sent is not null && await form.ReadAsync(sent);
        if (right && form.VersionSeen != form.Stands)
            return await MeetAsync(owner, form, await sent!.Request.ReadFormAsync(cancel), cancel);
        List<PriceLine> prices = await db.Prices.AsNoTracking().Where(p => !p.Retired && (p.OwnerId == null || p.OwnerId == ownerId)).ToListAsync(cancel);
        List<TaxRate> rates = await db.TaxRates.AsNoTracking().ToListAsync(cancel);
        DateOnly today = clock.Today(shop.TimeZone);
        List<PieceIntake> taken = comesIn ? [.. form.There.Select(p => Taken(p, form, prices, rates, ownerId, today))] : [];
        form.TotalMinor = taken.Sum(t => t.Charges.Sum(c => c.AmountMinor));
        form.Promise = comesIn ? form.Promised.Value ?? await load.PromiseAsync(taken.Sum(t => t.Charges.Sum(c => c.Minutes)), today, cancel) : null;
        if (right)
        {
            Submitted<string> saved = await writer.SubmitAsync(form.Once, book => WriteAsync(book, ownerId, form, taken, cancel), a => a, cancel);
            if (saved is Submitted<string>.Done done)
                return Page.SeeOther(done.LedTo, $"{set.Set.Name}: {form.There.Count} counted {(comesIn ? "in" : "out")}{(form.Difference is { } words ? "; " + words : ", nothing missing")}.");
            if (saved is Submitted<string>.Conflict)
                return await MeetAsync(owner, form, await sent!.Request.ReadFormAsync(cancel), cancel);
            if (saved is Submitted<string>.Refused refused)
                form.Refuse(refused.Problems.Select(p => p with { Field = Named(p.Field) }));
        }

        return Page.Of<CountSetPage>($"Count {(comesIn ? "in" : "out")}: {set.Set.Name}", new CountSetModel(ownerId, owner, form), Room.Counter, form.Status);
    }

    /// <summary>Somebody counted the same set meanwhile: what is there now, beside what was about to be counted.</summary>
    private async Task<IResult> MeetAsync(string owner, CountSetForm mine, IFormCollection sent, CancellationToken cancel)
    {
        SetStanding set = (await sets.OneAsync(mine.Set.Set.Id, cancel))!;
        CountSetForm now = new(set, await sets.LoansAsync(cancel), set.Set.OwnerId, mine.In);
        now.Read(sent);
        string[] tapped = [.. sent[mine.Missing.Name].OfType<string>()];
        string left = SetDesk.SlotsInWords(now.Expected.Select(p => p.Slot));
        string without = SetDesk.SlotsInWords(set.Pieces.Where(p => tapped.Contains(p.Id.ToString(CultureInfo.InvariantCulture), StringComparer.Ordinal)).Select(p => p.Slot));
        now.Meet([new(mine.In ? "Slots that can still come in" : "Slots that can still go out", left, without.Length == 0 ? "all that were shown" : $"all that were shown but {without}")], now.Stands, "On another device");
        return Page.Of<CountSetPage>($"Count {(mine.In ? "in" : "out")}: {set.Set.Name}", new CountSetModel(set.Set.OwnerId, owner, now), Room.Counter, now.Status);
    }

    private async Task<SaveOutcome<string>> WriteAsync(BookContext db, long ownerId, CountSetForm form, List<PieceIntake> taken, CancellationToken cancel)
    {
        string address;
        DateTime moment;
        if (form.In)
        {
            IntakeForm intake = new() { OwnerId = ownerId, Pieces = [.. taken.Select(t => t with { PromisedFor = form.Promise })] };
            SaveOutcome<IntakeDone> done = await intakes.TakeInAsync(db, intake, cancel);
            if (done is not SaveOutcome<IntakeDone>.Saved { Value: var receipt })
                return done.As(_ => "");
            address = string.Create(CultureInfo.InvariantCulture, $"/counter/receipts/{receipt.IntakeId}");
            moment = await db.Intakes.Where(i => i.Id == receipt.IntakeId).Select(i => i.EnteredAt).SingleAsync(cancel);
        }
        else
        {
            SaveOutcome<IReadOnlyList<HandBack>> done = await handBacks.HandBackAsync(db, new() { VisitIds = [.. form.There.Select(p => p.VisitId!.Value)] }, cancel);
            if (done is not SaveOutcome<IReadOnlyList<HandBack>>.Saved { Value: var facts })
                return done.As(_ => "");
            address = string.Create(CultureInfo.InvariantCulture, $"/counter/back/{ownerId}/done/{facts[0].Id}");
            moment = facts[0].EnteredAt;
        }

        SaveOutcome<SetCount> counted = await desk.CountAsync(
            db, new(form.Set.Set.Id, form.In, [.. form.There.Select(p => p.Slot)], form.ShouldBe, (int)(form.Strangers.Value ?? 0), moment), cancel);
        if (counted is not SaveOutcome<SetCount>.Saved)
            return counted.As(_ => "");
        if (long.TryParse(form.Loan.Value, NumberStyles.None, CultureInfo.InvariantCulture, out long loan))
        {
            int all = await db.Loans.AsNoTracking().Standing().Where(l => l.LoanSetId == loan && l.Out && !form.In).OrderByDescending(l => l.Id).Select(l => (int?)l.Count).FirstOrDefaultAsync(cancel)
                ?? await db.LoanSets.Where(l => l.Id == loan).Select(l => l.Pieces).FirstOrDefaultAsync(cancel);
            SaveOutcome<Loan> lent = await desk.LendAsync(db, loan, ownerId, form.In, (int?)form.LoanCount.Value ?? all, moment, cancel);
            if (lent is not SaveOutcome<Loan>.Saved)
                return lent.As(_ => "");
        }

        return new SaveOutcome<string>.Saved(address);
    }

    private static PieceIntake Taken(SetPiece piece, CountSetForm form, List<PriceLine> prices, List<TaxRate> rates, long ownerId, DateOnly today)
    {
        PriceLine? line = PriceList.Choose(prices, piece.Kind, piece.LengthMm, ownerId);
        return new()
        {
            PieceId = piece.Id,
            Place = form.Place.Value,
            Charges = line is null ? [] :
            [
                new() { Text = line.Name, AmountMinor = line.AmountMinor, TaxMilliPercent = PriceList.TaxOn(today, line.TaxRateId, rates), PriceLineId = line.Id, Minutes = line.Minutes },
            ],
        };
    }

    private static string Named(string field) => field switch { "LoanSetId" => "loan", "Count" => "loanCount", _ => field };
}
