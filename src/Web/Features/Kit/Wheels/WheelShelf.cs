using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Kit.Rigs;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Wheels;

/// <summary>One wheel.</summary>
/// <param name="Whole">Its rig.</param>
/// <param name="Wheel">The wheel.</param>
/// <param name="Abrasive">What it is made of; null where not told.</param>
/// <param name="Today">Today's entry.</param>
/// <param name="History">Entries that stand, the newest first.</param>
/// <param name="Plot">Diameter over the days; null with fewer than two entries.</param>
/// <param name="SpeedMs">Surface speed, m/s; null without rpm.</param>
/// <param name="Caution">What to say about it.</param>
/// <param name="Form">The form for a new diameter.</param>
public sealed record WheelModel(
    RigWhole Whole, WheelKept Wheel, AbrasiveKept? Abrasive, DiameterEntry? Today, IReadOnlyList<DiameterEntry> History, Drawing? Plot, double? SpeedMs, Reason? Caution, DiameterForm Form)
{
    /// <summary>Worn to its smallest.</summary>
    public bool WornOut => Wheel.MinimumDiameterMm is { } least && Today is { } today && today.DiameterMm <= least;
}

/// <summary>The form of a wheel.</summary>
/// <param name="Form">The form.</param>
/// <param name="Whole">Its rig.</param>
/// <param name="Wheel">The wheel; null for a new one.</param>
public sealed record WheelEditModel(WheelForm Form, RigWhole Whole, WheelKept? Wheel);

/// <summary>Wheels: added, changed, measured, dressed.</summary>
internal static class WheelShelf
{
    public static async Task<IResult> NewAsync(long rigId, KitQuery kit, UnitsView units, CancellationToken cancel) =>
        await kit.RigAsync(rigId, cancel) is { } whole ? Of(new(new WheelForm(units, await kit.AbrasivesAsync(cancel)), whole, null)) : Rigs.RigShelf.None();

    public static async Task<IResult> AddAsync(long rigId, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        if (await kit.RigAsync(rigId, cancel) is not { } whole)
            return Rigs.RigShelf.None();
        WheelForm form = new(units, await kit.AbrasivesAsync(cancel));
        WheelEditModel model = new(form, whole, null);
        if (!await form.ReadAsync(http))
            return Of(model);
        DiameterTyped diameter = new() { DiameterMm = form.Diameter!.Value!.Value.Millimetres, UMm = form.UMm!.Value?.Millimetres ?? Wheel.UsualDiameterUMm, Cause = DiameterCause.New };
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.AddWheelAsync(db, form.Typed(rigId), diameter, cancel), _ => KitAnswer.At("/kit/rigs/", rigId), cancel), form, $"{form.Name.Value} added.") ?? Of(model);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, BookClock clock, UnitsView units, ViewPreferences view, CancellationToken cancel) =>
        await kit.RigOfWheelAsync(id, cancel) is { } whole ? await OfAsync(whole, id, kit, new DiameterForm(units, clock.Now(), Latest(whole, id)), units, view, cancel) : None();

    public static async Task<IResult> MeasureAsync(
        long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, BookClock clock, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        if (await kit.RigOfWheelAsync(id, cancel) is not { } whole)
            return None();
        DiameterForm form = new(units, clock.Now(), Latest(whole, id));
        if (!await form.ReadAsync(http))
            return await OfAsync(whole, id, kit, form, units, view, cancel);
        DiameterTyped typed = form.Typed(units);
        if (typed.HappenedAt > clock.Now().AddMinutes(5))
            form.At.Refuse($"'{form.At.Typed}' is still to come; a time that has passed would be right");
        if (typed.Cause != DiameterCause.New && whole.Today(id) is { } today && typed.DiameterMm > today.DiameterMm + (2 * (today.UMm + typed.UMm)))
            form.Diameter.Refuse($"'{form.Diameter.Typed}' is larger than the {units.Length(today.DiameterMm)} of {units.Date(units.LocalDay(today.HappenedAt))}; a wheel does not grow: measure again, or say that it is a new wheel");
        if (form.Wrong)
            return await OfAsync(whole, id, kit, form, units, view, cancel);
        string told = typed.Cause == DiameterCause.Dressed ? "Dressed. Open settings that used the old diameter are stale and say the change." : "Measured. Open settings that used the old diameter are stale and say the change.";
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.AddDiameterAsync(db, id, typed, KitAnswer.Seen(form), cancel), _ => KitAnswer.At("/kit/wheels/", id), cancel),
            form, told, theirs => (Theirs(units, theirs), theirs.Id)) ?? await OfAsync(whole, id, kit, form, units, view, cancel);
    }

    public static async Task<IResult> EditAsync(long id, KitQuery kit, UnitsView units, CancellationToken cancel) =>
        await kit.RigOfWheelAsync(id, cancel) is { } whole ? Of(new(new WheelForm(units, await kit.AbrasivesAsync(cancel), Of(whole, id)), whole, Of(whole, id))) : None();

    public static async Task<IResult> SaveAsync(long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, CancellationToken cancel)
    {
        if (await kit.RigOfWheelAsync(id, cancel) is not { } whole)
            return None();
        IReadOnlyList<AbrasiveKept> abrasives = await kit.AbrasivesAsync(cancel);
        WheelForm form = new(units, abrasives, Of(whole, id));
        WheelEditModel model = new(form, whole, Of(whole, id));
        if (!await form.ReadAsync(http))
            return Of(model);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.EditWheelAsync(db, id, form.SeenVersion, form.Typed(whole.Rig.Id), cancel), _ => KitAnswer.At("/kit/wheels/", id), cancel),
            form, "Saved.", theirs => (new WheelForm(units, abrasives, theirs), theirs.Version)) ?? Of(model);
    }

    private static DiameterForm Theirs(UnitsView units, DiameterEntry entry)
    {
        DiameterForm form = new(units, entry.HappenedAt, entry.Id);
        form.Cause.Fill(entry.Cause.ToString());
        form.Diameter.Fill(Length.FromMillimetres(entry.DiameterMm));
        form.UMm.Fill(Length.FromMillimetres(entry.UMm));
        return form;
    }

    private static WheelKept Of(RigWhole whole, long id) => whole.Rig.Wheels.Single(w => w.Id == id);

    private static long? Latest(RigWhole whole, long id) => whole.Diameters.Where(d => d.WheelId == id).Select(d => (long?)d.Id).Max();

    private static IResult None() => Page.NotFound("There is no such wheel in the kit; look for it under Rigs.");

    private static IResult Of(WheelEditModel model) => Page.Of<WheelEditPage>(model.Wheel?.Name ?? "A wheel", model, Room.Kit, model.Form.Status);

    private static async Task<IResult> OfAsync(RigWhole whole, long id, KitQuery kit, DiameterForm form, UnitsView units, ViewPreferences view, CancellationToken cancel)
    {
        WheelKept wheel = Of(whole, id);
        List<DiameterEntry> history = [.. whole.Diameters.Standing().Where(d => d.WheelId == id).OrderBy(d => d.HappenedAt).ThenBy(d => d.Id)];
        DiameterEntry? today = history.Count > 0 ? history[^1] : null;
        Wheel? core = today is null ? null : new(wheel.Name, MeasuredLength.FromMillimetres(today.DiameterMm, today.UMm)) { Rpm = wheel.Rpm, MarkedLimitMs = wheel.MarkedLimitMs };
        Drawing? plot = history.Count < 2 ? null : WearPicture.Draw(history, wheel.MinimumDiameterMm, RigDrawing.Style(units, view), units.Culture, units.LocalDay);
        WheelModel model = new(
            whole, wheel, (await kit.AbrasivesAsync(cancel)).FirstOrDefault(a => a.Id == wheel.AbrasiveId), today, [.. history.AsEnumerable().Reverse()], plot,
            core is { Rpm: { } rpm } ? WheelSpeed.SurfaceMs(core.Diameter.Value.Millimetres, rpm) : null, core is null ? null : WheelSpeed.Caution(core), form);
        return Page.Of<WheelPage>(wheel.Name, model, Room.Kit, form.Status);
    }
}
