using System.Diagnostics;
using System.Net;

namespace Whetwright.Load;

/// <summary>Times and mistakes of all devices.</summary>
internal sealed class Tally
{
    private readonly Lock gate = new();
    private readonly List<double> reads = [], saves = [];

    /// <summary>What went wrong.</summary>
    public List<string> Errors { get; } = [];

    public void Add(bool save, double ms)
    {
        lock (gate)
            (save ? saves : reads).Add(ms);
    }

    public void Error(string what)
    {
        lock (gate)
            Errors.Add(what);
    }

    public string Words(double minutes)
    {
        lock (gate)
        {
            return string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"reads {reads.Count} ({reads.Count / minutes / 60:0.0} a second): {Figures(reads)}\nsaves {saves.Count} ({saves.Count / minutes / 60:0.0} a second): {Figures(saves)}\nall: {Figures([.. reads, .. saves])}\nerrors: {Errors.Count}");
        }
    }

    private static string Figures(List<double> ms)
    {
        if (ms.Count == 0)
            return "none";
        double[] sorted = [.. ms.Order()];
        double At(double part) => sorted[Math.Min(sorted.Length - 1, (int)(part * sorted.Length))];
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"median {At(0.5):0.0} ms, p95 {At(0.95):0.0} ms, p99 {At(0.99):0.0} ms, longest {sorted[^1]:0} ms");
    }
}

/// <summary>One device: somebody looks, thinks for a moment, looks, and saves now and then.</summary>
/// <param name="client">Its browser.</param>
/// <param name="crawl">What the shop has.</param>
/// <param name="random">Seeded.</param>
/// <param name="tally">Where times go.</param>
internal sealed class Device(HttpClient client, Crawl crawl, Random random, Tally tally)
{
    private const int SaveEvery = 4; // one action in so many saves: chosen, not derived
    private const double ThinkFrom = 0.3, ThinkTo = 1.2; // seconds between two actions: chosen, quicker than people

    private readonly string[] looks = [.. crawl.Pages.Where(p => !p.StartsWith("/kit/devices", StringComparison.Ordinal))];
    private readonly string[] saving = [.. crawl.Pages.Where(p => p.StartsWith("/book/visits/", StringComparison.Ordinal) || p.StartsWith("/rack/", StringComparison.Ordinal) || p == "/counter/owners/new" || p.EndsWith("/grind", StringComparison.Ordinal))];

    public async Task WorkAsync(CancellationToken until)
    {
        while (!until.IsCancellationRequested)
        {
            try
            {
                if (random.Next(SaveEvery) == 0 && saving.Length > 0)
                    await SaveAsync(saving[random.Next(saving.Length)]);
                else
                    await LookAsync(random.Next(5) == 0 ? $"/book?q={(char)random.Next('a', 'z')}{(char)random.Next('a', 'z')}" : looks[random.Next(looks.Length)]);
                await Task.Delay(TimeSpan.FromSeconds(ThinkFrom + (random.NextDouble() * (ThinkTo - ThinkFrom))), until);
            }
            catch (OperationCanceledException) when (until.IsCancellationRequested)
            {
                // The day is over.
            }
            catch (HttpRequestException e)
            {
                tally.Error(e.Message);
            }
        }
    }

    private async Task<string> LookAsync(string at)
    {
        long began = Stopwatch.GetTimestamp();
        using HttpResponseMessage answer = await client.GetAsync(new Uri(at, UriKind.Relative));
        string html = await answer.Content.ReadAsStringAsync();
        tally.Add(save: false, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        if (answer.StatusCode is not (HttpStatusCode.OK or HttpStatusCode.SeeOther or HttpStatusCode.Found))
            tally.Error($"GET {at}: {(int)answer.StatusCode}");
        return html;
    }

    private async Task SaveAsync(string page)
    {
        string html = await LookAsync(page);
        SeenForm? form = SeenForm.In(html).FirstOrDefault(f => f.Action == page || f.Action.EndsWith("/grind/pass", StringComparison.Ordinal));
        if (form is null)
            return;
        IEnumerable<KeyValuePair<string, string>> fields = form.Fields.Select(f => f.Key switch
        {
            "text" => new(f.Key, $"Seen by the bench run, {random.Next(1000)}"),
            "name" when page == "/counter/owners/new" => new(f.Key, $"Invented {random.Next(1_000_000)}"),
            "place" => new(f.Key, $"shelf {random.Next(20)}"),
            _ => f,
        });
        using FormUrlEncodedContent content = new(fields);
        long began = Stopwatch.GetTimestamp();
        using HttpResponseMessage answer = await client.PostAsync(new Uri(form.Action, UriKind.Relative), content);
        await answer.Content.CopyToAsync(Stream.Null);
        tally.Add(save: true, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        // 409: somebody else was at the same piece at the same moment and is told so; that is right and no error.
        if (answer.StatusCode is not (HttpStatusCode.SeeOther or HttpStatusCode.Conflict))
            tally.Error($"POST {form.Action}: {(int)answer.StatusCode}");
    }
}
