namespace Whetwright.Load;

/// <summary>What a walk through the shop found.</summary>
/// <param name="Pages">Addresses that answered with a page.</param>
/// <param name="Forms">Forms on them, each address once.</param>
public sealed record Crawl(IReadOnlyList<string> Pages, IReadOnlyList<SeenForm> Forms)
{
    /// <summary>Walks from the first page along links, broad before deep.</summary>
    /// <param name="client">A browser.</param>
    /// <param name="most">Most pages.</param>
    /// <param name="starts">Where to begin beside the first page.</param>
    public static async Task<Crawl> WalkAsync(HttpClient client, int most, params IEnumerable<string> starts)
    {
        Queue<string> next = new(starts.Prepend("/"));
        HashSet<string> seen = [.. next];
        List<string> pages = [];
        Dictionary<string, SeenForm> forms = new(StringComparer.Ordinal);
        while (next.Count > 0 && pages.Count < most)
        {
            string at = next.Dequeue();
            if (IsHeavy(at))
                continue;
            using HttpResponseMessage answer = await client.GetAsync(new Uri(at, UriKind.Relative));
            if (!answer.IsSuccessStatusCode || answer.Content.Headers.ContentType?.MediaType != "text/html")
                continue;
            string html = await answer.Content.ReadAsStringAsync();
            pages.Add(at);
            foreach (SeenForm form in SeenForm.In(html))
                forms.TryAdd(form.Action, form);
            foreach (string link in SeenForm.Links(html).Where(seen.Add))
                next.Enqueue(link);
        }

        return new(pages, [.. forms.Values]);
    }

    /// <summary>Makes whole copies of the book: right once, no use ten thousand times.</summary>
    public static bool IsHeavy(string address) =>
        address.StartsWith("/book/export", StringComparison.Ordinal) || address.StartsWith("/kit/safe", StringComparison.Ordinal) || address.EndsWith(".pdf", StringComparison.Ordinal);
}
