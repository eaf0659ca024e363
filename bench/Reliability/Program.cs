using System.Globalization;
using Whetwright.Records;
using Whetwright.Reliability;

// "write FOLDER OWNER [CONNECTION]" is the program that gets killed; "sqlite KILLS" and "postgres KILLS" kill it again and again and then look at the book.
switch (args)
{
    case ["write", string folder, string owner]:
        return await Writing.ForeverAsync(new BookOptions { DataFolder = folder }, long.Parse(owner, CultureInfo.InvariantCulture));
    case ["write", string folder, string owner, string connection]:
        return await Writing.ForeverAsync(new BookOptions { DataFolder = folder, Store = BookStore.Postgres, ConnectionString = connection }, long.Parse(owner, CultureInfo.InvariantCulture));
    case ["sqlite", string kills]:
        return await TrialAsync(server: null, kills);
    case ["postgres", string kills]:
        using (ThrowAwayServer? server = ThrowAwayServer.Start(fsync: true))
        {
            if (server is not null)
                return await TrialAsync(server, kills);
        }

        Console.Error.WriteLine("This machine has no PostgreSQL: apt-get install postgresql would be right.");
        return 3;
    default:
        Console.Error.WriteLine("Say \"sqlite 500\" or \"postgres 200\".");
        return 2;
}

static async Task<int> TrialAsync(ThrowAwayServer? server, string kills)
{
    string folder = Directory.CreateTempSubdirectory("whetwright-kill-").FullName;
    BookOptions options = server is null ? new() { DataFolder = folder } : new() { DataFolder = folder, Store = BookStore.Postgres, ConnectionString = server.Connection("kills") };
    System.Diagnostics.Stopwatch watch = System.Diagnostics.Stopwatch.StartNew();
    KillTrial trial = await KillTrial.RunAsync(options, server, int.Parse(kills, CultureInfo.InvariantCulture), seed: 20260302);
    Console.WriteLine(trial);
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{watch.Elapsed.TotalMinutes:0.0} minutes"));
    if (trial.IsIntact)
        Directory.Delete(folder, recursive: true);
    return trial.IsIntact ? 0 : 1;
}
