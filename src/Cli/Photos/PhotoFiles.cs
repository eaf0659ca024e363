using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>The photographs of one blade, as file names.</summary>
/// <param name="Lit">Room light on, laser on.</param>
internal sealed record PhotoFiles(string Lit)
{
    /// <summary>Further photos of the same placing; each is read on its own and combined as a repeat.</summary>
    public IReadOnlyList<string> Repeats { get; init; } = [];

    /// <summary>Room darkened, exposed for the marks, same pose as <see cref="Lit"/>.</summary>
    public string? Dark { get; init; }

    /// <summary>Laser off, same pose.</summary>
    public string? Off { get; init; }

    /// <summary>The blade end for end in the same holder.</summary>
    public string? Turned { get; init; }

    /// <summary>Room darkened, same pose as <see cref="Turned"/>.</summary>
    public string? TurnedDark { get; init; }

    /// <summary>All files.</summary>
    public IEnumerable<string> All => ((string?[])[Lit, .. Repeats, Dark, Off, Turned, TurnedDark]).OfType<string>();

    /// <summary>The same as photographs to open.</summary>
    public PhotoShots Shots() => new(PhotoSource.File(Lit))
    {
        Repeats = [.. Repeats.Select(PhotoSource.File)],
        Dark = Dark is { } dark ? PhotoSource.File(dark) : null,
        Off = Off is { } off ? PhotoSource.File(off) : null,
        Turned = Turned is { } turned ? PhotoSource.File(turned) : null,
        TurnedDark = TurnedDark is { } turnedDark ? PhotoSource.File(turnedDark) : null,
    };

    /// <summary>Checks that every file is there, before any is opened.</summary>
    /// <exception cref="InputRefusedException">A file is missing or is a folder.</exception>
    public void Check()
    {
        if (TurnedDark is not null && Turned is null)
            throw new InputRefusedException("--turned-dark is given without --turned; the lit photo of the turned blade would be right beside it");
        List<string> faults = [];
        foreach (string path in All)
        {
            if (Directory.Exists(path))
                faults.Add($"{path}: a folder; one photo, or --batch {path} for all in it, would be right");
            else if (!File.Exists(path))
                faults.Add($"{path}: no such file; the path of a JPEG or PNG photo would be right");
        }

        if (faults.Count > 0)
            throw new InputRefusedException(faults);
    }
}
