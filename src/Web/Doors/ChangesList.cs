using Microsoft.AspNetCore.Http;
using Whetwright.Records.Changes;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Doors;

/// <summary>Who changed what.</summary>
internal static class ChangesList
{
    public static async Task<IResult> ShowAsync(int? page, ChangeQuery changes, CancellationToken cancel) =>
        Page.Of<ChangesPage>("Who changed what", await changes.PageAsync(page ?? 1, cancel), Room.Kit);
}
