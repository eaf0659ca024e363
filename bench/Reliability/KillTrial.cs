using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Postgres;
using Whetwright.Records.Saving;

namespace Whetwright.Reliability;

/// <summary>What was left after the killing.</summary>
/// <param name="Kills">How often the writer was killed.</param>
/// <param name="ServerKills">Of them, how often the database's server with it.</param>
/// <param name="Acknowledged">Saves that it had said were done.</param>
/// <param name="Lost">Of them, those that the book does not have.</param>
/// <param name="Saved">Saves in the book, with those that were done but not yet said.</param>
/// <param name="Half">Saves of which only a part is there: a receipt without its two pieces, four charges, deposit and aim; a photo without its whole bytes.</param>
/// <param name="Integrity">What the database says of itself: "ok".</param>
public sealed record KillTrial(int Kills, int ServerKills, int Acknowledged, int Lost, int Saved, int Half, string Integrity)
{
    public bool IsIntact => Lost == 0 && Half == 0 && Integrity == "ok" && Acknowledged > 0;

    public static async Task<KillTrial> RunAsync(BookOptions options, ThrowAwayServer? server, int kills, int seed)
    {
        Random random = new(seed);
        long owner = await StartAsync(options);
        List<string> acknowledged = [];
        int serverKills = 0;
        for (int kill = 0; kill < kills; kill++)
        {
            bool both = server is not null && kill % 4 == 3; // every fourth time the server loses its power, too
            acknowledged.AddRange(await OneAsync(options, owner, saves: random.Next(1, 12), wait: TimeSpan.FromMilliseconds(random.Next(0, 40)), both ? server : null));
            serverKills += both ? 1 : 0;
            if (kill % 50 == 49)
                Console.Error.WriteLine($"{kill + 1} kills, {acknowledged.Count} saves acknowledged");
        }

        return await CountAsync(options, server, kills, serverKills, acknowledged);
    }

    private static async Task<long> StartAsync(BookOptions options)
    {
        await using ServiceProvider services = new ServiceCollection().AddChosenBook(options).BuildServiceProvider();
        await services.OpenBookAsync();
        OwnerDesk desk = services.GetRequiredService<OwnerDesk>();
        SaveOutcome<Owner> owner = await services.GetRequiredService<BookWriter>().WriteAsync(db => desk.AddAsync(db, new OwnerForm { Name = "Invented Kitchen" }));
        return ((SaveOutcome<Owner>.Saved)owner).Value.Id;
    }

    /// <summary>Starts the writer, waits for some saves and a moment more, and kills it with SIGKILL.</summary>
    private static async Task<IReadOnlyList<string>> OneAsync(BookOptions options, long owner, int saves, TimeSpan wait, ThrowAwayServer? server)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "Whetwright.Reliability.dll");
        string[] command = ["exec", program, "write", options.DataFolder, owner.ToString(CultureInfo.InvariantCulture), .. options.ConnectionString is { } connection ? [connection] : Array.Empty<string>()];
        using Process writer = Process.Start(new ProcessStartInfo("dotnet", command) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
        Task<string> complaints = writer.StandardError.ReadToEndAsync();
        List<string> said = [];
        while (said.Count < saves && await writer.StandardOutput.ReadLineAsync() is { } line)
            said.Add(line);
        if (said.Count == 0)
            throw new InvalidOperationException($"The writer ended before it was killed: {await complaints}");
        await Task.Delay(wait);
        server?.KillAndStartAgain();
        writer.Kill();
        while (await writer.StandardOutput.ReadLineAsync() is { } line)
            said.Add(line);
        await writer.WaitForExitAsync();
        return [.. said.Where(t => t.Length == 32)]; // a token cut off by the kill was not acknowledged
    }

    private static async Task<KillTrial> CountAsync(BookOptions options, ThrowAwayServer? server, int kills, int serverKills, List<string> acknowledged)
    {
        Npgsql.NpgsqlConnection.ClearAllPools(); // connections to the server that was killed
        await using ServiceProvider services = new ServiceCollection().AddChosenBook(options).BuildServiceProvider();
        await services.OpenBookAsync();
        await using BookContext db = await services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        var saves = await db.Submissions.Select(s => new { s.Token, s.Result }).ToListAsync();
        HashSet<string> tokens = [.. saves.Select(s => s.Token)];
        int intakes = Math.Max(await db.Intakes.CountAsync(), saves.Count(s => s.Result.StartsWith("/intakes/", StringComparison.Ordinal)));
        int whole = await db.Intakes.CountAsync(i =>
            i.Visits.Count == 2 && db.Charges.Count(c => c.Visit!.IntakeId == i.Id) == 4 && db.Payments.Count(p => p.IntakeId == i.Id) == 1
            && db.Aims.Count(a => a.Visit!.IntakeId == i.Id) == 1 && db.Submissions.Any(s => s.Result == "/intakes/" + i.Id));
        int photos = Math.Max(await db.Photos.CountAsync(), saves.Count(s => s.Result.StartsWith("/photos/", StringComparison.Ordinal)));
        IPhotoShelf shelf = services.GetRequiredService<IPhotoShelf>();
        int wholePhotos = 0;
        foreach (string hash in await db.Photos.Select(p => p.Hash).ToListAsync())
            wholePhotos += await ShelfBytes.ReadAsync(shelf, hash) is { } bytes && ShelfBytes.HashOf(bytes) == hash ? 1 : 0;
        string integrity = await services.GetRequiredService<BookDoor>().IntegrityAsync() ?? server?.Check("kills") ?? "ok";
        return new KillTrial(kills, serverKills, acknowledged.Count, acknowledged.Count(t => !tokens.Contains(t)), tokens.Count, intakes - whole + photos - wholePhotos, integrity);
    }
}
