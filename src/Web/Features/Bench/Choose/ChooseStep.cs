using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Choose;

/// <summary>An edge of one's own.</summary>
public sealed class OwnForm : WebForm
{
    internal OwnForm(UnitsView units, double toleranceDeg, bool fromBack)
    {
        FromBack = fromBack;
        Both = Add(new AngleField("both", fromBack ? "Angle from the back" : "Angle, both sides", units) { MinDeg = 1, MaxDeg = 60, Hint = fromBack ? "The back stays as it is." : "Per side, from the mid-plane." });
        Left = Add(new AngleField("left", "Left, where the sides differ", units) { MinDeg = 1, MaxDeg = 60 });
        Right = Add(new AngleField("right", "Right", units) { MinDeg = 1, MaxDeg = 60 });
        Tolerance = Add(new AngleField("tolerance", "Tolerance", units) { MinDeg = 0.05, MaxDeg = 5, Required = true });
        Micro = Add(new AngleField("micro", "Micro-bevel", units) { MinDeg = 1, MaxDeg = 60, Hint = "Per side; empty for none." });
        MicroWidth = Add(new LengthField("microWidth", "Its width", units) { MinMm = 0.005, MaxMm = 3 });
        Hone = Add(new AngleField("hone", "At the strop or hone", units) { MinDeg = 1, MaxDeg = 60, Hint = "Empty: as the bevel." });
        Until = Add(new ChoiceField("until", "Where it is steeper than found, grind until", [new("apex", "a clean apex"), new("full", "no old facet is left")]) { Required = true, Hint = "A steeper facet begins at the apex: how far it goes is for you to say." });
        Tolerance.Fill(Angle.FromDegrees(toleranceDeg));
        Until.Fill("apex");
    }

    /// <summary>The angle is from the back.</summary>
    public bool FromBack { get; }

    /// <summary>Both sides, or from the back.</summary>
    public AngleField Both { get; }

    /// <summary>Left.</summary>
    public AngleField Left { get; }

    /// <summary>Right.</summary>
    public AngleField Right { get; }

    /// <summary>Tolerance.</summary>
    public AngleField Tolerance { get; }

    /// <summary>Micro-bevel.</summary>
    public AngleField Micro { get; }

    /// <summary>Width of the micro-bevel.</summary>
    public LengthField MicroWidth { get; }

    /// <summary>At the strop or hone.</summary>
    public AngleField Hone { get; }

    /// <summary>What a steeper facet is ground for.</summary>
    public ChoiceField Until { get; }

    internal SidePair? Wanted(string? hand)
    {
        if (FromBack)
            return Both.Value is { } back ? FoundAngles.OnGroundSide(hand, back.Degrees) : null;
        double? left = Left.Value?.Degrees ?? Both.Value?.Degrees, right = Right.Value?.Degrees ?? Both.Value?.Degrees;
        return left is { } l && right is { } r ? new(l, r) : null;
    }

    internal GrindUntil? Grind => Until.Value == "full" ? GrindUntil.Full : null;

    internal OwnForm From(AimChosen aim)
    {
        if (FromBack || aim.LeftDeg == aim.RightDeg)
        {
            Both.Fill(Angle.FromDegrees(Math.Max(aim.LeftDeg, aim.RightDeg)));
        }
        else
        {
            Left.Fill(Angle.FromDegrees(aim.LeftDeg));
            Right.Fill(Angle.FromDegrees(aim.RightDeg));
        }

        if (aim.ToleranceDeg > 0)
            Tolerance.Fill(Angle.FromDegrees(aim.ToleranceDeg));
        Micro.Fill(aim.MicroDeg is { } micro ? Angle.FromDegrees(micro) : null);
        Hone.Fill(aim.HoneDeg is { } hone ? Angle.FromDegrees(hone) : null);
        return this;
    }

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Wanted(null) is not { } wanted)
        {
            Both.Refuse(FromBack ? "is empty; an angle from the back such as 25 would be right" : "is empty; one angle for both sides, or one for each, would be right");
            return;
        }

        double steepest = Math.Max(wanted.LeftDeg, wanted.RightDeg);
        if (Micro.Value is { } micro && micro.Degrees <= steepest)
            Micro.Refuse($"'{Micro.Typed}' is no steeper than the bevel; more than {steepest.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture)}° would be right");
        if (MicroWidth.Value is not null && Micro.Value is null)
            Micro.Refuse("is empty, but its width is told; its angle would be right");
    }
}

/// <summary>What choosing needs of the visits before.</summary>
internal sealed record ChoiceQueries(LastTimeQuery LastTime, EdgeHistoryQuery History);

/// <summary>The step Choose.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Cards">What there is to choose, each with what it costs.</param>
/// <param name="Own">The form for an edge of one's own.</param>
/// <param name="OwnCost">What that costs; null while its angle is not typed.</param>
/// <param name="Blade">The blade; why not where it is not known.</param>
/// <param name="Found">The angles found; null where not known.</param>
/// <param name="Version">The latest aim seen.</param>
public sealed record ChooseScreen(
    BenchVisit Visit, IReadOnlyList<Candidate> Cards, OwnForm Own, Candidate? OwnCost, Composed<Blade> Blade, SidePair? Found, string Version) : BenchScreen(Visit, BenchStep.Choose)
{
    /// <summary>Edges of the piece before.</summary>
    public IReadOnlyList<EdgeBefore> History { get; init; } = [];

    /// <summary>The form for the piece's steel.</summary>
    public required SteelForm Steel { get; init; }

    /// <summary>What history and cost say of a card.</summary>
    public IReadOnlyList<Reason> Advice(Candidate card) => AdvisedCandidates.Reasons(card, Found, History);
}

/// <summary>Chooses the edge.</summary>
internal static class ChooseStep
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, ChoiceQueries before, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            Choices c = await Choices.OfAsync(visit, visits, before, cancel);
            OwnForm form = c.NewOwn(units);
            if (visit.Aim is { Source: TargetSource.Own } aim)
                form.From(aim);
            return await OfAsync(c, form, visits, units, cancel);
        }, cancel);

    /// <summary>Takes one of the cards.</summary>
    public static Task<IResult> TakeAsync(string tag, HttpContext http, BenchVisitQuery visits, ChoiceQueries before, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            Choices c = await Choices.OfAsync(visit, visits, before, cancel);
            BareForm form = new();
            await form.ReadAsync(http);
            string source = (await http.Request.ReadFormAsync(cancel))["source"].ToString();
            OwnForm own = c.NewOwn(units);
            if (c.Cards.FirstOrDefault(card => card.Source.ToString() == source) is not { } chosen)
            {
                own.Refuse($"'{source}' is not among the edges to choose from any more; choose one of those shown");
                return await OfAsync(c, own, visits, units, cancel);
            }

            // Last time's strop goes with last time's edge.
            AimChosen fact = c.Fact(chosen, chosen.Source == TargetSource.LastTime ? c.Last?.HoneDeg : null, desk.Now());
            Submitted<AimChosen> saved = await desk.AddAsync(form, fact, BenchDoor.Address(visit), cancel: cancel);
            own.From(fact);
            return BenchDesk.Answer(saved, own, $"Chosen: {chosen.Name}.", theirs => (c.NewOwn(units).From(theirs), theirs.Id)) ?? await OfAsync(c, own, visits, units, cancel);
        }, cancel);

    /// <summary>An edge of one's own: shown with what it costs while one types, saved when asked.</summary>
    public static Task<IResult> OwnAsync(string tag, HttpContext http, BenchVisitQuery visits, ChoiceQueries before, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            Choices c = await Choices.OfAsync(visit, visits, before, cancel);
            OwnForm form = c.NewOwn(units);
            if (!await form.ReadAsync(http) || c.Own(form) is not { } chosen)
                return await OfAsync(c, form, visits, units, cancel);
            Submitted<AimChosen> saved = await desk.AddAsync(form, c.Fact(chosen, form.Hone.Value?.Degrees, desk.Now()), BenchDoor.Address(visit), cancel: cancel);
            return BenchDesk.Answer(saved, form, "Chosen.", theirs => (c.NewOwn(units).From(theirs), theirs.Id)) ?? await OfAsync(c, form, visits, units, cancel);
        }, cancel);

    /// <summary>The page again, with the steel as typed.</summary>
    internal static async Task<IResult> WithSteelAsync(BenchVisit visit, SteelForm steel, BenchVisitQuery visits, ChoiceQueries before, UnitsView units, CancellationToken cancel)
    {
        Choices c = await Choices.OfAsync(visit, visits, before, cancel);
        OwnForm form = c.NewOwn(units);
        if (visit.Aim is { Source: TargetSource.Own } aim)
            form.From(aim);
        return await OfAsync(c, form, visits, units, cancel, steel);
    }

    private static async Task<IResult> OfAsync(Choices c, OwnForm form, BenchVisitQuery visits, UnitsView units, CancellationToken cancel, SteelForm? steel = null)
    {
        string version = form.Conflict is not null || form.VersionSeen.Length > 0 ? form.VersionSeen : BenchDesk.Version(await visits.LatestAsync<AimChosen>(c.Visit.Visit.Id, cancel));
        form.VersionSeen = version;
        ChooseScreen screen = new(c.Visit, c.Cards, form, c.Own(form), c.Blade, c.Found, version) { History = c.History, Steel = steel ?? await SteelStep.NewAsync(c.Visit, visits, units, cancel) };
        return Page.Of<ChoosePage>(screen.Title, screen, Room.Bench, (steel ?? (WebForm)form).Status);
    }
}

/// <summary>What there is to choose at a visit.</summary>
internal sealed record Choices(BenchVisit Visit, Composed<Blade> Blade, SidePair? Found, AimChosen? Last, IReadOnlyList<Candidate> Cards, double ToleranceDeg)
{
    public IReadOnlyList<EdgeBefore> History { get; private init; } = [];

    private bool FromBack => Visit.Piece.Kind.Reference() == AngleReference.Back;

    public OwnForm NewOwn(UnitsView units) => new(units, ToleranceDeg, FromBack);

    public static async Task<Choices> OfAsync(BenchVisit visit, BenchVisitQuery visits, ChoiceQueries before, CancellationToken cancel)
    {
        BenchKit kit = await visits.KitAsync(cancel);
        AimChosen? last = (await before.LastTime.BeforeAsync(visit.Visit.Id, cancel)).Aim;
        SidePair? found = FoundAngles.Of(visit.Piece.Kind.Reference(), visit.Piece.Hand, visit.ReadingFor(ReadingPurpose.Found));
        Composed<Blade> blade = BladeOnBench.Compose(visit.Piece, visit.Outlines, visit.Sections);
        double tolerance = kit.Shop.ToleranceDeg;
        IReadOnlyList<Candidate> cards = blade is Composed<Blade>.Ready ready
            ? AdvisedCandidates.For(ready.Value, found, last, kit.Rules, visit.Piece, visit.ChipMm ?? 0, tolerance, SteelOnBench.Of(visit.Steel))
            : WithoutBlade(visit, found, last, Candidates.Rule(kit.Rules, visit.Piece), tolerance);
        return new(visit, blade, found, last, cards, tolerance) { History = await before.History.BeforeAsync(visit.Piece.Id, visit.Visit.Id, cancel) };
    }

    /// <summary>An own edge with what it costs; null while its angle is not typed.</summary>
    public Candidate? Own(OwnForm form)
    {
        if (form.Wanted(Visit.Piece.Hand) is not { } wanted)
            return null;
        double tolerance = form.Tolerance.Value?.Degrees ?? ToleranceDeg;
        double? micro = form.Micro.Value?.Degrees;
        return Blade is Composed<Blade>.Ready ready
            ? Candidates.Weigh(ready.Value, Found, wanted, TargetSource.Own, "my own", tolerance, micro, Visit.ChipMm ?? 0, form.Grind, form.MicroWidth.Value?.Millimetres) with { Steel = SteelOnBench.Of(Visit.Steel) }
            : new(TargetSource.Own, "my own", wanted, tolerance, micro, null, NoBlade);
    }

    public AimChosen Fact(Candidate chosen, double? honeDeg, DateTime now) => new()
    {
        VisitId = Visit.Visit.Id,
        HappenedAt = now,
        EnteredAt = now,
        CorrectsId = Visit.Aim?.Id,
        Source = chosen.Source,
        LeftDeg = chosen.Angles.LeftDeg,
        RightDeg = chosen.Angles.RightDeg,
        MicroDeg = chosen.MicroDeg,
        HoneDeg = honeDeg,
        ToleranceDeg = chosen.ToleranceDeg,
        SectionJson = chosen is { Cost: { } cost, Ratios: { } ratios } ? JsonResults.Document(json => SectionChangeResult.Write(json, cost, ratios)) : null,
        Method = chosen.Cost is null ? null : Candidates.Method,
        ReshapeJson = Visit.Aim?.ReshapeJson,
    };

    private static IReadOnlyList<Reason> NoBlade { get; } = [new("no-length", "What it costs cannot be told: the length of the edge is not known. Measure it in Read.")];

    private static List<Candidate> WithoutBlade(BenchVisit visit, SidePair? found, AimChosen? last, HouseRule? rule, double tolerance)
    {
        List<Candidate> all = [];
        if (found is not null)
            all.Add(new(TargetSource.Found, "as found", found, tolerance, null, null, NoBlade));
        if (last is not null)
            all.Add(new(TargetSource.LastTime, "as last time", new(last.LeftDeg, last.RightDeg), last.ToleranceDeg, last.MicroDeg, null, NoBlade));
        if (rule is not null)
        {
            SidePair angles = visit.Piece.Kind.Reference() == AngleReference.Back ? FoundAngles.OnGroundSide(visit.Piece.Hand, rule.AngleDeg) : new(rule.AngleDeg, rule.AngleDeg);
            all.Add(new(TargetSource.HouseRule, rule.Name, angles, rule.ToleranceDeg, rule.MicroDeg, null, NoBlade));
        }

        return all;
    }
}
