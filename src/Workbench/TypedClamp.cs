using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Workbench;

/// <summary>A clamp as a person measures it: jaw from the heel, edge out of the jaw, turn in the blade's plane.</summary>
/// <param name="FromHeelMm">Middle of the jaw's front from the heel.</param>
/// <param name="ProtrusionMm">How far the edge stands out of the jaw.</param>
/// <param name="TiltDeg">Turn of the holder in the blade's plane, positive where the jaw leans toward the tip.</param>
public sealed record TypedClamp(double FromHeelMm, double ProtrusionMm, double TiltDeg = 0)
{
    /// <summary>
    /// The pivot's foot: J = front − j(sin φ, cos φ) with front = (jaw from heel, −protrusion), the inverse of <see cref="JawPlacement.Of"/>. Where nobody
    /// described the jaw, j is 0 and both lengths are those of the pivot itself.
    /// </summary>
    public Point2 PivotOn(Rig rig)
    {
        double j = JawToPivotMm(rig) ?? 0;
        (double sin, double cos) = Math.SinCos(double.DegreesToRadians(TiltDeg));
        return new(FromHeelMm - (j * sin), -(ProtrusionMm + (j * cos)));
    }

    /// <summary>Why the jaw cannot stand so; null where it can.</summary>
    public Reason? CannotStand(Blade blade, Rig rig)
    {
        JawPlacement made = JawPlacement.Of(blade, PivotOn(rig), JawToPivotMm(rig) ?? 0, (rig as WheelAndBarRig)?.JawDepthMm);
        return Math.Abs(made.ProtrusionMm - ProtrusionMm) < 0.05 ? null : new("spine-strikes", FormattableString.Invariant(
            $"With the edge {ProtrusionMm:0.0} mm out, the spine would strike the jaw's floor: it can stand {made.ProtrusionMm:0.0} mm out, the holder turned by {made.PlaneTiltDeg:0.0}°. Measure again, or type those."));
    }

    /// <summary>Jaw's front to the pivot; null for rigs whose jaw nobody described, or that have none.</summary>
    public static double? JawToPivotMm(Rig rig) => rig switch
    {
        WheelAndBarRig w => w.JawToPivotMm,
        GuidedRodRig r => r.JawToPivotMm,
        _ => null,
    };
}
