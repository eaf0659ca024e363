using Microsoft.AspNetCore.Http;
using Whetwright.Records.Bench;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>The step Read: what is known of the edge, and the ways to know more.</summary>
internal static class ReadStep
{
    public static Task<IResult> ShowAsync(string tag, BenchVisitQuery visits, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, visit =>
        {
            ReadScreen screen = new(visit, ShownReading.Of(visit, ReadingPurpose.Found));
            return Page.Of<ReadPage>(screen.Title, screen, Room.Bench);
        }, cancel);
}
