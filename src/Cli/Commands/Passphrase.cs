using System.CommandLine;
using Whetwright.Records.Backup;

namespace Whetwright.Cli.Commands;

/// <summary>Where a passphrase comes from: a file or the environment, never the command line, which others on the machine can read.</summary>
internal sealed class Passphrase
{
    /// <summary>The environment's name for it.</summary>
    public const string Variable = "WHETWRIGHT_PASSPHRASE";

    private readonly Option<string?> file = new("--passphrase-file")
    {
        Description = $"File whose first line is the backup's passphrase (or {Variable} in the environment).",
        HelpName = "file",
    };

    public void AddTo(Command command) => command.Options.Add(file);

    /// <summary>The passphrase; null for none.</summary>
    /// <param name="parsed">What was typed.</param>
    /// <param name="forNew">It seals a new file: then it must be long enough.</param>
    /// <exception cref="InputRefusedException">The file is missing or empty, or the passphrase is too short for a new file.</exception>
    public string? Read(ParseResult parsed, bool forNew)
    {
        string? given = Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } set ? set : null;
        if (parsed.GetValue(file) is { } path)
        {
            if (!File.Exists(path))
                throw new InputRefusedException($"--passphrase-file is {path}: there is no such file; one whose first line is the passphrase would be right");
            given = File.ReadLines(path).FirstOrDefault() is { Length: > 0 } line ? line : throw new InputRefusedException($"--passphrase-file is {path}: its first line is empty; the passphrase would be right");
        }

        if (forNew && given is not null && SealedFile.Weakness(given) is { } weak)
            throw new InputRefusedException($"--passphrase-file: {weak}");
        return given;
    }
}
