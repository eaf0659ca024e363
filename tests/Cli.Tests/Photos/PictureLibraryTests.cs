using System.Diagnostics;
using System.Text.Json;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>The executable where the native picture library is missing: photographs say what to install, all else does not miss it.</summary>
public sealed class PictureLibraryTests
{
    [Fact]
    public void A_photo_is_refused_naming_what_to_install()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The words are those for Linux.");
        using Folder folder = new();
        Copy(folder.Place, f => f.Contains("OpenCvSharpExtern", StringComparison.Ordinal));

        (int code, string output, string error) = Run(folder.Place, "read", Ran.Sample("photos", "normal", "photo.jpg"), "--target", Ran.Sample("photos", "target.json"), "--json");

        Assert.Equal(3, code);
        Assert.Contains("libgtk-3-0 libdrm2 libatomic1", error, StringComparison.Ordinal);
        using var document = JsonDocument.Parse(output);
        Assert.Equal("native-library-missing", document.RootElement.GetProperty("reasons")[0].GetProperty("code").GetString());
    }

    [Fact]
    public void Verbs_that_read_no_photo_never_load_what_reads_photos()
    {
        using Folder folder = new();
        Copy(folder.Place, f => f.Contains("OpenCv", StringComparison.Ordinal) || f.Contains("Whetwright.Sight", StringComparison.Ordinal));

        Assert.Equal(0, Run(folder.Place, "set", Ran.Sample("kitchen-knife", "blade.json"), "--rig", Ran.Sample("kitchen-knife", "rig.json"), "--angle-deg", "13").Code);
        Assert.Equal(0, Run(folder.Place, "read", "--marks", Ran.Sample("kitchen-knife", "marks.json")).Code);
        Assert.Equal(0, Run(folder.Place, "target", "--out", Path.Combine(folder.Place, "t.pdf")).Code);
    }

    private static void Copy(string to, Func<string, bool> without)
    {
        string[] parts = ["whetwright", "Whetwright.", "OpenCvSharp", "libOpenCv", "PdfSharp", "System.", "Microsoft.Extensions"];
        foreach (string file in Directory.GetFiles(AppContext.BaseDirectory))
        {
            string name = Path.GetFileName(file);
            bool ours = parts.Any(p => name.StartsWith(p, StringComparison.Ordinal)) && !name.Contains("Cli.Tests", StringComparison.Ordinal);
            // The list of dependencies would insist on the files that are left out here.
            if (ours && !without(name) && !name.EndsWith(".deps.json", StringComparison.Ordinal))
                File.Copy(file, Path.Combine(to, name));
        }
    }

    private static (int Code, string Output, string Error) Run(string folder, params string[] args)
    {
        ProcessStartInfo start = new(Path.Combine(folder, OperatingSystem.IsWindows() ? "whetwright.exe" : "whetwright"), args)
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output, error.GetAwaiter().GetResult());
    }
}
