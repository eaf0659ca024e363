using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
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

namespace Whetwright.Web.Features.Bench.Grind;

/// <summary>Grinds: each tap is a fact; several devices may count at once, and a form sent twice counts once.</summary>
internal static class GrindStep
{
    public static Task<IResult> ShowAsync(string tag, int? stage, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at => await OfAsync(at, stage, null, desk, units, cancel), cancel);

    /// <summary>One pass.</summary>
    public static Task<IResult> PassAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            IFormCollection sent = await http.Request.ReadFormAsync(cancel);
            int? stage = int.TryParse(sent["stage"].ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;
            string side = sent["side"].ToString();
            GrindScreen screen = Screen(at, stage, units);
            if (screen.Stage is not { } on || on.Number != stage)
                form.Refuse($"stage '{sent["stage"]}' is not one of the stages; go on with one of those shown");
            else if (side is not ("left" or "right" or "both"))
                form.Refuse($"side '{side}' is none; left, right or both would be right");
            else if (screen.Blocked)
                form.Refuse("the clamp slipped: clamp again and touch off before the next pass counts");
            else
            {
                DateTime now = desk.Desk.Now();
                Passes pass = new() { VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, AbrasiveId = on.Abrasive?.Id, WheelId = on.Wheel?.Id, Side = side, Count = 1, Stage = on.Number };
                Submitted<Passes> saved = await desk.Desk.AddAsync(form, pass, Address(at.Visit, on.Number), Seen.Anything, cancel);
                if (saved is Submitted<Passes>.Done done)
                    return Page.SeeOther(done.LedTo);
                BenchDesk.Answer(saved, form, "");
            }

            return await OfAsync(at, stage, form, desk, units, cancel);
        }, cancel);

    /// <summary>Takes a pass back by a fact that corrects it.</summary>
    public static Task<IResult> UndoAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            string id = (await http.Request.ReadFormAsync(cancel))["id"].ToString();
            if (at.Work.Passes.FirstOrDefault(p => p.Id.ToString(CultureInfo.InvariantCulture) == id) is not { } pass)
                return Page.SeeOther(BenchDoor.Address(at.Visit, BenchStep.Grind), "That pass was taken back already.");
            DateTime now = desk.Desk.Now();
            Passes undo = new()
            {
                VisitId = pass.VisitId, HappenedAt = now, EnteredAt = now, CorrectsId = pass.Id, Withdrawn = true,
                AbrasiveId = pass.AbrasiveId, WheelId = pass.WheelId, Side = pass.Side, Count = pass.Count, Stage = pass.Stage,
            };
            Submitted<Passes> saved = await desk.Desk.AddAsync(form, undo, Address(at.Visit, pass.Stage), Seen.Anything, cancel);
            return saved is Submitted<Passes>.Done done ? Page.SeeOther(done.LedTo) : Page.SeeOther(Address(at.Visit, pass.Stage), "That pass was taken back already.");
        }, cancel);

    /// <summary>Cooled, or a burr felt, in a stage.</summary>
    public static Task<IResult> EventAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            IFormCollection sent = await http.Request.ReadFormAsync(cancel);
            GrindScreen screen = Screen(at, int.TryParse(sent["stage"].ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null, units);
            if (!Enum.TryParse(sent["kind"].ToString(), out BenchEventKind kind) || kind is not (BenchEventKind.BurrFelt or BenchEventKind.Cooled or BenchEventKind.BurrOff) || screen.Stage is not { } stage)
            {
                form.Refuse($"'{sent["kind"]}' is nothing that happens while grinding; use one of the buttons");
                return await OfAsync(at, screen.Stage?.Number, form, desk, units, cancel);
            }

            DateTime now = desk.Desk.Now();
            BenchEvent happened = new() { VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, Kind = kind, Stage = stage.Number, AbrasiveId = stage.Abrasive?.Id, AtPass = screen.Sides.Max(s => screen.Count(stage, s)) };
            // "No burr left" may lead on to the piece that the day's order puts next.
            string leadsTo = Records.Visits.TagNumber.TryParse(sent["then"].ToString(), out int then) ? "/bench/" + Records.Visits.TagNumber.Format(then) : Address(at.Visit, stage.Number);
            Submitted<BenchEvent> saved = await desk.Desk.AddAsync(form, happened, leadsTo, Seen.Anything, cancel);
            return saved is Submitted<BenchEvent>.Done done ? Page.SeeOther(done.LedTo) : BenchDesk.Answer(saved, form, "") ?? await OfAsync(at, stage.Number, form, desk, units, cancel);
        }, cancel);

    /// <summary>Address of a stage.</summary>
    public static string Address(BenchVisit visit, int stage) => string.Create(CultureInfo.InvariantCulture, $"{BenchDoor.Address(visit, BenchStep.Grind)}?stage={stage}");

    /// <summary>The screen; the stage asked for, else the last that has passes, else the first.</summary>
    public static GrindScreen Screen(AtWork at, int? stage, UnitsView units, WebForm? said = null)
    {
        Dialled? dialled = Dialled.Of(at, new SheetStyle(units.Unit == Core.Quantities.LengthUnit.Inch));
        Rig? made = dialled is null ? null : (dialled.Rig?.Rig as Composed<Rig>.Ready)?.Value ?? dialled.Stored.Rig;
        StagesOnBench plan = StagesOnBench.Of(dialled?.Row, made, at.Work.Abrasives, at.Section, at.Rates);
        GrindStage? first = plan.Stages.FirstOrDefault(s => s.Needed);
        int begun = at.Work.Passes.Select(p => p.Stage).DefaultIfEmpty(first?.Number ?? 1).Max();
        GrindStage? on = plan.Stages.FirstOrDefault(s => s.Number == (stage ?? begun)) ?? first;
        return new(at, dialled, plan, on, new(units, dialled?.TouchOff?.DistanceMm, on?.Wheel?.Id), said);
    }

    public static async Task<IResult> OfAsync(AtWork at, int? stage, WebForm? said, SetDesk desk, UnitsView units, CancellationToken cancel)
    {
        GrindScreen screen = Screen(at, stage, units, said);
        if (screen.Stage is { } on)
            screen = screen with { NextInDay = await desk.Day.AfterAsync(at.Visit.Visit.Id, on.Wheel?.Id, on.Abrasive?.Id, cancel) };
        screen.Touch.VersionSeen = await desk.Door.VersionAsync<Records.Bench.TouchOff>(at.Visit, cancel);
        return Page.Of<GrindPage>(screen.Title, screen, Room.Bench, said?.Status ?? StatusCodes.Status200OK);
    }
}
