using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Fixtures;
using Whetwright.Paper.Sheets;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Set;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Finish;

/// <summary>The step Finish.</summary>
/// <param name="At">The visit at work.</param>
/// <param name="Dialled">The setting that stands.</param>
/// <param name="Wheels">Honing and stropping wheels at their own angle.</param>
/// <param name="Strops">Strops and hones by hand.</param>
/// <param name="Said">What a refused tap is told.</param>
public sealed record FinishScreen(AtWork At, Dialled? Dialled, IReadOnlyList<HoningOnBench> Wheels, IReadOnlyList<AbrasiveKept> Strops, WebForm? Said) : BenchScreen(At.Visit, BenchStep.Finish)
{
    /// <summary>Angle at a strop by hand, per side; null without an edge chosen.</summary>
    public double? HandDeg => HoningOnBench.HandDeg(At.Visit.Aim);

    /// <summary>How the rig stands; for the travel.</summary>
    public WheelAndBarRig? Rig => (Dialled?.Rig?.Rig as Composed<Rig>.Ready)?.Value as WheelAndBarRig;

    /// <summary>Events of finishing, oldest first.</summary>
    public IReadOnlyList<BenchEvent> Of(BenchEventKind kind) => [.. At.Work.Events.Where(e => e.Kind == kind && e.Stage is null)];

    /// <summary>How often the burr was said to stay since it was last said to be off.</summary>
    public int BurrStays
    {
        get
        {
            DateTime off = BenchVisit.Latest(Of(BenchEventKind.BurrOff))?.HappenedAt ?? DateTime.MinValue;
            return Of(BenchEventKind.BurrStays).Count(e => e.HappenedAt > off);
        }
    }

    /// <summary>The burr is off, said after it was last said to stay.</summary>
    public bool BurrIsOff => BurrStays == 0 && Of(BenchEventKind.BurrOff).Count > 0;
}

/// <summary>Strops, takes the burr off, cleans.</summary>
internal static class FinishStep
{
    private static readonly BenchEventKind[] Kinds = [BenchEventKind.Stropped, BenchEventKind.BurrOff, BenchEventKind.BurrStays, BenchEventKind.Cleaned];

    public static Task<IResult> ShowAsync(string tag, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, at => Task.FromResult(Of(at, null, units)), cancel);

    /// <summary>One of the things that happen while finishing.</summary>
    public static Task<IResult> EventAsync(string tag, HttpContext http, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            BareForm form = new();
            await form.ReadAsync(http);
            IFormCollection sent = await http.Request.ReadFormAsync(cancel);
            // "Stropped" or "Stropped:12", the strop behind the colon.
            string[] said = sent["kind"].ToString().Split(':');
            if (!Enum.TryParse(said[0], out BenchEventKind kind) || !Kinds.Contains(kind))
            {
                form.Refuse($"'{sent["kind"]}' is nothing that happens while finishing; use one of the buttons");
                return Of(at, form, units);
            }

            AbrasiveKept? on = said.Length > 1 && long.TryParse(said[1], NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? at.Work.Abrasives.FirstOrDefault(a => a.Id == id) : null;
            DateTime now = desk.Desk.Now();
            BenchEvent happened = new() { VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, Kind = kind, AbrasiveId = on?.Id };
            Submitted<BenchEvent> saved = await desk.Desk.AddAsync(form, happened, BenchDoor.Address(at.Visit, BenchStep.Finish), Seen.Anything, cancel);
            return BenchDesk.Answer(saved, form, kind switch
            {
                BenchEventKind.Stropped => on is null ? "Stropped." : $"Stropped on {on.Name}.",
                BenchEventKind.BurrOff => "No burr left.",
                BenchEventKind.BurrStays => "Noted. Try what is said next.",
                _ => "Cleaned and oiled.",
            }) ?? Of(at, form, units);
        }, cancel);

    private static IResult Of(AtWork at, WebForm? said, UnitsView units)
    {
        Dialled? dialled = Dialled.Of(at, new SheetStyle(units.Unit == Core.Quantities.LengthUnit.Inch));
        IReadOnlyList<HoningOnBench> wheels = dialled is { Row: { } row } && (dialled.Rig?.Rig as Composed<Rig>.Ready)?.Value is WheelAndBarRig rig
            ? HoningOnBench.For(dialled.Stored, row, rig, at.Work.Abrasives, at.Visit.Aim, dialled.At) : [];
        long?[] mounted = [.. at.Work.Rigs.SelectMany(r => r.Wheels).Where(w => !w.Retired).Select(w => w.AbrasiveId)];
        FinishScreen screen = new(at, dialled, wheels, [.. at.Work.Abrasives.Where(a => StagesOnBench.ForFinish(a.Form) && !mounted.Contains(a.Id))], said);
        return Page.Of<FinishPage>(screen.Title, screen, Room.Bench, said?.Status ?? StatusCodes.Status200OK);
    }
}
