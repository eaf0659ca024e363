using Microsoft.AspNetCore.Http;
using Whetwright.Records.Owners;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Counter;

/// <summary>Who stands at the counter.</summary>
/// <param name="Typed">What was typed.</param>
/// <param name="Found">Owners that fit.</param>
public sealed record FindModel(string? Typed, IReadOnlyList<OwnerFound> Found);

/// <summary>Finds an owner as one types.</summary>
internal static class Find
{
    public static async Task<IResult> ShowAsync(OwnerQuery owners, string? who, CancellationToken cancel)
    {
        string? typed = string.IsNullOrWhiteSpace(who) ? null : who.Trim();
        return Page.Of<CounterPage>("Counter", new FindModel(typed, await owners.FindAsync(typed, 12, cancel)), Room.Counter);
    }
}
