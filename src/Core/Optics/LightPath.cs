using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Where the light of a bevel goes: onto the target, past it, sideways or back; and what that asks for.</summary>
public static class LightPath
{
    /// <summary>
    /// The steepest bevel whose mark still falls on a sheet square to the beam: θ = ½·atan(w/L), w half the sheet's width from zero.
    /// About 22° where the sheet reaches as far sideways as it is away. Derived in docs/conventions.md.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A length not above zero.</exception>
    public static Angle SteepestOnTarget(Length halfWidth, Length distance) => Angle.FromRadians(0.5 * Math.Atan2(
        Require.Positive(halfWidth.Millimetres, nameof(halfWidth)), Require.Positive(distance.Millimetres, nameof(distance))));

    /// <summary>
    /// What to know before a bevel of so many degrees stands in the beam: empty while its light falls on the target. At 45° and more it is
    /// thrown sideways or back, often at eye height. Cautions: the laser's own class and maker's instructions decide ([iec60825]).
    /// </summary>
    public static IReadOnlyList<Reason> Cautions(Angle bevelAsMounted, Length halfWidth, Length distance)
    {
        double deg = bevelAsMounted.Abs().Degrees;
        string turned = (2 * deg).ToString("0", CultureInfo.InvariantCulture);
        if (deg >= 45)
        {
            return
            [
                new("light-sideways", $"A bevel of {deg.ToString("0.0", CultureInfo.InvariantCulture)}° turns the light by {turned}°, sideways or back toward the laser, often at eye height. "
                    + "Do not switch on: enclose the path on that side with a matt screen, keep the beam below eye level, never look into it or its reflection, and keep to the class on the laser's label. Read this bevel with another gauge or roll the blade."),
            ];
        }

        double most = SteepestOnTarget(halfWidth, distance).Degrees;
        if (deg <= most)
            return [];
        return
        [
            new("light-leaves-target", string.Create(CultureInfo.InvariantCulture,
                $"A bevel of {deg:0.0}° turns the light by {turned}°, past the edge of the target, which ends at {most:0.0}° per side. Bring the target nearer, use a wider one or roll the blade, and put a matt screen where the light would go on.")),
        ];
    }
}
