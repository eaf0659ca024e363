using System.Diagnostics;
using System.Text;
using System.Text.Json;

namespace Whetwright.Cli.Tests;

/// <summary>
/// A process killed (SIGKILL on Linux) while it writes leaves every file whole: the old one or the new one. The kills are aimed at the moment
/// when a file still being written is seen in the folder, and spread over the whole run besides.
/// </summary>
public sealed class KilledTests
{
    private const int Rounds = 24;

    [Fact]
    public void Killed_while_writing_the_old_or_the_new_file_is_there_whole()
    {
        using Folder folder = new();
        string pdf = Path.Combine(folder.Place, "t.pdf"), json = Path.Combine(folder.Place, "t.json");
        Run(folder.Place, pdf, "100", (_, _) => false);
        double[] distances = [100, 137];
        Random random = new(20261125);
        int killed = 0, seenWriting = 0, renewed = 0;
        double last = DistanceOf(json);

        for (int round = 0; round < Rounds; round++)
        {
            int patienceMs = random.Next(20, 900);
            bool aimed = round % 2 == 0;
            bool wasKilled = Run(folder.Place, pdf, round % 2 == 0 ? "137" : "100", (parts, elapsedMs) =>
            {
                seenWriting += parts > 0 && aimed ? 1 : 0;
                return aimed ? parts > 0 : elapsedMs > patienceMs;
            });
            killed += wasKilled ? 1 : 0;

            double now = DistanceOf(json);
            Assert.Contains(now, distances);
            renewed += now != last ? 1 : 0;
            last = now;
            AssertWholePdf(pdf);
        }

        Assert.True(killed >= Rounds / 4, $"only {killed} of {Rounds} were killed in time");
        Assert.True(seenWriting > 0, "no kill fell while a file was being written");
        Run(folder.Place, pdf, renewed % 2 == 0 ? "100" : "137", (_, _) => false);
        AssertWholePdf(pdf);
    }

    private static double DistanceOf(string json)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(json));
        Assert.True(document.RootElement.GetProperty("fiducials").GetArrayLength() >= 4);
        return document.RootElement.GetProperty("distanceMm").GetDouble();
    }

    private static void AssertWholePdf(string pdf)
    {
        byte[] bytes = File.ReadAllBytes(pdf);
        Assert.StartsWith("%PDF-", Encoding.Latin1.GetString(bytes, 0, 8), StringComparison.Ordinal);
        Assert.EndsWith("%%EOF", Encoding.Latin1.GetString(bytes[^16..]).TrimEnd(), StringComparison.Ordinal);
    }

    /// <summary>Runs the verb and kills it when <paramref name="now"/> says so, given the files being written and the milliseconds so far.</summary>
    private static bool Run(string folder, string pdf, string distanceMm, Func<int, double, bool> now)
    {
        string name = OperatingSystem.IsWindows() ? "whetwright.exe" : "whetwright";
        int leftOver = Directory.GetFiles(folder, "*.part").Length;
        ProcessStartInfo start = new(Path.Combine(AppContext.BaseDirectory, name), ["target", "--distance-mm", distanceMm, "--out", pdf])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        long began = Stopwatch.GetTimestamp();
        bool killed = false;
        while (!process.HasExited)
        {
            if (!killed && now(Directory.GetFiles(folder, "*.part").Length - leftOver, Stopwatch.GetElapsedTime(began).TotalMilliseconds))
            {
                process.Kill();
                killed = true;
            }
        }

        process.WaitForExit();
        return killed && process.ExitCode != 0;
    }
}
