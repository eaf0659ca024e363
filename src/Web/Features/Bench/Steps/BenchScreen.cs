using Microsoft.AspNetCore.Http;
using Whetwright.Records.Bench;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Bench.Steps;

/// <summary>What every screen of the bench shows: one piece, one step. Screens of a step derive from it.</summary>
/// <param name="Visit">The visit with its facts.</param>
/// <param name="Step">The step.</param>
public record BenchScreen(BenchVisit Visit, BenchStep Step)
{
    /// <summary>Address of the step.</summary>
    public string Here => BenchDoor.Address(Visit, Step);

    /// <summary>Title of the page.</summary>
    public string Title => $"{Step}: {Visit.Piece.Name}";
}

/// <summary>The way in: from the tag in an address to the visit.</summary>
internal static class BenchDoor
{
    /// <summary>Address of the visit: leads to its next step.</summary>
    public static string Address(BenchVisit visit) => $"/bench/{visit.Tag}";

    /// <summary>Address of a step.</summary>
    public static string Address(BenchVisit visit, BenchStep step) => $"/bench/{visit.Tag}/{step.Key()}";

    /// <summary>Opens the visit of a tag and goes on with it; a tag that is none, or is not in the book, is answered here.</summary>
    public static async Task<IResult> WithAsync(string tag, BenchVisitQuery visits, Func<BenchVisit, Task<IResult>> then, CancellationToken cancel)
    {
        if (!TagNumber.TryParse(tag, out int number))
            return Page.NotFound($"'{tag}' is not the number of a tag: its last digit checks the others and does not fit. Read it again; one such as {TagNumber.Format(1001)} would be right.");
        return await visits.ByTagAsync(number, cancel) is { } visit
            ? await then(visit)
            : Page.NotFound($"No piece with the tag {TagNumber.Format(number)} is in the book. Look for it in the rack.");
    }

    /// <summary>The same for what does not wait.</summary>
    public static Task<IResult> WithAsync(string tag, BenchVisitQuery visits, Func<BenchVisit, IResult> then, CancellationToken cancel) =>
        WithAsync(tag, visits, visit => Task.FromResult(then(visit)), cancel);
}
