using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>How a tracing ended.</summary>
public enum TraceOutcome
{
    /// <summary>An edge was traced; reasons say what it leaves out.</summary>
    Traced,

    /// <summary>Nothing was traced; the reasons say why.</summary>
    Refused,
}

/// <summary>Where a blade's edge height over the mat comes from.</summary>
public enum EdgeHeightSource
{
    /// <summary>Nobody told it: the edge is as seen, the doubt is in the uncertainty.</summary>
    Unknown,

    /// <summary>Told.</summary>
    Told,

    /// <summary>Measured from two photos.</summary>
    Measured,
}

/// <summary>A chip: where the edge falls back from its smooth line.</summary>
/// <param name="AtMm">Along the chord from the heel.</param>
/// <param name="DepthMm">Greatest depth, the camera's blur taken out as far as the width allows.</param>
/// <param name="DepthUMm">Its standard uncertainty.</param>
/// <param name="WidthMm">Width at its mouth.</param>
/// <param name="PlaceOnMatMm">Where its middle lies on the smooth edge, mat frame.</param>
public sealed record TracedChip(double AtMm, double DepthMm, double DepthUMm, double WidthMm, Point2 PlaceOnMatMm);

/// <summary>Height of the blade at a station: from the edge square to the chord to the other side.</summary>
/// <param name="AtMm">Along the chord from the heel.</param>
/// <param name="HeightMm">Edge to spine.</param>
/// <param name="UMm">Its standard uncertainty.</param>
public readonly record struct HeightStation(double AtMm, double HeightMm, double UMm);

/// <summary>The outline of a blade from a photo on a mat. Lists are empty and numbers 0 where the work was refused.</summary>
public sealed record TracedOutline
{
    /// <summary>Traced or refused.</summary>
    public required TraceOutcome Outcome { get; init; }

    /// <summary>Why refused, or what to bear in mind.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }

    /// <summary>The smooth edge, chips bridged, blade frame: origin at the heel, x along the chord to the tip, y outward.</summary>
    public IReadOnlyList<Point2> EdgeMm { get; init; } = [];

    /// <summary>The edge as it is, chips and all, heel to tip, on the mat, parallax taken out by <see cref="EdgeHeightMm"/>.</summary>
    public IReadOnlyList<Point2> EdgeOnMatMm { get; init; } = [];

    /// <summary>The same as it appears on the mat's plane, parallax left in.</summary>
    public IReadOnlyList<Point2> EdgeAsSeenMm { get; init; } = [];

    /// <summary>Outline of blade and handle, closed, on the mat, the edge's parallax taken out.</summary>
    public IReadOnlyList<Point2> OutlineOnMatMm { get; init; } = [];

    /// <summary>Outline of the blade alone, handle cut off, closed, blade frame.</summary>
    public IReadOnlyList<Point2> BladeOutlineMm { get; init; } = [];

    /// <summary>Heel to tip, straight.</summary>
    public double LengthMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double LengthUMm { get; init; }

    /// <summary>Largest height of the blade as a calliper reads it, from a place of the edge the shortest way to the spine; a chord that rises to the tip does not lengthen it.</summary>
    public double HeightMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double HeightUMm { get; init; }

    /// <summary>Height at stations.</summary>
    public IReadOnlyList<HeightStation> Heights { get; init; } = [];

    /// <summary>Heel on the mat.</summary>
    public Point2 HeelOnMatMm { get; init; }

    /// <summary>Tip on the mat.</summary>
    public Point2 TipOnMatMm { get; init; }

    /// <summary>Chips, heel to tip.</summary>
    public IReadOnlyList<TracedChip> Chips { get; init; } = [];

    /// <summary>Height of the edge above the mat that was used: told, measured, or 0 where unknown.</summary>
    public double EdgeHeightMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double EdgeHeightUMm { get; init; }

    /// <summary>Where it comes from.</summary>
    public EdgeHeightSource EdgeHeightFrom { get; init; }

    /// <summary>Tilt of the camera's axis against the mat's normal.</summary>
    public Angle ViewTilt { get; init; }

    /// <summary>Where the camera stood over the mat.</summary>
    public Point2 CameraOnMatMm { get; init; }

    /// <summary>How high it stood.</summary>
    public double CameraHeightMm { get; init; }

    /// <summary>How far the edge appears shifted, root mean square along it: what was taken out, or with an unknown height what a usual one would make.</summary>
    public double ParallaxMm { get; init; }

    /// <summary>Standard uncertainty of a place of the edge, across it.</summary>
    public double UMm { get; init; }

    /// <summary>How the uncertainty came to be.</summary>
    public IReadOnlyList<Derivation> Explain() => Outcome == TraceOutcome.Refused ? [] : OutlineBudget.Explain(this);

    internal OutlineBudget Budget { get; init; } = OutlineBudget.None;

    internal LengthBudget LengthBudget { get; init; } = LengthBudget.None;

    internal HeightBudget HeightBudget { get; init; } = HeightBudget.None;

    /// <summary>The mat as found in the photo; null where it was refused.</summary>
    internal FoundSheet? Sheet { get; init; }

    /// <summary>The outline as it appears on the mat's plane.</summary>
    internal IReadOnlyList<Point2> OutlineAsSeenMm { get; init; } = [];

    /// <summary>Middles of <see cref="Chips"/> as they appear on the mat's plane.</summary>
    internal IReadOnlyList<Point2> ChipsAsSeenMm { get; init; } = [];

    internal static TracedOutline Refuse(params Reason[] reasons) => new() { Outcome = TraceOutcome.Refused, Reasons = reasons };
}
