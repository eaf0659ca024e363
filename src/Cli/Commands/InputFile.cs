using Whetwright.Cli.Terminal;
using Whetwright.Formats.Reading;

namespace Whetwright.Cli.Commands;

/// <summary>Reads input files; every fault names the file, the path in it, the value and what would be right.</summary>
internal static class InputFile
{
    /// <summary>Largest file that is read, bytes (chosen, not derived).</summary>
    public const long MostBytes = 16 << 20;

    public static T Read<T>(ITerminal terminal, string path, Func<string, FormatOutcome<T>> read) => read(Text(terminal, path)) switch
    {
        FormatOutcome<T>.Read r => r.Value,
        FormatOutcome<T>.Refused r => throw new InputRefusedException([.. r.Errors.Select(e => $"{path}: {e}")]),
        _ => throw new InvalidOperationException(),
    };

    private static string Text(ITerminal terminal, string path)
    {
        if (path == "-")
            return terminal.Input.ReadToEnd();
        if (!File.Exists(path))
            throw new InputRefusedException($"{path}: no such file; give the path of a JSON file, or - for standard input");
        if (new FileInfo(path).Length > MostBytes)
            throw new InputRefusedException($"{path}: larger than 16 MB; that is no file of ours");
        return File.ReadAllText(path);
    }
}
