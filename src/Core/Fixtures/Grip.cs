using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>How a jaw takes hold of the blade.</summary>
public enum GripKind
{
    /// <summary>Both jaws close alike: the mid-plane stands in the holder's plane.</summary>
    SelfCentring = 0,

    /// <summary>One flank lies against a fixed jaw: the mid-plane is tilted by about the primary half-angle.</summary>
    FixedJaw = 1,
}

/// <summary>
/// The tilt of a fixed jaw. The flank lies along the holder's plane, so the mid-plane leans by τ, about the primary half-angle, about the jaw's
/// front line; the bar, fixed to the holder, then stands off the mid-plane by (p − a)·tan τ, a being the distance from edge to jaw along p.
/// Leaning on the left jaw brings the bar toward the blade's left: Q falls when the left is ground and gains when the right is.
/// The seat's own offset counts square to the holder, so it enters by its cos τ part; its sin τ part moves the foot along the blade, which is left out of
/// the jaw's distance (measure edge to bar after clamping). Left out too: a tangent turned from the jaw's line cannot lie
/// along the bar; <see cref="FixedJawContact"/> solves that in space and the plan's notes say how much it is. Source: derived in docs/conventions.md; exact where ψ = 0.
/// </summary>
public static class Grip
{
    /// <summary>|ΔQ| = (p − a)·tan τ, mm; p and a along the mid-plane.</summary>
    public static double OffsetGainMm(double supportMm, double jawDistanceMm, double tiltRad) => (supportMm - jawDistanceMm) * Math.Tan(tiltRad);

    /// <summary>|ΔQ| = j·sin τ, mm, the same from the distance j of jaw to pivot along the holder, as p − a = j·cos τ.</summary>
    public static double OffsetGainFromJawMm(double jawToPivotMm, double tiltRad) => jawToPivotMm * Math.Sin(tiltRad);

    /// <summary>The sign of the gain: −1 where the ground side is the one on the fixed jaw, +1 on the other.</summary>
    public static int Sign(Side groundSide, Side fixedJawSide) => groundSide == fixedJawSide ? -1 : 1;

    /// <summary>
    /// Thickness of the shim that squares the grip, mm: jawDepth·tan τ, laid between fixed jaw and flank at the jaw's mouth, where the blade is
    /// thinner, if the flank is held over <paramref name="jawDepthMm"/>.
    /// </summary>
    public static double ShimMm(double jawDepthMm, double tiltRad) => jawDepthMm * Math.Tan(tiltRad);
}
