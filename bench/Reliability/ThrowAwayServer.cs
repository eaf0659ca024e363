using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace Whetwright.Reliability;

/// <summary>
/// A PostgreSQL server of our own on a free port of the loopback, from the machine's own binaries, in a temporary folder. It goes when this program
/// ends, however it ends: its keeper waits on a pipe that ends with us. The server never runs as root, so root hands it to the user postgres.
/// </summary>
public sealed class ThrowAwayServer : IDisposable
{
    /// <summary>Linux's file system in memory, and the least room in it that is taken up: a run of the book's tests took 78 MB at most. Chosen.</summary>
    private const string Memory = "/dev/shm";
    private const long LeastMemoryBytes = 2_000_000_000;

    private readonly string folder;
    private readonly int port;
    private readonly bool fsync;
    private Process keeper;

    private ThrowAwayServer(string folder, int port, bool fsync)
    {
        this.folder = folder;
        this.port = port;
        this.fsync = fsync;
        keeper = Keep();
    }

    /// <summary>Where the binaries are; null where there are none. <c>WHETWRIGHT_PG_BIN</c> names another place.</summary>
    public static string? Binaries =>
        new[] { Environment.GetEnvironmentVariable("WHETWRIGHT_PG_BIN") }
            .Concat(Directory.Exists("/usr/lib/postgresql") ? Directory.EnumerateDirectories("/usr/lib/postgresql").OrderDescending(StringComparer.Ordinal).Select(d => Path.Combine(d, "bin")) : [])
            .FirstOrDefault(d => d is not null && File.Exists(Path.Combine(d, "initdb")));

    /// <summary>Makes and starts one; null where the machine has no PostgreSQL.</summary>
    /// <param name="fsync">False for tests of what it says; true where it is about what lasts.</param>
    public static ThrowAwayServer? Start(bool fsync)
    {
        if (Binaries is not { } bin)
            return null;
        string place = ((fsync ? null : InMemory()) ?? Directory.CreateTempSubdirectory("whetwright-pg-")).FullName;
        if (Environment.IsPrivilegedProcess)
            Run("chown", "postgres", place);
        Run([.. AsUser, Path.Combine(bin, "initdb"), "-D", Path.Combine(place, "data"), "-U", "shop", "--auth=trust", "-E", "UTF8", "--locale=C.UTF-8", "--data-checksums", "--no-sync"]);
        using TcpListener free = new(IPAddress.Loopback, 0);
        free.Start();
        int number = ((IPEndPoint)free.LocalEndpoint).Port;
        free.Stop();
        ThrowAwayServer server = new(place, number, fsync);
        server.WaitUntilItAnswers();
        return server;
    }

    /// <summary>
    /// A folder of our own in memory, for a server whose data need not last: a database is some hundred files, made and thrown away for each test. Null where there is none or little room.
    /// </summary>
    private static DirectoryInfo? InMemory()
    {
        if (!Directory.Exists(Memory) || new DriveInfo(Memory).AvailableFreeSpace < LeastMemoryBytes)
            return null;
        try
        {
            return Directory.CreateDirectory(Path.Combine(Memory, $"whetwright-pg-{Guid.NewGuid():N}"));
        }
        catch (UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>How to reach a database on it.</summary>
    public string Connection(string database) =>
        string.Create(CultureInfo.InvariantCulture, $"Host=127.0.0.1;Port={port};Database={database};Username=shop;Timeout=30;Maximum Pool Size=20");

    /// <summary>Kills the whole server with SIGKILL, as lost power would, and starts it again: it recovers from its log.</summary>
    public void KillAndStartAgain()
    {
        string server = File.ReadLines(Path.Combine(folder, "data", "postmaster.pid")).First();
        keeper.StandardInput.WriteLine("leave"); // its keeper lets the folder be
        keeper.StandardInput.Flush();
        Run("sh", "-c", $"kill -KILL {server} $(cat /proc/{server}/task/{server}/children)");
        keeper.WaitForExit();
        keeper.Dispose();
        keeper = Keep();
        WaitUntilItAnswers();
    }

    /// <summary>PostgreSQL's own check of every table and index of a database, each row looked up in each index: "ok", or what it says.</summary>
    public string Check(string database)
    {
        (int code, string said) = Outcome(Path.Combine(Binaries!, "pg_amcheck"), "-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture), "-U", "shop", "--install-missing", "--heapallindexed", "--parent-check", database);
        return code == 0 ? "ok" : said;
    }

    public void Dispose()
    {
        keeper.StandardInput.Close();
        keeper.WaitForExit(20_000);
        keeper.Dispose(); // it takes the folder away
    }

    private static string[] AsUser => Environment.IsPrivilegedProcess ? ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"] : [];

    private Process Keep()
    {
        string data = Path.Combine(folder, "data");
        string postgres = string.Join(' ', [.. AsUser, Path.Combine(Binaries!, "postgres"), "-D", data, "-p", port.ToString(CultureInfo.InvariantCulture),
            "-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories=", "-c", "max_connections=200", "-c", "shared_buffers=64MB",
            "-c", $"fsync={(fsync ? "on" : "off")}", "-c", $"full_page_writes={(fsync ? "on" : "off")}", "-c", "log_min_messages=fatal", "-c", "autovacuum=off", "-c", "jit=off"]);
        string kept = $"exec 3<&0 2>/dev/null; rm -f {data}/postmaster.pid; {postgres} 3<&- </dev/null >/dev/null 2>>{folder}/log & server=$!; "
            + $"(if read word <&3; then exit; fi; kill -QUIT $server 2>/dev/null; while kill -0 $server 2>/dev/null; do sleep 0.1; done; rm -rf {folder}) & exec 3<&-; wait $server";
        return Process.Start(new ProcessStartInfo("sh", ["-c", kept]) { RedirectStandardInput = true, UseShellExecute = false })!;
    }

    private void WaitUntilItAnswers()
    {
        Stopwatch watch = Stopwatch.StartNew();
        while (watch.Elapsed < TimeSpan.FromSeconds(60))
        {
            if (CodeOf(Path.Combine(Binaries!, "pg_isready"), "-q", "-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture)) == 0)
                return;
            Thread.Sleep(50);
        }

        throw new IOException($"The throw-away PostgreSQL did not answer within a minute: {File.ReadAllText(Path.Combine(folder, "log"))}");
    }

    private static void Run(params string[] command)
    {
        if (CodeOf(command) is not 0 and int code)
            throw new IOException($"{string.Join(' ', command)} ended with {code}.");
    }

    private static int CodeOf(params string[] command) => Outcome(command).Code;

    private static (int Code, string Said) Outcome(params string[] command)
    {
        using Process process = Process.Start(new ProcessStartInfo(command[0], command[1..]) { RedirectStandardOutput = true, WorkingDirectory = "/tmp", UseShellExecute = false })!;
        string said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, said);
    }
}
