using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Choose;

/// <summary>What is wrong with the outline.</summary>
public sealed class RepairForm : WebForm
{
    internal RepairForm(UnitsView units)
    {
        Repair = Add(new ChoiceField("repair", "What is wrong",
        [
            new("broken-tip-from-spine", "Broken tip: bring the spine down"),
            new("broken-tip-from-edge", "Broken tip: sweep the edge up"),
            new("full-bolster", "Full bolster stands proud"),
            new("over-ground-heel", "Heel over-ground"),
            new("board-gap", "Gap to the board"),
            new("chip-run-out", "Chip to run out"),
        ]) { Required = true, List = true });
        BrokenOff = Add(new LengthField("brokenOff", "Broken off the tip", units) { MinMm = 0, MaxMm = 500, Hint = "Since the outline was taken; 0 where the photo shows it broken." });
        At = Add(new LengthField("at", "Begin at, from the heel", units) { MinMm = 0, MaxMm = 2000, Hint = "Where the new curve starts, the bolster ends, or the straight run meets the old edge." });
        ChipAt = Add(new LengthField("chipAt", "The chip, from the heel", units) { MinMm = 0, MaxMm = 2000 });
        ChipDepth = Add(new LengthField("chipDepth", "Its depth", units) { MinMm = 0.01, MaxMm = 50 });
        Clearance = Add(new LengthField("clearance", "The bolster ends under the edge line by", units) { MinMm = 0, MaxMm = 10 });
        Thickness = Add(new LengthField("thickness", "The bolster's thickness", units) { MinMm = 0.5, MaxMm = 50 });
        Removal = Add(new NumberField("removal", "My tool takes off") { Unit = "mm³ a minute", Min = 0.1, Max = 20000, Hint = "Empty: 20 to 300, a labelled guess." });
        Clearance.Fill(Length.FromMillimetres(1));
    }

    /// <summary>What.</summary>
    public ChoiceField Repair { get; }

    /// <summary>Broken off.</summary>
    public LengthField BrokenOff { get; }

    /// <summary>Where it begins.</summary>
    public LengthField At { get; }

    /// <summary>Where the chip is.</summary>
    public LengthField ChipAt { get; }

    /// <summary>How deep it is.</summary>
    public LengthField ChipDepth { get; }

    /// <summary>Bolster under the edge line.</summary>
    public LengthField Clearance { get; }

    /// <summary>Bolster's thickness.</summary>
    public LengthField Thickness { get; }

    /// <summary>Removal.</summary>
    public NumberField Removal { get; }

    internal RepairWish? Wish => Repair.Value is not { } repair ? null : new(repair)
    {
        BrokenOffMm = BrokenOff.Value?.Millimetres,
        AtMm = At.Value?.Millimetres,
        ChipAtMm = ChipAt.Value?.Millimetres,
        ChipDepthMm = ChipDepth.Value?.Millimetres,
        BolsterClearanceMm = Clearance.Value?.Millimetres,
        BolsterThicknessMm = Thickness.Value?.Millimetres,
        RemovalMm3PerMinute = Removal.Value,
    };
}

/// <summary>The screen of <see cref="RepairForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Form">The form.</param>
/// <param name="Made">The repair; null where there is none.</param>
/// <param name="Why">Why there is none.</param>
/// <param name="HeightMm">Height at the heel, for the drawing.</param>
public sealed record RepairScreen(BenchVisit Visit, RepairForm Form, RepairOnBench? Made, IReadOnlyList<Reason> Why, double HeightMm) : BenchScreen(Visit, BenchStep.Choose);

/// <summary>Profile repair: worked out, and kept with the edge chosen.</summary>
internal static class Repair
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            RepairForm form = new(units) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<AimChosen>(visit.Visit.Id, cancel)) };
            if (visit.ChipMm is { } chip)
                form.ChipDepth.Fill(Length.FromMillimetres(chip));
            return Of(visit, form);
        }, cancel);

    public static Task<IResult> SaveAsync(string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            RepairForm form = new(units);
            if (!await form.ReadAsync(http))
                return Of(visit, form);
            (RepairOnBench? made, IReadOnlyList<Reason> why) = Work(visit, form);
            foreach (Reason reason in why)
                form.Refuse(reason.Text);
            if (made is null)
                return Of(visit, form);
            if (visit.Aim is not { } aim)
            {
                form.Refuse("no edge is chosen yet, and the repair is kept with it; choose the edge first, then come back");
                return Of(visit, form);
            }

            DateTime now = desk.Now();
            AimChosen fact = new()
            {
                VisitId = visit.Visit.Id,
                HappenedAt = now,
                EnteredAt = now,
                CorrectsId = aim.Id,
                Source = aim.Source,
                LeftDeg = aim.LeftDeg,
                RightDeg = aim.RightDeg,
                MicroDeg = aim.MicroDeg,
                HoneDeg = aim.HoneDeg,
                ToleranceDeg = aim.ToleranceDeg,
                SectionJson = aim.SectionJson,
                Method = aim.Method,
                ReshapeJson = made.Json,
            };
            Submitted<AimChosen> saved = await desk.AddAsync(form, fact, BenchDoor.Address(visit, BenchStep.Choose), cancel: cancel);
            return BenchDesk.Answer(saved, form, "The repair goes with this edge.") ?? Of(visit, form);
        }, cancel);

    private static (RepairOnBench? Made, IReadOnlyList<Reason> Why) Work(BenchVisit visit, RepairForm form)
    {
        if (form.Wish is not { } wish)
            return (null, []);
        return BladeOnBench.Compose(visit.Piece, visit.Outlines, visit.Sections) switch
        {
            Composed<Blade>.Ready ready => RepairOnBench.Make(ready.Value, wish),
            Composed<Blade>.NotYet missing => (null, [.. missing.Missing.Select(m => new Reason("blade", m))]),
            _ => throw new InvalidOperationException("Not a member of the closed set."),
        };
    }

    private static IResult Of(BenchVisit visit, RepairForm form)
    {
        (RepairOnBench? made, IReadOnlyList<Reason> why) = Work(visit, form);
        double height = BladeOnBench.Compose(visit.Piece, visit.Outlines, visit.Sections) is Composed<Blade>.Ready { Value.Height: { } h } ? h.Millimetres : 40;
        RepairScreen screen = new(visit, form, made, why, height);
        return Page.Of<RepairPage>(screen.Title, screen, Room.Bench, form.Status);
    }
}
