using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// One setting that the clamp must serve: a wheel and a side, or one side under a rod. All channels of a problem share the clamp; each has its
/// own setting. The offset at a station is Q = Q₀ + a·p + b·d + z, with d the pivot's distance and z the bend outward on the side ground.
/// </summary>
/// <param name="Name">For people: <c>coarse wheel, left</c>.</param>
/// <param name="Map">The fixture.</param>
/// <param name="Target">The angle wanted, per side, above zero.</param>
public sealed record ClampChannel(string Name, AngleMap Map, Angle Target)
{
    /// <summary>Q₀: offset of the bar's centre from the mid-plane, or what stands for it, mm.</summary>
    public double OffsetMm { get; init; }

    /// <summary>a: growth of Q per millimetre of support distance (a tilted grip), 1.</summary>
    public double OffsetPerSupport { get; init; }

    /// <summary>b: growth of Q per millimetre of pivot distance (a tilted grip), 1.</summary>
    public double OffsetPerDistance { get; init; }

    /// <summary>The blade side being ground, where a bend matters; null leaves bend out.</summary>
    public Side? Side { get; init; }

    /// <summary>Smallest setting the rig has, mm; null where it has no limit.</summary>
    public double? LeastSettingMm { get; init; }

    /// <summary>Largest setting the rig has, mm; null where it has no limit.</summary>
    public double? MostSettingMm { get; init; }

    /// <summary>Q at a station.</summary>
    public double OffsetAtMm(double supportMm, double pivotDistanceMm, double bendMm) =>
        OffsetMm + (OffsetPerSupport * supportMm) + (OffsetPerDistance * pivotDistanceMm) + bendMm;
}
