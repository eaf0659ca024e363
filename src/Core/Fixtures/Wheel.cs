using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>A wheel of a rig, at its diameter as last measured.</summary>
/// <param name="Name">For people; unique in its rig.</param>
/// <param name="Diameter">Diameter as measured, with the standard uncertainty of measuring it.</param>
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

    /// <summary>What it is foretold to have lost of its diameter since it was measured; null where nothing is foretold. It is not taken off the diameter.</summary>
    public MeasuredLength? Worn { get; init; }

    /// <summary>The day on which the diameter was measured; null where not told.</summary>
    public DateOnly? MeasuredOn { get; init; }

    /// <summary>
    /// What the wear since it was measured adds to the uncertainty of the diameter, mm: √(w² + u_w²), w being lost and not taken off, u_w its standard uncertainty:
    /// the root of the mean square error about the value kept. 0 where nothing is foretold. Source: definition.
    /// </summary>
    public double WornUMm => Worn is { } worn ? double.Hypot(worn.Value.Millimetres, worn.StandardUncertainty.Millimetres) : 0;

    /// <summary>Standard uncertainty of the diameter today, mm: measuring and wear since.</summary>
    public double DiameterUTodayMm => double.Hypot(Diameter.StandardUncertainty.Millimetres, WornUMm);

    /// <summary>Radius, mm.</summary>
    public double RadiusMm => Diameter.Value.Millimetres / 2;
}
