using Whetwright.Core.Quantities;

namespace Whetwright.Paper.Pictures;

/// <summary>What the drawing of a rig from the side needs; one of the three closed kinds below. Drawn to scale.</summary>
public abstract record RigView
{
    private protected RigView()
    {
    }

    /// <summary>Support distance from the foot of the support on the mid-plane to the edge, mm.</summary>
    public required double SupportDistanceMm { get; init; }

    /// <summary>Angle ground, from the mid-plane, degrees.</summary>
    public required double AngleDeg { get; init; }

    /// <summary>Height of the blade at that place, edge to spine, mm.</summary>
    public double BladeHeightMm { get; init; } = 40;

    /// <summary>Thickness at the spine, mm.</summary>
    public double SpineMm { get; init; } = 2.5;

    /// <summary>How far the edge stands out of the jaw, mm; null draws no jaw.</summary>
    public double? ProtrusionMm { get; init; }

    /// <summary>Which side of the blade is being ground; null for either.</summary>
    public Side? BladeSide { get; init; }
}

/// <summary>A wheel and a bar (docs/conventions.md, "Wheel and bar").</summary>
public sealed record WheelAndBarView : RigView
{
    /// <summary>Name of the wheel.</summary>
    public required string WheelName { get; init; }

    /// <summary>Wheel diameter, mm.</summary>
    public required double WheelDiameterMm { get; init; }

    /// <summary>Bar's centre to the wheel's axis, mm.</summary>
    public required double BarCentreToAxisMm { get; init; }

    /// <summary>Bar diameter, mm.</summary>
    public required double BarDiameterMm { get; init; }

    /// <summary>Signed offset Q of the bar's centre from the mid-plane, positive away from the wheel, mm.</summary>
    public double OffsetMm { get; init; }

    /// <summary>Half the thickness of the holder, mm.</summary>
    public double HolderHalfThicknessMm { get; init; } = 6;

    /// <summary>Far side of the bar to the near point of the wheel: the distance that is dialled, mm.</summary>
    public double BarFarSideToWheelMm => BarCentreToAxisMm - (WheelDiameterMm / 2) + (BarDiameterMm / 2);
}

/// <summary>A rod that slides through a pivot above the blade.</summary>
public sealed record GuidedRodView : RigView
{
    /// <summary>Height of the pivot over the mid-plane, mm.</summary>
    public required double PivotHeightMm { get; init; }

    /// <summary>Offset of the abrasive's working face from the rod's line, mm.</summary>
    public double FaceOffsetMm { get; init; }
}

/// <summary>A blade lifted on a bench stone.</summary>
public sealed record BenchStoneView : RigView
{
    /// <summary>Lift to the mid-plane (or to the spine's lower corner) at the support distance, mm.</summary>
    public required double LiftMm { get; init; }

    /// <summary>The lift goes under the lower corner of the spine, not to the mid-plane.</summary>
    public bool SpineCorner { get; init; }
}

/// <summary>
/// A section through the edge, before and after. Each polygon is closed, in mm, x across the blade (negative: the blade's left,
/// seen from the heel with the edge down), y from the old apex up into the steel.
/// </summary>
public sealed record SectionView
{
    /// <summary>Outline before, from the left flank over the apex to the right flank.</summary>
    public required IReadOnlyList<Point2> BeforeMm { get; init; }

    /// <summary>Outline after, likewise.</summary>
    public required IReadOnlyList<Point2> AfterMm { get; init; }

    /// <summary>Steel that goes, one closed polygon each; hatched.</summary>
    public IReadOnlyList<IReadOnlyList<Point2>> RemovedMm { get; init; } = [];

    /// <summary>Old angle, left, degrees.</summary>
    public double? OldLeftDeg { get; init; }

    /// <summary>Old angle, right, degrees.</summary>
    public double? OldRightDeg { get; init; }

    /// <summary>New angle, left, degrees.</summary>
    public double? NewLeftDeg { get; init; }

    /// <summary>New angle, right, degrees.</summary>
    public double? NewRightDeg { get; init; }
}

/// <summary>The angle ground along the edge, over the outline with the clamp on it. Blade frame of docs/conventions.md.</summary>
public sealed record EdgeAngleView
{
    /// <summary>The edge, heel to tip, blade frame, mm.</summary>
    public required IReadOnlyList<Point2> EdgeMm { get; init; }

    /// <summary>Height of the blade at the heel, mm: for the spine line.</summary>
    public double BladeHeightMm { get; init; } = 40;

    /// <summary>Angles at stations: place along the edge's chord, mm, and degrees.</summary>
    public required IReadOnlyList<StationAngle> Angles { get; init; }

    /// <summary>Angle wanted, degrees.</summary>
    public required double WantedDeg { get; init; }

    /// <summary>Tolerance about it, degrees; null draws no band.</summary>
    public double? ToleranceDeg { get; init; }

    /// <summary>Foot of the pivot, blade frame, mm; null draws none.</summary>
    public Point2? PivotMm { get; init; }

    /// <summary>Middle of the jaw from the heel, mm; null draws no jaw.</summary>
    public double? JawFromHeelMm { get; init; }

    /// <summary>How far the edge stands out of the jaw, mm.</summary>
    public double? ProtrusionMm { get; init; }

    /// <summary>Width of the jaw along the edge, mm.</summary>
    public double JawWidthMm { get; init; } = 40;

    /// <summary>Start of the scored part, mm; null for the whole edge.</summary>
    public double? ScoreFromMm { get; init; }

    /// <summary>End of the scored part, mm.</summary>
    public double? ScoreToMm { get; init; }
}

/// <summary>An angle at a place along the chord.</summary>
/// <param name="AtMm">From the heel, mm.</param>
/// <param name="Deg">Degrees.</param>
public readonly record struct StationAngle(double AtMm, double Deg);

/// <summary>The pen test to expect: ink over the old facet, one light pass, then look where it is bare.</summary>
public sealed record PenTestView
{
    /// <summary>Wheel or side it is for; null where there is only one.</summary>
    public string? For { get; init; }

    /// <summary>Width of the old facet, mm.</summary>
    public required double FacetWidthMm { get; init; }

    /// <summary>Bare band from the apex, mm: start.</summary>
    public required double BareFromMm { get; init; }

    /// <summary>Bare band from the apex, mm: end.</summary>
    public required double BareToMm { get; init; }

    /// <summary>Where it touches first, in words: <c>at the shoulder</c>.</summary>
    public required string FirstTouch { get; init; }

    /// <summary>What it means, in a sentence.</summary>
    public string? Meaning { get; init; }
}

/// <summary>Marks on the reading row of a target.</summary>
public sealed record ReadingView
{
    /// <summary>Distance of the target from the edge, mm.</summary>
    public required double DistanceMm { get; init; }

    /// <summary>The marks.</summary>
    public required IReadOnlyList<MarkView> Marks { get; init; }
}

/// <summary>One mark.</summary>
/// <param name="TargetSide">Side of the target, as one reads it.</param>
/// <param name="Role">What it is: <c>edge</c>, <c>primary</c>, <c>micro</c>, <c>bare beam</c>.</param>
/// <param name="OffsetMm">Distance from zero along the row, mm, zero or more.</param>
/// <param name="Deg">Bevel angle it says, degrees.</param>
public sealed record MarkView(Side TargetSide, string Role, double OffsetMm, double Deg);
