using Whetwright.Core.Quantities;
using Whetwright.Sight.Pictures;

namespace Whetwright.Workbench.Photos;

/// <summary>A photo that can be opened when it is needed.</summary>
/// <param name="Name">How it is called in reasons: a path, or "the lit photo".</param>
/// <param name="Open">Opens it; whoever calls disposes the picture.</param>
public sealed record PhotoSource(string Name, Func<Picture> Open)
{
    /// <summary>A file.</summary>
    public static PhotoSource File(string path) => new(path, () => Named(path, () => Picture.Read(path)));

    /// <summary>Bytes at hand.</summary>
    public static PhotoSource Bytes(string name, ReadOnlyMemory<byte> bytes) => new(name, () => Named(name, () => Picture.Decode(bytes.Span)));

    private static Picture Named(string name, Func<Picture> open)
    {
        try
        {
            return open();
        }
        catch (PictureRefusedException e)
        {
            throw new PictureRefusedException(e.Reason with { Text = $"{name}: {e.Reason.Text}" });
        }
    }
}

/// <summary>The photographs of one blade.</summary>
/// <param name="Lit">Room light on, laser on.</param>
public sealed record PhotoShots(PhotoSource Lit)
{
    /// <summary>Further photos of the same placing; each is read on its own and combined as a repeat.</summary>
    public IReadOnlyList<PhotoSource> Repeats { get; init; } = [];

    /// <summary>Room darkened, exposed for the marks, same pose as <see cref="Lit"/>.</summary>
    public PhotoSource? Dark { get; init; }

    /// <summary>Laser off, same pose.</summary>
    public PhotoSource? Off { get; init; }

    /// <summary>The blade end for end in the same holder.</summary>
    public PhotoSource? Turned { get; init; }

    /// <summary>Room darkened, same pose as <see cref="Turned"/>.</summary>
    public PhotoSource? TurnedDark { get; init; }
}
