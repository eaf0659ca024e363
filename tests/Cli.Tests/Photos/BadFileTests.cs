using System.Text.Json;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>Whatever is handed in as a photo: read, or refused with a reason; never a crash.</summary>
[PictureLibrary]
public sealed class BadFileTests
{
    private const long MostManagedBytes = 100_000_000;

    [Fact]
    public void Two_hundred_damaged_and_foreign_files_end_with_a_reading_or_a_reason_and_leave_no_memory_behind()
    {
        using Folder folder = new();
        IReadOnlyList<BadFile> files = BadFiles.From(File.ReadAllBytes(Ran.Sample("photos", "normal", "photo.jpg")), seed: 41);
        string target = Ran.Sample("photos", "target.json");
        List<string> faults = [];

        foreach (BadFile file in files)
        {
            string path = Path.Combine(folder.Place, file.Name);
            File.WriteAllBytes(path, file.Bytes);
            Ran ran = Ran.Command("read", path, "--target", target, "--json");
            if (Fault(file, ran) is { } fault)
                faults.Add($"{file.What} ({file.Name}, {file.Bytes.Length} bytes): {fault}");
        }

        Assert.Equal(200, files.Count);
        Assert.Empty(faults);
        Assert.True(GC.GetTotalMemory(forceFullCollection: true) < MostManagedBytes);
    }

    private static string? Fault(BadFile file, Ran ran)
    {
        if (ran.Code is not (0 or 2 or 3))
            return $"exit {ran.Code}: {ran.Err}";
        if (file.Reads is { } reads && reads != (ran.Code == 0))
            return $"exit {ran.Code} is not what was meant: {ran.Err}";
        if (ran.Code == 2)
            return ran.Err.Length > 20 ? null : "no reason on standard error";
        string outcome = ran.Json.GetProperty("outcome").GetString()!;
        if (outcome == "refused" != (ran.Code == 3))
            return $"exit {ran.Code} with outcome {outcome}";
        string[] codes = [.. ran.Json.GetProperty("reasons").EnumerateArray().Where(r => r.GetProperty("text").GetString()!.Length > 20).Select(r => r.GetProperty("code").GetString()!)];
        if (ran.Code == 3 && codes.Length == 0)
            return "refused without a reason";
        return file.Code is { } code && !codes.Contains(code, StringComparer.Ordinal) ? $"the reasons are {string.Join(", ", codes)}, not {code}" : null;
    }
}
