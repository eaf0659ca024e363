using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>What the handlers of Set share.</summary>
internal sealed record SetDesk(WorkDoor Door, LastTimeQuery Before, SettingMaker Maker, BenchDesk Desk, Rack.Day.DayDesk Day);

/// <summary>The step Set: rig and clamp, the numbers to dial, dialled, dialled again.</summary>
internal static class SetStep
{
    public static Task<IResult> ShowAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            bool anew = http.Request.Query.ContainsKey("anew") || at.Work.Setting is null;
            Proposal? proposal = anew ? await ProposeAsync(at, http, desk, units, preferences, cancel) : null;
            return await OfAsync(at, desk, units, preferences, proposal, null, null, cancel);
        }, cancel);

    /// <summary>"Dialled": the setting is kept, and how the rig stands now.</summary>
    public static Task<IResult> DialAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            Proposal proposal = await ProposeAsync(at, http, desk, units, preferences, cancel);
            DialledForm form = new();
            await form.ReadAsync(http);
            if (proposal is not { CanBeDialled: true, Setting: { } setting, Rig: { } rig })
                form.Refuse("it cannot be set so; the reasons are below");
            else if (form.Diameters.Typed != Diameters(rig))
                form.Refuse("a wheel was measured or dressed since this page was shown: the numbers below are new; dial those");
            else if (!form.Wrong)
                return BenchDesk.Answer(await KeepAsync(at, form, setting, rig, desk, cancel), form, "Dialled. Now touch off.", Theirs) ?? await OfAsync(at, desk, units, preferences, proposal, form, null, cancel);
            return await OfAsync(at, desk, units, preferences, proposal, form, null, cancel);
        }, cancel);

    /// <summary>The same clamp, dialled again for the wheels and the edge of now.</summary>
    public static Task<IResult> RedialAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            DialledForm form = new();
            await form.ReadAsync(http);
            Dialled? dialled = Dialled.Of(at, SettingSheet.Style(units, preferences));
            if (dialled is not { Now: { Plan: { Refused: false, Clamps.Count: > 0 } } now, Rig: { } rig })
                form.Refuse("it cannot be set so any more; clamp it anew");
            else if (form.Diameters.Typed != Diameters(rig))
                form.Refuse("a wheel was measured or dressed since this page was shown: the numbers below are new; dial those");
            else
                return BenchDesk.Answer(await KeepAsync(at, form, now, rig, desk, cancel), form, "Dialled again. Now touch off.", Theirs) ?? await OfAsync(at, desk, units, preferences, null, form, null, cancel);
            return await OfAsync(at, desk, units, preferences, null, form, null, cancel);
        }, cancel);

    /// <summary>Keeps a setting with how the rig stands; a rig without a touch-off is set by it, too.</summary>
    public static Task<Submitted<SettingMade>> KeepAsync(AtWork at, DialledForm form, SettingOnBench setting, RigOnBench rig, SetDesk desk, CancellationToken cancel)
    {
        DateTime now = desk.Desk.Now();
        RigKept row = at.Work.Rigs.First(r => r.Id == rig.RigId);
        return desk.Desk.WriteAsync(form, async db =>
        {
            SaveOutcome<SettingMade> saved = await desk.Desk.Log.AddAsync(db, setting.ToFact(at.Visit.Visit.Id, at.Visit.Aim?.Id, rig, now, now), BenchDesk.SeenOf(form), cancel);
            if (saved is not SaveOutcome<SettingMade>.Saved)
                return saved;
            await StandAsync(db, row, at.FirstOn(row, setting.Plan, setting.Rig), now, cancel);
            if (setting.Plan.Clamps[0].TouchOff is null)
                await desk.Desk.Log.AddAsync(db, new StepMark { VisitId = at.Visit.Visit.Id, Step = BenchStep.Set, State = StepState.Done, HappenedAt = now, EnteredAt = now }, Seen.Anything, cancel);
            return saved;
        }, BenchDoor.Address(at.Visit, BenchStep.Set), cancel);
    }

    /// <summary>How the rig stands now that this is dialled.</summary>
    public static async Task StandAsync(BookContext db, RigKept rig, DialledSetting dialled, DateTime now, CancellationToken cancel)
    {
        if (SettingChange.DialledMm(dialled) is not { } mm)
            return;
        string? wheel = SettingChange.WheelOf(dialled);
        RigStand stand = new() { RigId = rig.Id, WheelId = rig.Wheels.FirstOrDefault(w => w.Name == wheel && !w.Retired)?.Id, DialledMm = mm, HappenedAt = now, EnteredAt = now };
        long id = rig.Id;
        await db.AddFactAsync(stand, s => s.RigId == id, Seen.Anything, cancel);
    }

    /// <summary>Rig and clamp from the page's address, worked out.</summary>
    public static async Task<Proposal> ProposeAsync(AtWork at, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel)
    {
        SettingMade? before = (await desk.Before.BeforeAsync(at.Visit.Visit.Id, cancel)).Setting;
        ClampForm form = new ClampForm(units, at.Work.Rigs, before is not null).From(http.Request.Query);
        RigKept? row = at.Work.Rigs.FirstOrDefault(r => r.Id.ToString(CultureInfo.InvariantCulture) == form.Rig.Value);
        RigOnBench? rig = row is null ? null : at.RigToday(row);
        if (form.Wrong || rig is null || at.Visit.Aim is not { } aim)
            return new(form, row, rig, null, null, []);
        List<string> missing = [.. rig.Rig is Composed<Rig>.NotYet r ? r.Missing : [], .. at.Blade is Composed<Blade>.NotYet b ? b.Missing : []];
        if (rig.Rig is not Composed<Rig>.Ready ready || at.Blade is not Composed<Blade>.Ready blade)
            return new(form, row, rig, null, null, missing);
        Point2? pivot = null;
        if (form.Measured is { } measured)
        {
            if (ready.Value is DialRig or SlackBeltRig)
                form.Clamp.Refuse("needs no clamp on this rig; the best for this blade would be right");
            else if (measured.CannotStand(blade.Value, ready.Value) is { } cannot)
                form.Out.Refuse(cannot.Text);
            else
                pivot = measured.PivotOn(ready.Value);
        }
        else if (form.Clamp.Value == ClampForm.Last && before is { PivotXMm: { } x, PivotYMm: { } y })
        {
            pivot = new(x, y);
        }

        if (form.Wrong)
            return new(form, row, rig, null, null, []);
        SettingOnBench setting = desk.Maker.Make(blade, ready, aim, pivot, cancel);
        return new(form, row, rig, setting, SettingSheet.Of(at, setting.Plan, blade.Value, ready.Value, SettingSheet.Style(units, preferences), []), []);
    }

    /// <summary>The blade was put into another of the setting's clamps.</summary>
    public static Task<IResult> ClampAsync(string tag, HttpContext http, SetDesk desk, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            string said = (await http.Request.ReadFormAsync(cancel))["clamp"].ToString();
            if (at.Work.Setting is not { } setting || !int.TryParse(said, NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number < 1 || number > StoredSetting.Of(setting).Clamps.Count)
                return Page.SeeOther(BenchDoor.Address(at.Visit, BenchStep.Set), $"There is no clamp '{said}' in this setting.");
            DateTime now = desk.Desk.Now();
            BenchEvent clamped = new() { VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, Kind = BenchEventKind.Clamped, AtPass = number, Note = FormattableString.Invariant($"clamp {number}") };
            Submitted<BenchEvent> saved = await desk.Desk.AddAsync(form, clamped, BenchDoor.Address(at.Visit, BenchStep.Set), Seen.Anything, cancel);
            return BenchDesk.Answer(saved, form, $"Clamp {number}. Dial it, then touch off.") ?? Page.SeeOther(BenchDoor.Address(at.Visit, BenchStep.Set), null);
        }, cancel);

    public static string Diameters(RigOnBench? rig) => rig is null ? "" : string.Join(' ', rig.DiameterIds);

    public static async Task<IResult> OfAsync(
        AtWork at, SetDesk desk, UnitsView units, ViewPreferences preferences, Proposal? proposal, DialledForm? form, TouchOffForm? touch, CancellationToken cancel)
    {
        Dialled? dialled = Dialled.Of(at, SettingSheet.Style(units, preferences));
        string version = form is { VersionSeen.Length: > 0 } ? form.VersionSeen : await desk.Door.VersionAsync<SettingMade>(at.Visit, cancel);
        form ??= new();
        form.VersionSeen = version;
        form.Diameters.Typed = Diameters(proposal is not null ? proposal.Rig : dialled?.Rig);
        form.Words.Typed = Words(proposal is not null ? proposal.Setting : dialled?.Now, units);
        touch ??= new(units, dialled?.TouchOff?.DistanceMm, StandsAt(at, dialled)) { VersionSeen = await desk.Door.VersionAsync<Records.Bench.TouchOff>(at.Visit, cancel) };
        SetScreen screen = new(at, proposal, dialled, form, touch, at.Visit.Aim is not null);
        int status = Math.Max(Math.Max(form.Status, touch.Status), proposal?.Form.Status ?? StatusCodes.Status200OK);
        return Page.Of<SetPage>(screen.Title, screen, Room.Bench, status);
    }

    /// <summary>The wheel that the rig stands at; the first of the setting where it was not told.</summary>
    public static long? StandsAt(AtWork at, Dialled? dialled)
    {
        if (dialled?.Row is not { } row || dialled.Shown.Clamps is not [var clamp, ..])
            return null;
        long? stands = at.Work.Stand(row.Id)?.WheelId;
        IEnumerable<string?> wheels = clamp.Settings.Select(SettingChange.WheelOf);
        string? begin = SettingChange.WheelOf(at.FirstOn(row, dialled.Shown, dialled.Stored.Rig));
        return row.Wheels.FirstOrDefault(w => w.Id == stands && wheels.Contains(w.Name, StringComparer.Ordinal))?.Id ?? row.Wheels.FirstOrDefault(w => w.Name == begin && !w.Retired)?.Id;
    }

    private static (Shared.Forms.WebForm, long) Theirs(SettingMade theirs) => (new DialledForm(string.Create(CultureInfo.InvariantCulture, $"rig {theirs.RigId}, jaw {theirs.JawFromHeelMm:0.0} mm from the heel, edge {theirs.ProtrusionMm:0.0} mm out"), string.Join(' ', theirs.DiameterIds)), theirs.Id);

    private static string Words(SettingOnBench? setting, UnitsView units) => setting is { Plan.Clamps: [var clamp, ..] }
        ? $"{setting.Rig.Name}, jaw {units.Length(clamp.Jaw?.FromHeelMm, 1)} from the heel, edge {units.Length(clamp.Jaw?.ProtrusionMm, 1)} out"
        : "";
}
