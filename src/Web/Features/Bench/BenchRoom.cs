using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Bench;

/// <summary>What lies on the bench, and what waits for it.</summary>
/// <param name="Now">Pieces begun and not ready, by promise.</param>
/// <param name="Waiting">Pieces not begun, by promise.</param>
/// <param name="Ready">How many are ready to be fetched.</param>
/// <param name="Today">The shop's day.</param>
public sealed record BenchRoomModel(IReadOnlyList<RackLine> Now, IReadOnlyList<RackLine> Waiting, int Ready, DateOnly Today)
{
    /// <summary>What the day's order says to do next; null where none is settled or all is done.</summary>
    public Workbench.Days.DayLine? Next { get; init; }

    /// <summary>Most pieces that wait are on the rack; the bench shows the first.</summary>
    public const int Shown = 12;
}

/// <summary>The room itself, and the way to a visit's next step.</summary>
internal static class BenchRoom
{
    public static async Task<IResult> ShowAsync(RackQuery rack, BookClock clock, BenchVisitQuery visits, Rack.Day.DayDesk day, CancellationToken cancel)
    {
        (Workbench.Days.DayPlan? plan, IReadOnlySet<string> done) = await day.StandsAsync(cancel);
        IReadOnlyList<RackLine> open = await rack.OpenAsync(RackOrder.Promise, cancel);
        DateOnly today = clock.Today((await visits.KitAsync(cancel)).Shop.Zone());
        BenchRoomModel model = new(
            [.. open.Where(l => l.Standing.Next is not null && l.Standing.Steps.Any(s => s.Progress != StepProgress.Open))],
            [.. open.Where(l => l.Standing.Steps.All(s => s.Progress == StepProgress.Open))],
            open.Count(l => l.Standing.Next is null),
            today) { Next = plan?.Times.FirstOrDefault(l => !done.Contains(l.Operation.Id)) };
        return Page.Of<BenchPage>("Bench", model, Room.Bench);
    }

    /// <summary>Leads to the step that comes next; to the check where all is done.</summary>
    public static Task<IResult> NextAsync(string tag, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, visit => (IResult)new NextStep(BenchDoor.Address(visit, visit.Standing.Next ?? BenchStep.Check)), cancel);

    /// <summary>Address of a line's visit.</summary>
    public static string Address(RackLine line) => "/bench/" + TagNumber.Format(line.Tag);

    /// <summary>A redirect that leaves a told line for the page it leads to.</summary>
    private sealed class NextStep(string address) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            httpContext.Response.StatusCode = StatusCodes.Status303SeeOther;
            httpContext.Response.Headers.Location = address;
            return Task.CompletedTask;
        }
    }
}
