using Microsoft.AspNetCore.Http;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Bench.Steps;

/// <summary>Why a step is left out, or done again.</summary>
public sealed class StepWhyForm : WebForm
{
    internal StepWhyForm(bool skip) => Why = Add(new TextField("why", "Why")
    {
        Required = true,
        MaxLength = 200,
        Hint = "The book keeps it; the step can be gone back to at any time.",
        Offered = skip ? ["known from last time", "not needed for this piece", "cannot be measured here", "no time today"] : ["measured wrongly", "changed since", "the owner asked"],
    });

    /// <summary>Why.</summary>
    public TextField Why { get; }
}

/// <summary>The screen of <see cref="StepWhyForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Step">The step.</param>
/// <param name="Skip">Left out; else done again.</param>
/// <param name="Form">The form.</param>
public sealed record StepWhyScreen(BenchVisit Visit, BenchStep Step, bool Skip, StepWhyForm Form) : BenchScreen(Visit, Step);

/// <summary>Skips a step, closes it, opens it again: each a fact.</summary>
internal static class StepMarking
{
    public static Task<IResult> AskAsync(string tag, string step, string what, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, visit => BenchWords.Of(step) is { } which
            ? Of(new(visit, which, what == "skip", new(what == "skip")))
            : Page.NotFound($"There is no step '{step}/{what}' at the bench."), cancel);

    public static Task<IResult> SaveAsync(string tag, string step, string what, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (BenchWords.Of(step) is not { } which || what is not ("skip" or "open"))
                return Page.NotFound($"There is no step '{step}/{what}' at the bench.");
            bool skip = what == "skip";
            StepWhyForm form = new(skip);
            StepWhyScreen screen = new(visit, which, skip, form);
            if (!await form.ReadAsync(http))
                return Of(screen);
            Submitted<StepMark> saved = await MarkAsync(desk, form, visit, which, skip ? StepState.Skipped : StepState.Reopened, form.Why.Value, skip ? BenchDoor.Address(visit) : screen.Here, cancel);
            return BenchDesk.Answer(saved, form, skip ? $"{which} skipped." : $"{which} is open again.") ?? Of(screen);
        }, cancel);

    /// <summary>Closes a step by one button: it is done as it stands.</summary>
    public static Task<IResult> DoneAsync(string tag, string step, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (BenchWords.Of(step) is not { } which)
                return Page.NotFound($"There is no step '{step}' at the bench.");
            BareForm form = new();
            await form.ReadAsync(http);
            return BenchDesk.Answer(await MarkAsync(desk, form, visit, which, StepState.Done, null, BenchDoor.Address(visit), cancel), form, $"{which} done.")
                ?? Page.SeeOther(BenchDoor.Address(visit, which), form.Errors.Count > 0 ? form.Errors[0] : null);
        }, cancel);

    private static Task<Submitted<StepMark>> MarkAsync(BenchDesk desk, WebForm form, BenchVisit visit, BenchStep step, StepState state, string? why, string leadsTo, CancellationToken cancel)
    {
        DateTime now = desk.Now();
        return desk.AddAsync(form, new StepMark { VisitId = visit.Visit.Id, Step = step, State = state, Why = why, HappenedAt = now, EnteredAt = now }, leadsTo, Seen.Anything, cancel);
    }

    private static IResult Of(StepWhyScreen screen) => Page.Of<StepWhyPage>(screen.Title, screen, Room.Bench, screen.Form.Status);
}
