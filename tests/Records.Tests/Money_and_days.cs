using Whetwright.Core.Blades;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Tests;

public sealed class Money_and_days : BookTest
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    [Fact]
    public void An_accounts_own_price_wins_then_the_kind_then_the_length()
    {
        PriceLine all = Line("any"), kind = Line("knife", PieceKind.DoubleBevel), longOne = Line("long knife", PieceKind.DoubleBevel, from: 200), own = Line("own", owner: 7);
        PriceLine[] list = [all, kind, longOne, own, Line("chip", extra: true)];

        Assert.Same(own, PriceList.Choose(list, PieceKind.DoubleBevel, 210, 7));
        Assert.Same(longOne, PriceList.Choose(list, PieceKind.DoubleBevel, 200, 8));
        Assert.Same(kind, PriceList.Choose(list, PieceKind.DoubleBevel, 199.9, null));
        Assert.Same(kind, PriceList.Choose(list, PieceKind.DoubleBevel, null, null));
        Assert.Same(all, PriceList.Choose(list, PieceKind.Chisel, 30, null));
        Assert.Equal("chip", Assert.Single(PriceList.Extras(list, PieceKind.Chisel, null, null)).Name);
    }

    [Theory]
    [InlineData(11900, 19000, 1900)]
    [InlineData(100, 19000, 16)]
    [InlineData(-11900, 19000, -1900)]
    [InlineData(500, 0, 0)]
    public void The_tax_inside_an_amount_is_rounded_to_the_minor_unit(long amount, int rate, long tax) => Assert.Equal(tax, Takings.TaxInside(amount, rate));

    [Fact]
    public async Task Takings_follow_the_shops_own_days_and_leave_complaints_out()
    {
        Piece piece = await Piece((await Owner()).Id);
        VisitTag visit = await TakenIn(piece);
        await Charge(visit.VisitId, 1190, new DateTime(2026, 3, 31, 21, 59, 0, DateTimeKind.Utc)); // 23:59 in Berlin
        await Charge(visit.VisitId, 500, new DateTime(2026, 3, 31, 22, 0, 0, DateTimeKind.Utc)); // midnight: April
        await Saved(db => Get<Till>().TakeAsync(db, new PaymentForm { OwnerId = piece.OwnerId, AmountMinor = 700, How = "cash", HappenedAt = new DateTime(2026, 3, 5, 9, 0, 0, DateTimeKind.Utc) }));

        TakingsOf march = await Get<Takings>().MonthAsync(2026, 3, Berlin);
        Assert.Equal((1190, 190, 700, 1, 0), (march.ChargedMinor, march.TaxMinor, march.ReceivedMinor, march.Visits, march.Complaints));
        Assert.Equal(500, (await Get<Takings>().MonthAsync(2026, 4, Berlin)).ChargedMinor);
        Assert.Equal(1690, (await Get<Takings>().ByMonthAsync(2026, Berlin)).Sum(m => m.ChargedMinor));
    }

    [Fact]
    public async Task Weeks_begin_on_Monday()
    {
        IReadOnlyList<TakingsOf> weeks = await Get<Takings>().ByWeekAsync(new DateOnly(2026, 1, 1), 2, Berlin); // a Thursday, week 1 of 2026 (ISO 8601)
        Assert.Equal([new DateOnly(2025, 12, 22), new DateOnly(2025, 12, 29)], weeks.Select(w => w.From));
    }

    [Fact]
    public async Task A_corrected_payment_counts_once_with_its_new_amount()
    {
        Owner owner = await Owner();
        Payment wrong = await Saved(db => Get<Till>().TakeAsync(db, new PaymentForm { OwnerId = owner.Id, AmountMinor = 7000, How = "cash" }));
        await Saved(db => Get<Till>().TakeAsync(db, new PaymentForm { OwnerId = owner.Id, AmountMinor = 700, How = "cash", CorrectsId = wrong.Id }));
        Assert.Equal(-700, await Get<AccountQuery>().OwedAsync(owner.Id));
    }

    [Fact]
    public async Task A_statement_opens_with_what_was_owed_and_closes_with_what_is()
    {
        Piece piece = await Piece((await Owner(account: true)).Id);
        VisitTag visit = await TakenIn(piece);
        await Charge(visit.VisitId, 900, new DateTime(2026, 2, 10, 9, 0, 0, DateTimeKind.Utc));
        await Charge(visit.VisitId, 600, new DateTime(2026, 3, 10, 9, 0, 0, DateTimeKind.Utc));
        await Saved(db => Get<Till>().TakeAsync(db, new PaymentForm { OwnerId = piece.OwnerId, AmountMinor = 1000, How = "transfer", HappenedAt = new DateTime(2026, 3, 12, 9, 0, 0, DateTimeKind.Utc) }));

        Statement march = await Get<AccountQuery>().MonthAsync(piece.OwnerId, 2026, 3, Berlin);
        Assert.Equal((900, 500), (march.OpeningMinor, march.ClosingMinor));
        Assert.Equal([600L, -1000L], march.Lines.Select(l => l.AmountMinor));
    }

    [Fact]
    public async Task A_deposit_on_the_receipt_covers_the_piece_that_left_before()
    {
        Owner owner = await Owner();
        PieceIntake knife = new() { NewPiece = new PieceForm(), Charges = [new ChargeForm { Text = "knife", AmountMinor = 900 }] };
        IntakeDone done = await Saved(db => Get<IntakeDesk>().TakeInAsync(db, new IntakeForm { OwnerId = owner.Id, Pieces = [knife, knife], DepositMinor = 1000, DepositHow = "cash" }));
        Assert.Equal(800, await Get<AccountQuery>().DueAsync([.. done.Visits.Select(v => v.VisitId)]));
        await Saved(db => Get<HandBackDesk>().HandBackAsync(db, new HandBackForm { VisitIds = [done.Visits[0].VisitId] }));
        Assert.Equal(800, await Get<AccountQuery>().DueAsync([done.Visits[1].VisitId]));
    }

    [Fact]
    public void A_promise_never_breaks_one_that_was_given()
    {
        ShopCard card = new() { MinutesPerDay = 100, BenchDays = "1111100" };
        DateOnly monday = new(2026, 3, 2);
        // Mon 100 spare; Tue: 150 due by Tue leaves 50 of 200; Wed: 90 due leaves 60 of 300.
        IReadOnlyList<DayLoad> days = Load.Days(card, [new(monday.AddDays(1), 150), new(monday.AddDays(2), 90), new(null, 0)], monday, 14);

        Assert.Equal([50, 50, 60, 160, 260, 260, 260, 360], days.Take(8).Select(d => d.SpareMinutes));
        Assert.Equal(monday.AddDays(1), Load.Promise(days, 50));
        Assert.Equal(monday.AddDays(2), Load.Promise(days, 51));
        Assert.Equal(monday.AddDays(7), Load.Promise(days, 261));
        Assert.Null(Load.Promise(days, 10_000));
    }

    [Fact]
    public void What_is_late_weighs_on_today()
    {
        DateOnly monday = new(2026, 3, 2);
        IReadOnlyList<DayLoad> days = Load.Days(new ShopCard { MinutesPerDay = 100 }, [new(monday.AddDays(-3), 80)], monday, 3);
        Assert.Equal((80, 20), (days[0].DueMinutes, days[0].SpareMinutes));
    }

    [Fact]
    public void Midnight_that_the_clocks_skip_begins_the_day_at_its_first_moment()
    {
        TimeZoneInfo beirut = TimeZoneInfo.FindSystemTimeZoneById("Asia/Beirut"); // clocks go from 00:00 to 01:00 there
        Assert.Equal(new DateTime(2022, 3, 26, 22, 0, 0, DateTimeKind.Utc), ShopDays.StartOf(new DateOnly(2022, 3, 27), beirut));
    }

    private Task<Charge> Charge(long visit, long amount, DateTime at) =>
        Add(new Charge { VisitId = visit, Text = "knife", AmountMinor = amount, TaxMilliPercent = 19000, HappenedAt = at, EnteredAt = Clock.Now() });

    private static PriceLine Line(string name, PieceKind? kind = null, double? from = null, long? owner = null, bool extra = false) =>
        new() { Name = name, Kind = kind, FromLengthMm = from, OwnerId = owner, Extra = extra };
}
