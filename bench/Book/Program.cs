using System.Diagnostics;
using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Book;
using Whetwright.Records;
using Whetwright.Records.History;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Shop;
using Whetwright.Records.Sqlite;
using Whetwright.Records.Standing;

// dotnet run --project bench/Book -c Release [-- VISITS FOLDER]: fills an invented book once and measures what a server does for each page.
int visits = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 100_000;
string folder = args.Length > 1 ? args[1] : Path.Combine(Path.GetTempPath(), string.Create(CultureInfo.InvariantCulture, $"whetwright-bench-book-{visits}"));
await using ServiceProvider services = new ServiceCollection().AddBook(folder).BuildServiceProvider();
await services.OpenBookAsync();
if ((await services.GetRequiredService<BookQuery>().SearchAsync("1001")).Visit is null)
{
    long began = Stopwatch.GetTimestamp();
    Generator.Fill(folder, visits, seed: 20260302);
    Console.WriteLine($"filled {visits} visits in {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s");
}

Console.WriteLine($"{visits} visits, {new FileInfo(Path.Combine(folder, SqliteBook.FileName)).Length / 1e6:0} MB, {Environment.ProcessorCount} cores");
BookQuery book = services.GetRequiredService<BookQuery>();
OwnerQuery owners = services.GetRequiredService<OwnerQuery>();
RackQuery rack = services.GetRequiredService<RackQuery>();
Takings takings = services.GetRequiredService<Takings>();
LoadQuery load = services.GetRequiredService<LoadQuery>();
LastTimeQuery last = services.GetRequiredService<LastTimeQuery>();
string[] typed = ["amsel", "hana storch", "170 55", "rab", "scissors 120", "zz nobody", "o77", "50123", "single", "a"];
Random random = new(7);
(string Name, Func<int, Task> Work)[] pages =
[
    ("book search", i => book.SearchAsync(typed[i % typed.Length])),
    ("counter, owner as typed", i => owners.FindAsync(typed[i % typed.Length])),
    ("rack", _ => rack.OpenAsync()),
    ("piece page", _ => book.PieceAsync(1 + random.Next(visits / 4))),
    ("owner page", _ => book.OwnerAsync(1 + random.Next(visits / 12))),
    ("bench, one visit", i => book.VisitAsync(visits - (i % Generator.Here))),
    ("as last time", i => last.BeforeAsync(visits - (i % Generator.Here))),
    ("month's takings", i => takings.MonthAsync(2015 + (i % 10), 1 + (i % 12), TimeZoneInfo.Utc)),
    ("load of the coming days", _ => load.ComingAsync(new DateOnly(2026, 1, 5))),
];
Console.WriteLine($"{"",-26} {"median",8} {"p95",8} {"most",8}  ms");
foreach ((string name, Func<int, Task> work) in pages)
{
    for (int i = 0; i < 30; i++)
        await work(i);
    double[] ms = new double[300];
    for (int i = 0; i < ms.Length; i++)
    {
        long began = Stopwatch.GetTimestamp();
        await work(i);
        ms[i] = Stopwatch.GetElapsedTime(began).TotalMilliseconds;
    }

    Array.Sort(ms);
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-26} {ms[150],8:0.0} {ms[284],8:0.0} {ms[^1],8:0.0}"));
}
