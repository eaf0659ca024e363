using Microsoft.AspNetCore.Http;
using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Gauges;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench.Days;

namespace Whetwright.Web.Features.Rack.Day;

/// <summary>A bench day: what is settled, and the form to settle it.</summary>
/// <param name="Day">The shop's day.</param>
/// <param name="Plan">The order; null where none is settled.</param>
/// <param name="Cost">What it costs; null without one.</param>
/// <param name="ByHand">A person changed it.</param>
/// <param name="Version">The fact seen, for the buttons.</param>
/// <param name="Done">Operations done.</param>
/// <param name="Form">The form.</param>
/// <param name="Wrong">Why a move cannot be; null where nothing is wrong.</param>
public sealed record DayModel(DateOnly Day, DayPlan? Plan, DayOrder? Cost, bool ByHand, string Version, IReadOnlySet<string> Done, DayForm Form, string? Wrong)
{
    /// <summary>The first that is not done.</summary>
    public DayLine? Next => Plan?.Times.FirstOrDefault(l => !Done.Contains(l.Operation.Id));
}

/// <summary>What the handlers of the day share.</summary>
internal sealed class DayDesk(RackQuery rack, BenchVisitQuery visits, BenchWorkQuery works, LastTimeQuery before, GaugeQuery gauges, BenchTimesQuery times, KitQuery kit, RatesKept rates, BookClock clock)
{
    public async Task<(DateOnly Day, IReadOnlyList<RackLine> Lines, ShopCard Card)> TodayAsync(CancellationToken cancel)
    {
        ShopCard card = await kit.CardAsync(cancel);
        return (clock.Today(card.Zone()), [.. (await rack.OpenAsync(RackOrder.Promise, cancel)).Where(l => l.Standing.Next is not null)], card);
    }

    public Task<BenchDayPlanned?> KeptAsync(DateOnly day, CancellationToken cancel) => gauges.DayAsync(day, cancel);

    /// <summary>Operations of the pieces chosen.</summary>
    public async Task<DayPlan> ComposeAsync(DayForm form, DateOnly day, ShopCard card, CancellationToken cancel)
    {
        double start = DayForm.Minutes(form.Start.Value)!.Value;
        DayPick[] picked = [.. form.Picks.Where(p => p.Pick.Value)];
        IReadOnlyDictionary<long, double> price = await gauges.PriceMinutesAsync([.. picked.Select(p => p.Line.VisitId)], cancel);
        var learnt = await rates.NowAsync(cancel);
        List<DayOperation> operations = [];
        IReadOnlyList<AbrasiveKept> abrasives = await kit.AbrasivesAsync(cancel);
        foreach (DayPick pick in picked)
        {
            if (await visits.ByTagAsync(pick.Line.Tag, cancel) is not { } visit)
                continue;
            double? due = DayForm.Minutes(pick.By.Value) is { } by ? by - start : pick.Line.PromisedFor <= day ? card.MinutesPerDay : null;
            DayPiece piece = new(visit, await works.OfAsync(visit.Visit.Id, cancel), await before.BeforeAsync(visit.Visit.Id, cancel), price.GetValueOrDefault(visit.Visit.Id), due,
                pick.Weight.Value switch { "10" => 10, "3" => 3, _ => 1 });
            operations.AddRange(DayComposed.Of(piece, learnt));
        }

        BenchBreak[] breaks = DayForm.Minutes(form.BreakFrom.Value) is { } from && DayForm.Minutes(form.BreakTo.Value) is { } to ? [new(from - start, to - start)] : [];
        Dictionary<long, double> typed = abrasives.Where(a => a.ChangeMinutes is not null).ToDictionary(a => a.Id, a => a.ChangeMinutes!.Value);
        SetupLog log = SetupLog.Of(await times.SinceAsync(clock.Now(), cancel), typed);
        return new(operations, SetupLearning.From(log.Seen), typed, start, breaks, null, 0, false) { Broken = log.Broken };
    }

    /// <summary>Today's order and what of it is done: for the bench.</summary>
    public async Task<(DayPlan? Plan, IReadOnlySet<string> Done)> StandsAsync(CancellationToken cancel)
    {
        (DateOnly day, IReadOnlyList<RackLine> lines, _) = await TodayAsync(cancel);
        DayPlan? plan = await KeptAsync(day, cancel) is { } kept ? DayPlan.Read(kept.PlanJson) : null;
        return (plan, plan is null ? new HashSet<string>(StringComparer.Ordinal) : Done(plan, lines));
    }

    /// <summary>
    /// What the order says after a stage that is on the bench now; null where no order is settled, the stage is not in it, or the same piece goes on.
    /// </summary>
    public async Task<DayLine?> AfterAsync(long visitId, long? wheelId, long? abrasiveId, CancellationToken cancel)
    {
        (DayPlan? plan, IReadOnlySet<string> done) = await StandsAsync(cancel);
        if (plan is null)
            return null;
        IReadOnlyList<DayLine> lines = plan.Times;
        int now = lines.ToList().FindIndex(l => l.Operation.VisitId == visitId && l.Operation.WheelId == wheelId && l.Operation.AbrasiveId == abrasiveId);
        DayLine? next = now < 0 ? null : lines.Where((l, i) => i != now && !done.Contains(l.Operation.Id)).FirstOrDefault();
        return next is null || next.Operation.VisitId == visitId ? null : next with { Before = lines[now].Operation };
    }

    /// <summary>Done is a stage in which no burr was left, one that passes of a later one stand for, or a piece that has gone past grinding.</summary>
    public static IReadOnlySet<string> Done(DayPlan plan, IReadOnlyList<RackLine> open)
    {
        HashSet<string> done = new(StringComparer.Ordinal);
        foreach (DayOperation o in plan.Operations)
        {
            RackLine? line = open.FirstOrDefault(l => l.VisitId == o.VisitId);
            bool past = line?.Standing.Next is null or BenchStep.Finish or BenchStep.Check;
            bool later = line is not null && plan.Operations.Any(x => x.VisitId == o.VisitId && string.CompareOrdinal(x.Id, o.Id) > 0 && line.Standing.Stages.Any(s => s.AbrasiveId == x.AbrasiveId));
            bool ended = line is not null && o.AbrasiveId is not null && line.Standing.Stages.Any(s => s.AbrasiveId == o.AbrasiveId && s.BurrOff);
            if (past || later || ended)
                done.Add(o.Id);
        }

        return done;
    }
}

/// <summary>The day's order: chosen, searched, changed by hand, followed at the bench.</summary>
internal static class DayOrderPage
{
    public static async Task<IResult> ShowAsync(DayDesk desk, CancellationToken cancel) => await OfAsync(desk, null, null, cancel);

    /// <summary>Searches an order for the pieces chosen, and keeps it. Leaving the page stops the search; the time limit ends it with the best so far.</summary>
    public static async Task<IResult> FindAsync(HttpContext http, DayDesk desk, DaySearches searches, GaugeDesk gauges, BookWriter writer, CancellationToken cancel)
    {
        (DateOnly day, IReadOnlyList<RackLine> lines, ShopCard card) = await desk.TodayAsync(cancel);
        DayForm form = new(lines, day);
        if (!await form.ReadAsync(http))
            return await OfAsync(desk, form, null, cancel);
        DayPlan plan = await desk.ComposeAsync(form, day, card, cancel);
        TimeSpan most = TimeSpan.FromSeconds(form.Seconds.Value switch { "30" => 30, "10" => 10, _ => 2 });
        (DayPlan? found, Reason? why) = await searches.RunAsync(form.Once, plan, most, cancel);
        cancel.ThrowIfCancellationRequested();
        if (found is null)
        {
            form.Refuse(why!.Text);
            return await OfAsync(desk, form, null, cancel);
        }

        return await KeepAsync(form, found, "The order is settled; the bench follows it.", day, lines, desk, gauges, writer, cancel);
    }

    /// <summary>Stops the search that this form began: the best order so far is kept. Both answers may arrive; the form's token keeps it once.</summary>
    public static async Task<IResult> StopAsync(HttpContext http, DayDesk desk, DaySearches searches, GaugeDesk gauges, BookWriter writer, CancellationToken cancel)
    {
        (DateOnly day, IReadOnlyList<RackLine> lines, _) = await desk.TodayAsync(cancel);
        DayForm form = new(lines, day);
        await form.ReadAsync(http);
        if (await searches.StopAsync(form.Once) is not { } found)
            return Page.SeeOther("/rack/day", "No search was under way; nothing was changed.");
        return await KeepAsync(form, found, "Stopped: the best order so far is settled; the bench follows it.", day, lines, desk, gauges, writer, cancel);
    }

    private static async Task<IResult> KeepAsync(
        DayForm form, DayPlan found, string told, DateOnly day, IReadOnlyList<RackLine> lines, DayDesk desk, GaugeDesk gauges, BookWriter writer, CancellationToken cancel) =>
        KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => gauges.PlanDayAsync(db, day, found.ToJson(), false, KitAnswer.Seen(form), cancel), _ => "/rack/day", cancel), form,
            told, theirs => (new DayForm(lines, day), theirs.Id)) ?? await OfAsync(desk, form, null, cancel);

    /// <summary>A person's own order: one moved up or down, or all of them as dragged.</summary>
    public static async Task<IResult> MoveAsync(HttpContext http, DayDesk desk, GaugeDesk gauges, BookWriter writer, CancellationToken cancel)
    {
        BareDayForm form = new();
        await form.ReadAsync(http);
        (DateOnly day, _, _) = await desk.TodayAsync(cancel);
        if (await desk.KeptAsync(day, cancel) is not { } kept || DayPlan.Read(kept.PlanJson) is not { } plan)
            return Page.SeeOther("/rack/day", "There is no order for today any more; settle one.");
        string? line = form.Move.Value?.Split(':')[0];
        List<string> ids = [.. plan.Operations.Select(o => o.Id)];
        if (form.Order.Value is { } dragged)
            ids = [.. dragged.Split(' ', StringSplitOptions.RemoveEmptyEntries)];
        else if (form.Move.Value?.Split(':') is [var id, var way] && ids.IndexOf(id) is >= 0 and var at && (way == "up" ? at - 1 : at + 1) is var to && to >= 0 && to < ids.Count)
            (ids[at], ids[to]) = (ids[to], ids[at]);
        (DayPlan? moved, string? wrong) = plan.By(ids);
        if (moved is null)
            return await OfAsync(desk, null, wrong, cancel);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => gauges.PlanDayAsync(db, day, moved.ToJson(), true, KitAnswer.Seen(form), cancel), _ => line is null ? "/rack/day" : $"/rack/day#line-{line}", cancel), form, "Moved.",
            theirs => (new BareDayForm(), theirs.Id)) ?? await OfAsync(desk, null, "Somebody else changed the order meanwhile; this is how it stands now.", cancel);
    }

    private static async Task<IResult> OfAsync(DayDesk desk, DayForm? form, string? wrong, CancellationToken cancel)
    {
        (DateOnly day, IReadOnlyList<RackLine> lines, _) = await desk.TodayAsync(cancel);
        BenchDayPlanned? kept = await desk.KeptAsync(day, cancel);
        DayPlan? plan = kept is null ? null : DayPlan.Read(kept.PlanJson);
        string version = KitAnswer.Version(kept?.Id);
        form ??= new DayForm(lines, day);
        if (form.VersionSeen.Length == 0)
            form.VersionSeen = version;
        int status = wrong is null ? form.Status : StatusCodes.Status422UnprocessableEntity;
        return Page.Of<DayPage>("The day's order", new DayModel(day, plan, plan?.Cost, kept?.ByHand ?? false, version, plan is null ? new HashSet<string>(StringComparer.Ordinal) : DayDesk.Done(plan, lines), form, wrong), Room.Rack, status);
    }
}

/// <summary>A move.</summary>
public sealed class BareDayForm : WebForm
{
    /// <summary>Its fields.</summary>
    public BareDayForm()
    {
        Move = Add(new TextField("move", "Move") { MaxLength = 60 });
        Order = Add(new TextField("order", "Order") { MaxLength = 20_000 });
    }

    /// <summary>Id and way.</summary>
    public TextField Move { get; }

    /// <summary>All ids, as dragged.</summary>
    public TextField Order { get; }
}
