using Microsoft.AspNetCore.Http;
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

/// <summary>At which pass the clamp slipped.</summary>
public sealed class SlipForm : WebForm
{
    internal SlipForm(UnitsView units, int atPass)
    {
        AtPass = Add(new NumberField("atPass", "At pass") { Required = true, Whole = true, Min = 0, Max = 10000, Step = 1, Hint = "Passes after it were ground at another angle; look at the facet before going on." });
        Note = Add(new TextField("note", "What was seen") { MaxLength = 200 });
        AtPass.Fill(atPass, units);
    }

    /// <summary>The pass.</summary>
    public NumberField AtPass { get; }

    /// <summary>Words.</summary>
    public TextField Note { get; }
}

/// <summary>The screen of <see cref="SlipForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Stage">The stage.</param>
/// <param name="Form">The form.</param>
public sealed record SlipScreen(BenchVisit Visit, GrindStage? Stage, SlipForm Form) : BenchScreen(Visit, BenchStep.Grind);

/// <summary>"Slipped at pass n": the piece goes back to Set, and must be touched off again.</summary>
internal static class SlipStep
{
    public static Task<IResult> AskAsync(string tag, int? stage, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, at => Task.FromResult(Of(New(at, stage, units))), cancel);

    public static Task<IResult> SaveAsync(string tag, int? stage, HttpContext http, SetDesk desk, UnitsView units, CancellationToken cancel) =>
        desk.Door.WithAsync(tag, async at =>
        {
            SlipScreen screen = New(at, stage, units);
            SlipForm form = screen.Form;
            if (!await form.ReadAsync(http))
                return Of(screen);
            DateTime now = desk.Desk.Now();
            BenchEvent slipped = new()
            {
                VisitId = at.Visit.Visit.Id, HappenedAt = now, EnteredAt = now, Kind = BenchEventKind.Slipped, Stage = screen.Stage?.Number,
                AtPass = (int)form.AtPass.Value!.Value, Note = form.Note.Value,
            };
            Submitted<BenchEvent> saved = await desk.Desk.AddAsync(form, slipped, BenchDoor.Address(at.Visit, BenchStep.Set), Seen.Anything, cancel);
            return BenchDesk.Answer(saved, form, "Slipped: back to Set.") ?? Of(screen);
        }, cancel);

    private static SlipScreen New(AtWork at, int? stage, UnitsView units)
    {
        GrindScreen grind = GrindStep.Screen(at, stage, units);
        return new(at.Visit, grind.Stage, new(units, grind.Stage is { } on ? grind.Sides.Max(s => grind.Count(on, s)) : 0));
    }

    private static IResult Of(SlipScreen screen) => Page.Of<SlipPage>("Slipped: " + screen.Visit.Piece.Name, screen, Room.Bench, screen.Form.Status);
}
