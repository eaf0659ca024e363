using System.Runtime.CompilerServices;
using System.Text.Json;
using Whetwright.Cli;
using Whetwright.Cli.Terminal;

namespace Whetwright.Workbench.Tests;

/// <summary>The invented samples of the repository, and the command line on them.</summary>
internal static class Samples
{
    private static readonly string Root = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", ".."));

    public static string At(params string[] parts) => Path.Combine([Root, "samples", .. parts]);

    public static string Text(params string[] parts) => File.ReadAllText(At(parts));

    /// <summary>What the command line says, as JSON.</summary>
    public static JsonElement Cli(params string[] args)
    {
        Told terminal = new();
        Application.Run([.. args, "--json"], terminal);
        using JsonDocument document = JsonDocument.Parse(terminal.Output.ToString()!);
        return document.RootElement.Clone();
    }

    private static string Here([CallerFilePath] string path = "") => path;

    private sealed class Told : ITerminal
    {
        public TextWriter Output { get; } = new StringWriter();

        public TextWriter Error { get; } = new StringWriter();

        public TextReader Input { get; } = new StringReader("");

        public int Width => 100;
    }
}
