using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records.History;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Book.Replaying;

/// <summary>Stored results under the present method.</summary>
/// <param name="Changed">Those with a number that changed by more than its uncertainty.</param>
/// <param name="CannotBe">Those that cannot be made again.</param>
/// <param name="Tried">How many were made again.</param>
/// <param name="Of">How many there are.</param>
/// <param name="Page">1-based.</param>
/// <param name="Pages">Pages.</param>
/// <param name="Methods">Methods they were kept by, with how many.</param>
public sealed record ReplayModel(IReadOnlyList<Replayed> Changed, IReadOnlyList<Replayed> CannotBe, int Tried, int Of, int Page, int Pages, IReadOnlyList<(string Was, string Now, int Count)> Methods);

/// <summary>Recomputes what is stored, a page at a time; changes nothing.</summary>
internal static class ReplayBook
{
    private const int APage = 200; // of each kind; chosen, not derived: a second or two

    public static async Task<IResult> ShowAsync(HttpContext http, ReplayQuery stored, CancellationToken cancel)
    {
        int page = int.TryParse(http.Request.Query["page"], NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n is >= 1 and < 1_000_000 ? n : 1;
        (int readings, int settings) = await stored.CountAsync(cancel);
        int skip = (page - 1) * APage;
        var some = await stored.ReadingsAsync(skip, APage, cancel);
        var others = await stored.SettingsAsync(skip, APage, cancel);
        List<Replayed> made = await Task.Run(() =>
        {
            List<Replayed> list = [];
            foreach (var reading in some)
            {
                cancel.ThrowIfCancellationRequested();
                list.Add(Replay.Of(reading));
            }

            foreach (var setting in others)
            {
                cancel.ThrowIfCancellationRequested();
                list.Add(Replay.Of(setting));
            }

            return list;
        }, cancel);
        ReplayModel model = new(
            [.. made.Where(r => r.Changed)], [.. made.Where(r => r.CannotBe is not null)], made.Count, readings + settings, page, Math.Max(1, (Math.Max(readings, settings) + APage - 1) / APage),
            [.. made.GroupBy(r => (r.MethodWas, r.MethodNow)).Select(g => (g.Key.MethodWas, g.Key.MethodNow, g.Count()))]);
        return Page.Of<ReplayPage>("Made again", model, Room.Book);
    }
}
