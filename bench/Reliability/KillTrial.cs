using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Sqlite;

namespace Whetwright.Reliability;

/// <summary>What was left after the killing.</summary>
/// <param name="Kills">How often the writer was killed.</param>
/// <param name="Acknowledged">Saves that it had said were done.</param>
/// <param name="Lost">Of them, those that the book does not have.</param>
/// <param name="Saved">Saves in the book, with those that were done but not yet said.</param>
/// <param name="Half">Saves of which only a part is there: a receipt without its two pieces, four charges, deposit and aim.</param>
/// <param name="Integrity">What SQLite says of the file: "ok".</param>
public sealed record KillTrial(int Kills, int Acknowledged, int Lost, int Saved, int Half, string Integrity)
{
    public bool IsIntact => Lost == 0 && Half == 0 && Integrity == "ok" && Acknowledged > 0;

    public static async Task<KillTrial> RunAsync(string folder, int kills, int seed)
    {
        Random random = new(seed);
        long owner = await StartAsync(folder);
        List<string> acknowledged = [];
        for (int kill = 0; kill < kills; kill++)
            acknowledged.AddRange(await OneAsync(folder, owner, saves: random.Next(1, 6), wait: TimeSpan.FromMilliseconds(random.Next(0, 40))));
        return await CountAsync(folder, kills, acknowledged);
    }

    private static async Task<long> StartAsync(string folder)
    {
        await using ServiceProvider services = new ServiceCollection().AddBook(folder).BuildServiceProvider();
        await services.OpenBookAsync();
        OwnerDesk desk = services.GetRequiredService<OwnerDesk>();
        SaveOutcome<Owner> owner = await services.GetRequiredService<BookWriter>().WriteAsync(db => desk.AddAsync(db, new OwnerForm { Name = "Invented Kitchen" }));
        return ((SaveOutcome<Owner>.Saved)owner).Value.Id;
    }

    /// <summary>Starts the writer, waits for some saves and a moment more, and kills it with SIGKILL.</summary>
    private static async Task<IReadOnlyList<string>> OneAsync(string folder, long owner, int saves, TimeSpan wait)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "Whetwright.Reliability.dll");
        using Process writer = Process.Start(new ProcessStartInfo("dotnet", ["exec", program, "write", folder, owner.ToString(CultureInfo.InvariantCulture)]) { RedirectStandardOutput = true, UseShellExecute = false })!;
        List<string> said = [];
        while (said.Count < saves && await writer.StandardOutput.ReadLineAsync() is { } line)
            said.Add(line);
        await Task.Delay(wait);
        writer.Kill();
        while (await writer.StandardOutput.ReadLineAsync() is { } line)
            said.Add(line);
        await writer.WaitForExitAsync();
        return [.. said.Where(t => t.Length == 32)]; // a token cut off by the kill was not acknowledged
    }

    private static async Task<KillTrial> CountAsync(string folder, int kills, List<string> acknowledged)
    {
        await using ServiceProvider services = new ServiceCollection().AddBook(folder).BuildServiceProvider();
        await services.OpenBookAsync();
        await using BookContext db = await services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        HashSet<string> tokens = [.. await db.Submissions.Select(s => s.Token).ToListAsync()];
        int whole = await db.Intakes.CountAsync(i =>
            i.Visits.Count == 2 && db.Charges.Count(c => c.Visit!.IntakeId == i.Id) == 4 && db.Payments.Count(p => p.IntakeId == i.Id) == 1
            && db.Aims.Count(a => a.Visit!.IntakeId == i.Id) == 1 && db.Submissions.Any(s => s.Result == "/intakes/" + i.Id));
        int all = Math.Max(await db.Intakes.CountAsync(), tokens.Count);
        List<string> integrity = await db.Database.SqlQueryRaw<string>("PRAGMA integrity_check").ToListAsync();
        return new KillTrial(kills, acknowledged.Count, acknowledged.Count(t => !tokens.Contains(t)), all, all - whole, string.Join("; ", integrity));
    }
}
