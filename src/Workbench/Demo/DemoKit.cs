using Whetwright.Core.Abrasives;
using Whetwright.Core.Blades;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;

namespace Whetwright.Workbench.Demo;

/// <summary>The invented shop's kit as it is kept, with what the shop does not know: true diameters and each rig's own error.</summary>
internal sealed class DemoKit
{
    public long BarRig { get; private set; }

    public long RodRig { get; private set; }

    public long StoneRig { get; private set; }

    /// <summary>The shop's clock.</summary>
    public TimeZoneInfo Zone { get; private set; } = TimeZoneInfo.Utc;

    public long InstrumentId { get; private set; }

    public string InstrumentJson { get; private set; } = "";

    public List<HouseRule> Rules { get; } = [];

    public List<PriceLine> Prices { get; } = [];

    public long Strop { get; private set; }

    /// <summary>True diameters by wheel, mm.</summary>
    public Dictionary<long, double> TrueMm { get; } = [];

    /// <summary>Abrasives by rig, with the wheel that carries them.</summary>
    public Dictionary<long, List<(AbrasiveKept Abrasive, long? Wheel)>> OnRig { get; } = [];

    /// <summary>When somebody knocked the rod's pivot, UTC: nobody wrote it down.</summary>
    public DateTime RodKnocked { get; init; } = DateTime.MaxValue;

    /// <summary>How far each rig grinds off what it is set to, degrees: what the checks will tell.</summary>
    public double TrueErrorDeg(long rig, DateTime at) => rig == BarRig ? 0.32 : rig != RodRig ? 0.05 : at < RodKnocked ? -0.18 : 0.75;

    public static async Task<DemoKit> SetUpAsync(BookWriter writer, KitDesk desk, DateTime at, DateTime rodKnocked)
    {
        DemoKit kit = new() { RodKnocked = rodKnocked };
        await writer.WriteAsync(async db =>
        {
            ShopCard card = await db.Shop.FindAsync([1L]) ?? throw new InvalidOperationException("The book has no card.");
            kit.Zone = card.Zone();
            return await db.EditAsync<ShopCard>(1, card.Version, c =>
            {
                (c.Name, c.Address, c.Conditions, c.Invented) = (DemoWords.ShopName, DemoWords.ShopAddress, DemoWords.Conditions, true);
                (c.MinutesPerDay, c.UncollectedAfterDays) = (240, 90);
            });
        });
        await writer.WriteAsync(db => kit.WriteAsync(db, desk, at));
        return kit;
    }

    private async Task<SaveOutcome<AbrasiveKept>> WriteAsync(BookContext db, KitDesk desk, DateTime at)
    {
        AbrasiveKept coarse = await AbrasiveAsync(db, desk, "coarse wheel", AbrasiveForm.Wheel, "fepa-f", "220", 0.0045, 1);
        AbrasiveKept fine = await AbrasiveAsync(db, desk, "fine wheel", AbrasiveForm.Wheel, "jis", "1000", 0.0016, 2);
        AbrasiveKept stone400 = await AbrasiveAsync(db, desk, "stone 400", AbrasiveForm.Stone, "jis", "400", 0.0030, 3);
        AbrasiveKept stone1000 = await AbrasiveAsync(db, desk, "stone 1000", AbrasiveForm.Stone, "jis", "1000", 0.0012, 4);
        AbrasiveKept stone3000 = await AbrasiveAsync(db, desk, "stone 3000", AbrasiveForm.Stone, "jis", "3000", 0.0005, 5);
        AbrasiveKept strop = await AbrasiveAsync(db, desk, "leather with paste", AbrasiveForm.HoningWheel, "um", "2", 0.0001, 6);
        Strop = strop.Id;

        BarRig = Saved(await desk.AddRigAsync(db, new("Bench 1, wheels", """
            { "kind": "wheel-and-bar", "barDiameterMm": 12, "seat": "through", "offsetMm": 0, "grip": "self-centring", "jawToPivotMm": 48, "jawDepthMm": 14,
              "barSlide": { "acrossMm": 52, "directionDeg": 90, "pitchMm": 1.5 }, "pivotXMm": [10, 260], "pivotDistanceMm": [66, 84], "distanceUMm": 0.2 }
            """))).Id;
        RodRig = Saved(await desk.AddRigAsync(db, new("Rod", """
            { "kind": "guided-rod", "faceOffsetMm": 6, "pivotHeightMm": [18, 130], "pivotXMm": [0, 200], "pivotDistanceMm": [128, 142], "jawToPivotMm": 118, "jawHalfThicknessMm": 2.5 }
            """))).Id;
        StoneRig = Saved(await desk.AddRigAsync(db, new("Bench stone", """{ "kind": "bench-stone", "support": "mid-plane", "coinsMm": [1.0, 1.5, 2.0, 2.5] }"""))).Id;
        long coarseWheel = await WheelAsync(db, desk, new() { RigId = BarRig, Name = "coarse", AbrasiveId = coarse.Id, Rpm = 90, MarkedLimitMs = 3, MinimumDiameterMm = 180 }, 250.3, at);
        long fineWheel = await WheelAsync(db, desk, new() { RigId = BarRig, Name = "fine", AbrasiveId = fine.Id, Rpm = 90, MarkedLimitMs = 3, MinimumDiameterMm = 180 }, 248.9, at);
        await WheelAsync(db, desk, new() { RigId = BarRig, Name = "leather", AbrasiveId = strop.Id, OffsetDeg = 0.5, Rpm = 90, MarkedLimitMs = 3 }, 219.6, at);
        OnRig[BarRig] = [(coarse, coarseWheel), (fine, fineWheel)];
        OnRig[RodRig] = OnRig[StoneRig] = [(stone400, null), (stone1000, null), (stone3000, null)];

        Instrument made = InstrumentOnBench.AtDistance(null, 100.1, 0.2) with
        {
            Zero = MeasuredLength.FromMillimetres(0.2, 0.15), PrintScale = new(0.998, 0.999), PrintScaleU = 0.001, Scatter = Angle.FromDegrees(0.15), Date = DateOnly.FromDateTime(at),
        };
        InstrumentJson = InstrumentOnBench.ToJson(made);
        TargetSheet sheet = TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100)).Sheet;
        InstrumentId = Saved(await desk.CalibrateAsync(db, "Bench target", InstrumentJson, TargetFormat.Text(sheet), "spacer")).Id;

        await RuleAsync(db, desk, new() { Name = "kitchen knives", Kind = PieceKind.DoubleBevel, FromLengthMm = 120, AngleDeg = 15, ToleranceDeg = 0.5, Order = 1 });
        await RuleAsync(db, desk, new() { Name = "small knives", Kind = PieceKind.DoubleBevel, ToLengthMm = 120, AngleDeg = 17, ToleranceDeg = 0.7, Order = 2 });
        await RuleAsync(db, desk, new() { Name = "single bevels", Kind = PieceKind.SingleBevel, AngleDeg = 25, ToleranceDeg = 1, Order = 3 });
        await RuleAsync(db, desk, new() { Name = "chisels", Kind = PieceKind.Chisel, AngleDeg = 28, ToleranceDeg = 1, Order = 4 });
        await RuleAsync(db, desk, new() { Name = "plane irons", Kind = PieceKind.PlaneIron, AngleDeg = 28, ToleranceDeg = 1, Order = 5 });
        await RuleAsync(db, desk, new() { Name = "scissors", Kind = PieceKind.Scissors, AngleDeg = 52, ToleranceDeg = 2, Order = 6 });
        await RuleAsync(db, desk, new() { Name = "everything else", AngleDeg = 18, ToleranceDeg = 1, Order = 7 });

        TaxRate tax = new() { Name = "Tax", MilliPercent = 19_000, From = DateOnly.FromDateTime(at) };
        db.TaxRates.Add(tax);
        await db.SaveChangesAsync();
        await PriceAsync(db, desk, new() { Name = "Knife to 12 cm", Kind = PieceKind.DoubleBevel, ToLengthMm = 120, AmountMinor = 700, Minutes = 12, Order = 1, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Knife to 20 cm", Kind = PieceKind.DoubleBevel, FromLengthMm = 120, ToLengthMm = 200, AmountMinor = 950, Minutes = 15, Order = 2, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Knife from 20 cm", Kind = PieceKind.DoubleBevel, FromLengthMm = 200, AmountMinor = 1200, Minutes = 18, Order = 3, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Single bevel", Kind = PieceKind.SingleBevel, AmountMinor = 2200, Minutes = 35, Order = 4, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Scissors", Kind = PieceKind.Scissors, AmountMinor = 1100, Minutes = 15, Order = 5, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Chisel or plane iron", AmountMinor = 900, Minutes = 15, Order = 6, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Chip", Extra = true, AmountMinor = 400, Minutes = 8, Order = 7, TaxRateId = tax.Id });
        await PriceAsync(db, desk, new() { Name = "Thinning", Extra = true, AmountMinor = 1500, Minutes = 30, Order = 8, TaxRateId = tax.Id });
        Saved(await desk.AddLoanSetAsync(db, "Loan roll 1", 8));
        return new SaveOutcome<AbrasiveKept>.Saved(strop);
    }

    private static async Task<AbrasiveKept> AbrasiveAsync(BookContext db, KitDesk desk, string name, AbrasiveForm form, string system, string grade, double area, int order) =>
        Saved(await desk.AddAbrasiveAsync(db, new()
        {
            Name = name, Form = form, System = system, Grade = grade, D50Um = Grades.Find(Grades.SystemFromKey(system)!.Value, grade)!.D50Um, AreaPerPassMm2 = area, ChangeMinutes = 2, Order = order,
        }));

    private async Task<long> WheelAsync(BookContext db, KitDesk desk, WheelTyped typed, double mm, DateTime at)
    {
        WheelKept wheel = Saved(await desk.AddWheelAsync(db, typed, new() { DiameterMm = mm, UMm = 0.2, Cause = DiameterCause.New, HappenedAt = at }));
        TrueMm[wheel.Id] = mm + 0.1;
        return wheel.Id;
    }

    private async Task RuleAsync(BookContext db, KitDesk desk, RuleTyped typed) => Rules.Add(Saved(await desk.AddRuleAsync(db, typed)));

    private async Task PriceAsync(BookContext db, KitDesk desk, PriceTyped typed) => Prices.Add(Saved(await desk.AddPriceAsync(db, typed)));

    internal static T Saved<T>(SaveOutcome<T> outcome) => outcome switch
    {
        SaveOutcome<T>.Saved saved => saved.Value,
        SaveOutcome<T>.Refused refused => throw new InvalidOperationException("The book refused invented data: " + string.Join("; ", refused.Problems)),
        _ => throw new InvalidOperationException("Somebody else writes into a book that is being made."),
    };
}
