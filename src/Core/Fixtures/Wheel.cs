using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>A wheel of a rig, at today's diameter.</summary>
/// <param name="Name">For people; unique in its rig.</param>
/// <param name="Diameter">Diameter with its standard uncertainty.</param>
public sealed record Wheel(string Name, MeasuredLength Diameter)
{
    /// <summary>Standard uncertainty of a diameter where none is told, mm (chosen, not derived: a rule or a hand-held calliper on a turning wheel).</summary>
    public const double UsualDiameterUMm = 0.25;

    /// <summary>Added to the angle wanted on this wheel: a honing or stropping wheel a little steeper.</summary>
    public Angle Offset { get; init; }

    /// <summary>Turns a minute; null where not told.</summary>
    public double? Rpm { get; init; }

    /// <summary>Largest surface speed marked on the wheel, m/s; null where not told.</summary>
    public double? MarkedLimitMs { get; init; }

    /// <summary>True where the uncertainty of the diameter is the default.</summary>
    public bool DiameterUIsDefault { get; init; }

    /// <summary>What the checks have taught about this wheel: got less set; null where nothing.</summary>
    public MeasuredAngle? LearntCorrection { get; init; }

    /// <summary>Radius, mm.</summary>
    public double RadiusMm => Diameter.Value.Millimetres / 2;
}
