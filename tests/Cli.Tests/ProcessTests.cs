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
        foreach (string verb in new[] { "read", "instrument", "set", "section", "reshape", "touch", "visit", "serve" })
            Assert.Contains(verb, output, StringComparison.Ordinal);
    }

    [Fact]
    public void Verbs_print_the_same_whatever_the_machines_culture_is()
    {
        (_, string here, _) = Run("section", Ran.Sample("sections", "dull-to-13.json"));
        Environment.SetEnvironmentVariable("LC_ALL", "de_DE.UTF-8");
        try
        {
            (int code, string there, _) = Run("section", Ran.Sample("sections", "dull-to-13.json"));

            Assert.Equal(0, code);
            Assert.Equal(here, there);
        }
        finally
        {
            Environment.SetEnvironmentVariable("LC_ALL", null);
        }
    }

    [Fact]
    public async Task Serve_shows_pages_in_the_devices_culture_which_the_other_verbs_never_load()
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        string name = OperatingSystem.IsWindows() ? "whetwright.exe" : "whetwright";
        using Process process = Process.Start(new ProcessStartInfo(
            Path.Combine(AppContext.BaseDirectory, name), ["serve", "--data", folder, "--urls", "http://127.0.0.1:0"]) { UseShellExecute = false, RedirectStandardOutput = true })!;
        try
        {
            string told = await process.StandardOutput.ReadLineAsync() ?? "";
            using HttpClient client = new();
            using HttpRequestMessage request = new(HttpMethod.Get, told[told.IndexOf("http", StringComparison.Ordinal)..] + "/preferences");
            request.Headers.Add("Cookie", "ww-view=mm.right.device.normal.de-DE");

            using HttpResponseMessage answer = await client.SendAsync(request);

            Assert.Contains("152,40", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
        finally
        {
            process.Kill();
            await process.WaitForExitAsync();
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Serve_refuses_an_address_that_is_none_with_2()
    {
        (int code, _, string error) = Run("serve", "--data", Path.GetTempPath(), "--urls", "5210");

        Assert.Equal(2, code);
        Assert.Contains("--urls: '5210' is not an address to serve at", error, StringComparison.Ordinal);
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
