using System.Diagnostics;

namespace Whetwright.Cli.Tests;

/// <summary>The built executable itself: streams and exit codes as a shell sees them.</summary>
public sealed class ProcessTests
{
    [Fact]
    public void Results_go_to_standard_output_and_exit_with_0()
    {
        (int code, string output, string error) = Run("section", Ran.Sample("sections", "dull-to-13.json"), "--json");

        Assert.Equal(0, code);
        Assert.StartsWith("{", output, StringComparison.Ordinal);
        Assert.Equal("", error);
    }

    [Fact]
    public void Wrong_arguments_go_to_standard_error_and_exit_with_2()
    {
        (int code, string output, string error) = Run("sectoin");

        Assert.Equal(2, code);
        Assert.Equal("", output);
        Assert.Contains("section", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Help_names_every_verb_and_exits_with_0()
    {
        (int code, string output, _) = Run("--help");

        Assert.Equal(0, code);
        foreach (string verb in new[] { "read", "instrument", "set", "section", "reshape", "touch", "visit" })
            Assert.Contains(verb, output, StringComparison.Ordinal);
    }

    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        string name = OperatingSystem.IsWindows() ? "whetwright.exe" : "whetwright";
        ProcessStartInfo start = new(Path.Combine(AppContext.BaseDirectory, name), args)
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
