using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Sheets;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Set;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.LastTime;

/// <summary>Dialled as last time: the touch-off is measured and typed, never taken over.</summary>
public sealed class LastTimeForm : WebForm
{
    internal LastTimeForm(UnitsView units, double? expectedMm)
    {
        Measured = Add(new LengthField("measured", "Touch-off, measured", units)
        {
            Required = expectedMm is not null, MinMm = 1, MaxMm = 1500, Hint = expectedMm is { } mm ? $"Expected {units.Length(mm, 1)}. Clamp and dial as above, measure, type what it is." : null,
        });
        Diameters = Add(new TextField("diameters", "Wheels measured") { MaxLength = 400 });
    }

    /// <summary>The touch-off.</summary>
    public LengthField Measured { get; }

    /// <summary>Diameter entries that the page showed; hidden.</summary>
    public TextField Diameters { get; }
}

/// <summary>A returning piece, as last time.</summary>
/// <param name="At">The visit at work.</param>
/// <param name="Made">Last time's, for today.</param>
/// <param name="Why">Why there is none.</param>
/// <param name="Sheet">What to dial, laid out.</param>
/// <param name="Changes">What is dialled differently from last time.</param>
/// <param name="Form">The form.</param>
public sealed record LastTimeScreen(AtWork At, LastTimeOnBench? Made, IReadOnlyList<string> Why, BenchSheet? Sheet, IReadOnlyList<SettingChange> Changes, LastTimeForm Form) : BenchScreen(At.Visit, BenchStep.Set)
{
    /// <summary>The distance to touch off.</summary>
    public Core.Fixtures.TouchOff? TouchOff => Made?.Now.Plan.Clamps is [var clamp, ..] ? clamp.TouchOff : null;

    /// <summary>It can be dialled.</summary>
    public bool CanBeDialled => Made is { Now.Plan: { Refused: false, Clamps.Count: > 0 } };
}

/// <summary>"As last time": edge, rig and clamp taken over, numbers for today's wheels, the touch-off not skipped.</summary>
internal static class LastTimeStep
{
    public static Task<IResult> ShowAsync(string tag, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at => Of(await NewAsync(at, desk, units, preferences, null, cancel)), cancel);

    public static Task<IResult> SaveAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            LastTimeScreen screen = await NewAsync(at, desk, units, preferences, null, cancel);
            LastTimeForm form = screen.Form;
            string diameters = form.Diameters.Typed;
            bool read = await form.ReadAsync(http);
            if (screen is not { CanBeDialled: true, Made: { } made })
                form.Refuse("it cannot be set as last time; the reasons are below");
            else if (form.Diameters.Typed != diameters)
                form.Refuse("a wheel was measured or dressed since this page was shown: the numbers below are new; dial those");
            else if (read)
                return await KeepAsync(at, screen, made, form, desk, units, cancel) ?? Of(screen);
            form.Diameters.Typed = diameters;
            return Of(screen);
        }, cancel);

    private static async Task<IResult?> KeepAsync(AtWork at, LastTimeScreen screen, LastTimeOnBench made, LastTimeForm form, SetDesk desk, UnitsView units, CancellationToken cancel)
    {
        DateTime now = desk.Desk.Now();
        long visit = at.Visit.Visit.Id;
        double tolerance = made.Aim.ToleranceDeg > 0 ? made.Aim.ToleranceDeg : SettingWish.UsualTolerance.Degrees;
        PlannedClamp clamp = made.Now.Plan.Clamps[0];
        TouchOffJudged? judged = screen.TouchOff is not null && form.Measured.Value is { } measured ? TouchOffJudged.Of(clamp, made.Now.Rig, measured.Millimetres, tolerance) : null;
        AimChosen aim = new()
        {
            VisitId = visit, HappenedAt = now, EnteredAt = now, CorrectsId = at.Visit.Aim?.Id, Source = TargetSource.LastTime, LeftDeg = made.Aim.LeftDeg, RightDeg = made.Aim.RightDeg,
            MicroDeg = made.Aim.MicroDeg, HoneDeg = made.Aim.HoneDeg, ToleranceDeg = made.Aim.ToleranceDeg, Method = made.Aim.Method,
        };
        Submitted<SettingMade> saved = await desk.Desk.WriteAsync(form, async db =>
        {
            if (await desk.Desk.Log.AddAsync(db, aim, Seen.Anything, cancel) is not SaveOutcome<AimChosen>.Saved chosen)
                return new SaveOutcome<SettingMade>.Refused("aim", null, "an edge that can be chosen would be right; choose it in Choose");
            SaveOutcome<SettingMade> outcome = await desk.Desk.Log.AddAsync(db, made.Now.ToFact(visit, chosen.Value.Id, made.RigNow, now, now), BenchDesk.SeenOf(form), cancel);
            if (outcome is not SaveOutcome<SettingMade>.Saved setting)
                return outcome;
            DialledSetting first = at.FirstOn(made.Rig, made.Now.Plan, made.Now.Rig);
            await SetStep.StandAsync(db, made.Rig, first, now, cancel);
            if (judged is null)
            {
                await desk.Desk.Log.AddAsync(db, new StepMark { VisitId = visit, Step = BenchStep.Set, State = StepState.Done, HappenedAt = now, EnteredAt = now }, Seen.Anything, cancel);
                return outcome;
            }

            long? wheel = made.Rig.Wheels.FirstOrDefault(w => !w.Retired && w.Name == SettingChange.WheelOf(first))?.Id;
            await desk.Desk.Log.AddAsync(db, TouchOffStep.Fact(at.Visit, setting.Value.Id, wheel, judged.ExpectedMm, judged.MeasuredMm, judged.Fits, now), Seen.Anything, cancel);
            return outcome;
        }, BenchDoor.Address(at.Visit, BenchStep.Set), cancel);
        return BenchDesk.Answer(saved, form, judged is null ? "Dialled as last time." : TouchOffStep.Told(judged, units), theirs => (new LastTimeForm(units, null), theirs.Id));
    }

    private static async Task<LastTimeScreen> NewAsync(AtWork at, SetDesk desk, UnitsView units, ViewPreferences preferences, LastTimeForm? form, CancellationToken cancel)
    {
        Records.Standing.LastTime last = await desk.Before.BeforeAsync(at.Visit.Visit.Id, cancel);
        (LastTimeOnBench? made, IReadOnlyList<string> why) = LastTimeOnBench.Make(last, at.Blade, at.Work.Rigs, at.Work.Diameters, at.Work.Stands, at.Work.Corrections, at.RigToday);
        SheetStyle style = SettingSheet.Style(units, preferences);
        AtWork shown = made is null ? at : at with { Visit = at.Visit with { Aims = [.. at.Visit.Aims, made.Aim] } };
        BenchSheet? sheet = made is null ? null : SettingSheet.Of(shown, made.Now.Plan, made.Now.Blade, made.Now.Rig, style, []);
        IReadOnlyList<SettingChange> changes = made is null ? [] : SettingChange.OnceOnly(SettingChange.Between(made.Then.Plan, made.Now.Plan, made.Now.Rig));
        double? expected = made?.Now.Plan.Clamps is [{ TouchOff: { } touch }, ..] ? touch.DistanceMm : null;
        form ??= new(units, expected);
        form.Diameters.Typed = SetStep.Diameters(made?.RigNow);
        form.VersionSeen = await desk.Door.VersionAsync<SettingMade>(at.Visit, cancel);
        return new(at, made, why, sheet, changes, form);
    }

    private static IResult Of(LastTimeScreen screen) => Page.Of<LastTimePage>("As last time: " + screen.Visit.Piece.Name, screen, Room.Bench, screen.Form.Status);
}
