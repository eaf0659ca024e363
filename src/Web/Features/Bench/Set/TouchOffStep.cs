using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;
using TouchOff = Whetwright.Records.Bench.TouchOff;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>The touch-off: measured, judged, kept whether it fits or not.</summary>
internal static class TouchOffStep
{
    /// <summary>Measured on the wheel named; a wheel other than the one the rig stood at was changed to and dialled.</summary>
    public static Task<IResult> MeasureAsync(string tag, string? back, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            TouchOffForm form = new(units, null, null);
            bool read = await form.ReadAsync(http);
            Dialled? dialled = Dialled.Of(at, SettingSheet.Style(units, preferences));
            if (dialled is not { Row: { } row, TouchOff: { } expected })
                form.Refuse("nothing is dialled that could be touched off; dial it first");
            else if (dialled.NumbersAreStale)
                form.Refuse("the setting is stale: dial the new numbers first, then touch off");
            else if (read)
                return await SaveAsync(at, form, dialled, row, expected.DistanceMm, back, desk, units, cancel) ?? await SetStep.OfAsync(at, desk, units, preferences, null, null, form, cancel);
            return await SetStep.OfAsync(at, desk, units, preferences, null, null, form, cancel);
        }, cancel);

    /// <summary>What does not fit is accepted knowingly.</summary>
    public static Task<IResult> AcceptAsync(string tag, string? back, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            TouchOff? rejected = BenchVisit.Latest(at.Work.TouchOffs.Where(t => t.SettingId == at.Work.Setting?.Id));
            if (rejected is null or { Accepted: true })
                return Page.SeeOther(Back(at.Visit, back), rejected is null ? "There is no touch-off to accept; measure it." : null);
            DateTime now = desk.Desk.Now();
            TouchOff accepted = new()
            {
                VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, CorrectsId = rejected.Id, SettingId = rejected.SettingId, WheelId = rejected.WheelId,
                ExpectedMm = rejected.ExpectedMm, MeasuredMm = rejected.MeasuredMm, Accepted = true,
            };
            Submitted<TouchOff> saved = await desk.Desk.AddAsync(form, accepted, Back(at.Visit, back), cancel: cancel);
            return BenchDesk.Answer(saved, form, "Accepted as it is; it is kept so.") ?? Page.SeeOther(Back(at.Visit, back), "Somebody else measured meanwhile; look at what stands now.");
        }, cancel);

    /// <summary>The fact.</summary>
    public static TouchOff Fact(BenchVisit visit, long settingId, long? wheelId, double expectedMm, double measuredMm, bool fits, DateTime now) => new()
    {
        VisitId = visit.Visit.Id, HappenedAt = now, EnteredAt = now, SettingId = settingId, WheelId = wheelId, ExpectedMm = expectedMm, MeasuredMm = measuredMm, Accepted = fits,
    };

    /// <summary>What it says, in the person's units.</summary>
    public static string Told(TouchOffJudged judged, UnitsView units)
    {
        string off = Math.Abs(judged.OffMm) < 0.05 ? "just as expected" : $"{units.Length(Math.Abs(judged.OffMm), 1)} {(judged.OffMm > 0 ? "longer" : "shorter")} than expected";
        return judged.Fits ? $"Touched off: {off}, within tolerance ({judged.Meaning})." : $"The touch-off does not fit: {off}, {judged.Meaning}.";
    }

    private static async Task<IResult?> SaveAsync(AtWork at, TouchOffForm form, Dialled dialled, RigKept row, double expectedMm, string? back, SetDesk desk, UnitsView units, CancellationToken cancel)
    {
        double measured = form.Measured.Value!.Value.Millimetres;
        double tolerance = at.Visit.Aim is { ToleranceDeg: > 0 } aim ? aim.ToleranceDeg : SettingWish.UsualTolerance.Degrees;
        TouchOffJudged judged = TouchOffJudged.Of(dialled.Clamp!, dialled.Stored.Rig, measured, tolerance)!;
        WheelKept? wheel = row.Wheels.FirstOrDefault(w => w.Id == form.WheelId);
        DateTime now = desk.Desk.Now();
        Submitted<TouchOff> saved = await desk.Desk.WriteAsync(form, async db =>
        {
            SaveOutcome<TouchOff> outcome = await desk.Desk.Log.AddAsync(db, Fact(at.Visit, dialled.Stored.Fact.Id, wheel?.Id, expectedMm, measured, judged.Fits, now), BenchDesk.SeenOf(form), cancel);
            if (outcome is SaveOutcome<TouchOff>.Saved && dialled.On(wheel?.Name) is [var first, ..] && !StandsSo(at.Work.Stand(row.Id), wheel?.Id, first))
                await SetStep.StandAsync(db, row, first, now, cancel);
            return outcome;
        }, judged.Fits && back is null ? BenchDoor.Address(at.Visit, BenchStep.Grind) : Back(at.Visit, judged.Fits ? back : null), cancel);
        return BenchDesk.Answer(saved, form, Told(judged, units), theirs => (new TouchOffForm(units, expectedMm, theirs.WheelId).From(theirs), theirs.Id));
    }

    private static bool StandsSo(RigStand? stand, long? wheelId, DialledSetting dialled) =>
        SettingChange.DialledMm(dialled) is not { } mm || (stand is not null && stand.WheelId == wheelId && Math.Abs(stand.DialledMm - mm) < SettingChange.LeastMm);

    /// <summary>Back to a stage of Grind, or to Set.</summary>
    private static string Back(BenchVisit visit, string? back) => int.TryParse(back, NumberStyles.None, CultureInfo.InvariantCulture, out int stage)
        ? FormattableString.Invariant($"{BenchDoor.Address(visit, BenchStep.Grind)}?stage={stage}")
        : BenchDoor.Address(visit, BenchStep.Set);
}
