using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>The photos of one placing of the blade.</summary>
/// <param name="Lit">Room light on, laser on.</param>
/// <param name="Dark">Room darkened, exposed for the marks, same pose; or null.</param>
/// <param name="Off">Room light on, laser off, same pose; or null.</param>
public sealed record MountPhotos(Picture Lit, Picture? Dark = null, Picture? Off = null);

/// <summary>What a photograph reading needs.</summary>
public sealed record PhotoReadRequest
{
    /// <summary>The blade as first placed.</summary>
    public required MountPhotos First { get; init; }

    /// <summary>The blade end for end in the same holder, or null.</summary>
    public MountPhotos? Turned { get; init; }

    /// <summary>Further photos of the first placing, blade untouched, camera anywhere; they make the same marks surer.</summary>
    public IReadOnlyList<MountPhotos> Repeats { get; init; } = [];

    /// <summary>The printed target.</summary>
    public required TargetSheet Target { get; init; }

    /// <summary>Where the tip was in the first placing; null where nobody noted it.</summary>
    public TipDirection? Tip { get; init; }

    /// <summary>The instrument: distance, zero, printer, roll; null: the target's own distance with the default uncertainty.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>Distance told with the photo; wins over the instrument's.</summary>
    public MeasuredLength? Distance { get; init; }

    /// <summary>Colour of the laser.</summary>
    public LaserColour Laser { get; init; }

    /// <summary>Dot or line.</summary>
    public BeamKind Beam { get; init; }

    /// <summary>
    /// Form of the facets, for saying which end of a smeared mark is the shoulder; null where nobody told: light alone cannot say, so the ends are
    /// given as for a convex bevel and the reading says that it is assumed.
    /// </summary>
    public FacetForm? Form { get; init; }

    /// <summary>True for a piece whose second face is its back.</summary>
    public bool HasBack { get; init; }
}
