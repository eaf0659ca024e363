using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Load;
using Whetwright.Records;
using Whetwright.Records.Sqlite;
using Whetwright.Sight.Pictures;
using Whetwright.Web.Serving;
using Whetwright.Workbench.Demo;

// "load [MINUTES] [DEVICES]": devices that look and save. "fuzz [REQUESTS] [IMAGES]": what nobody should send. Both on an invented shop, seeded.
// "serve FOLDER" is the shop that they start.
const int Seed = 20260302;
switch (args)
{
    case ["serve", string folder]:
        return await ServeAsync(folder);
    case ["load", .. string[] rest]:
        return await WithShopAsync(shop => LoadAsync(shop, Number(rest, 0, 10), (int)Number(rest, 1, 20)));
    case ["fuzz", .. string[] rest]:
        return await WithShopAsync(shop => FuzzAsync(shop, (int)Number(rest, 0, 10_000), (int)Number(rest, 1, 2_000)));
    default:
        Console.Error.WriteLine("load [MINUTES] [DEVICES] | fuzz [REQUESTS] [IMAGES]");
        return 2;
}

static double Number(string[] rest, int at, double otherwise) => at < rest.Length ? double.Parse(rest[at], CultureInfo.InvariantCulture) : otherwise;

static async Task<int> ServeAsync(string folder)
{
    await using WebApplication app = await WebShop.BuildAsync(new ServeOptions(folder, ["http://127.0.0.1:0"]));
    await app.StartAsync();
    Console.WriteLine(app.Urls.Single());
    await Console.In.ReadToEndAsync();
    await app.StopAsync();
    return 0;
}

static async Task<int> WithShopAsync(Func<ShopProcess, Task<int>> work)
{
    string folder = Directory.CreateTempSubdirectory("whetwright-load-").FullName;
    try
    {
        DemoClock clock = new();
        await using (ServiceProvider services = new ServiceCollection().AddSingleton<TimeProvider>(clock).AddBook(folder).BuildServiceProvider())
        {
            await services.OpenBookAsync();
            await new DemoShop(services, clock, DateTime.UtcNow).FillAsync(_ => { }, CancellationToken.None);
        }

        await using ShopProcess shop = await ShopProcess.StartAsync(folder);
        return await work(shop);
    }
    finally
    {
        Directory.Delete(folder, recursive: true);
    }
}

static async Task<int> LoadAsync(ShopProcess shop, double minutes, int devices)
{
    using HttpClient first = shop.Client();
    Crawl crawl = await Crawl.WalkAsync(first, 250, "/rack", "/bench", "/book?q=a", "/counter/owners/new");
    Console.WriteLine($"{crawl.Pages.Count} pages; load of the machine: {(File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Trim() : "unknown")}");
    Tally tally = new();
    List<HttpClient> clients = [.. Enumerable.Range(0, devices).Select(_ => shop.Client())];
    using CancellationTokenSource day = new(TimeSpan.FromMinutes(minutes));
    Task[] work = [.. clients.Select((c, i) => new Device(c, crawl, new Random(Seed + i), tally).WorkAsync(day.Token))];
    List<double> memory = [];
    Task all = Task.WhenAll(work);
    while (await Task.WhenAny(all, Task.Delay(TimeSpan.FromMinutes(minutes / 20))) != all)
        memory.Add(shop.MemoryMb);
    await all;
    Console.WriteLine(tally.Words(minutes));
    Console.WriteLine($"memory, MB, at each twentieth: {string.Join(' ', memory.Select(m => m.ToString("0", CultureInfo.InvariantCulture)))}");
    Console.WriteLine($"load of the machine: {(File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Trim() : "unknown")}");
    foreach (IGrouping<string, string> error in tally.Errors.GroupBy(e => e).OrderByDescending(g => g.Count()).Take(10))
        Console.WriteLine($"  {error.Count()} × {error.Key}");
    clients.ForEach(c => c.Dispose());
    return tally.Errors.Count == 0 && shop.Runs ? 0 : 1;
}

static async Task<int> FuzzAsync(ShopProcess shop, int requests, int images)
{
    using HttpClient client = shop.Client();
    Crawl crawl = await Crawl.WalkAsync(client, 250, "/rack", "/bench", "/book?q=a", "/counter/owners/new");
    Random random = new(Seed);
    Fuzz fuzz = new(client, crawl, random);
    string samples = Path.Combine(Repository(), "samples");
    BrokenImages broken = new([PhotoCopy.Reduce(File.ReadAllBytes(Path.Combine(samples, "photos", "normal", "photo.jpg")), 640), PhotoCopy.Reduce(File.ReadAllBytes(Path.Combine(samples, "mats", "photo.jpg")), 640), SmallPng.Bytes], random);
    List<Fuzzed> sent = [];
    List<double> memory = [];
    for (int i = 0; i < requests + images && shop.Runs; i++)
    {
        sent.Add(i < requests ? await fuzz.NextAsync() : await fuzz.ImageAsync(broken.Next()));
        if (i % Math.Max(1, (requests + images) / 20) == 0)
            memory.Add(shop.MemoryMb);
    }

    foreach (IGrouping<int, Fuzzed> status in sent.GroupBy(f => f.Status).OrderBy(g => g.Key))
        Console.WriteLine($"{status.Key}: {status.Count()}");
    Fuzzed[] bad = [.. sent.Where(f => f.IsBad)];
    Console.WriteLine(FormattableString.Invariant($"{sent.Count} sent, {bad.Length} bad, longest {sent.Max(f => f.Ms):0} ms; the shop {(shop.Runs ? "runs" : "is gone")}"));
    Console.WriteLine($"memory, MB, at each twentieth: {string.Join(' ', memory.Select(m => m.ToString("0", CultureInfo.InvariantCulture)))}");
    foreach (Fuzzed one in bad.Take(20))
        Console.WriteLine($"  {one.Status} {one.What}");
    return bad.Length == 0 && shop.Runs ? 0 : 1;
}

static string Repository()
{
    DirectoryInfo? at = new(AppContext.BaseDirectory);
    while (at is not null && !File.Exists(Path.Combine(at.FullName, "Whetwright.slnx")))
        at = at.Parent;
    return at?.FullName ?? throw new InvalidOperationException("Run it inside the repository.");
}
