using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Pieces whose second face is their back: single-bevel knives, chisels, plane irons, scissors. A back that lies along the beam throws
/// nothing, so they are mounted rolled.
/// </summary>
public static class BackedPiece
{
    /// <summary>The roll to mount with: half the included angle, so that both faces throw their light alike (chosen for symmetry, derived in docs/conventions.md).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not between 0° and 90°.</exception>
    public static Angle RollToUse(Angle expectedIncluded) =>
        Angle.FromDegrees(Require.Within(expectedIncluded.Degrees, 1e-9, 90, nameof(expectedIncluded))) / 2;

    /// <summary>Angle from the back: the included angle of the two faces as they were thrown, exact at any roll.</summary>
    public static Angle FromTheBack(Angle leftAsRead, Angle rightAsRead) => leftAsRead + rightAsRead;

    /// <summary>What back and bevel read at a given roll away from the back lying along the beam: back ρ, bevel included − ρ.</summary>
    public static (Angle Back, Angle Bevel) AsReadAt(Angle included, Angle roll) => (roll, included - roll);
}
