using System.Runtime.CompilerServices;
using System.Text.Json;
using Whetwright.Cli.Terminal;

namespace Whetwright.Cli.Tests;

/// <summary>A terminal that remembers.</summary>
internal sealed class TestTerminal(string input = "") : ITerminal
{
    public TextWriter Output { get; } = new StringWriter();

    public TextWriter Error { get; } = new StringWriter();

    public TextReader Input { get; } = new StringReader(input);

    public int Width => 100;

    public string Out => Output.ToString()!;

    public string Err => Error.ToString()!;
}

/// <summary>What one command line did.</summary>
internal sealed record Ran(int Code, string Out, string Err)
{
    private static readonly string Root = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", ".."));

    public JsonElement Json
    {
        get
        {
            using var document = JsonDocument.Parse(Out);
            return document.RootElement.Clone();
        }
    }

    public static Ran Command(params string[] args) => WithInput("", args);

    public static Ran WithInput(string input, params string[] args)
    {
        TestTerminal terminal = new(input);
        int code = Application.Run(args, terminal);
        return new(code, terminal.Out, terminal.Err);
    }

    public static string Sample(params string[] parts) => Path.Combine([Root, "samples", .. parts]);

    public static string InRepository(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string Here([CallerFilePath] string path = "") => path;
}

/// <summary>A folder that goes away with the test.</summary>
internal sealed class Folder : IDisposable
{
    public string Place { get; } = Directory.CreateTempSubdirectory("whetwright-test-").FullName;

    public string Write(string name, string text)
    {
        string path = Path.Combine(Place, name);
        File.WriteAllText(path, text);
        return path;
    }

    public void Dispose() => Directory.Delete(Place, recursive: true);
}
