namespace Whetwright.Records.Bench;

/// <summary>One placing of the blade in the beam: the marks as observed, or the photos they will be found on.</summary>
public sealed class Mount : VisitFact
{
    /// <summary>"up", "down" or null where it was not noted.</summary>
    public string? Tip { get; init; }

    /// <summary>Marks typed or placed by a finger, in our marks format; null where only photos tell.</summary>
    public string? MarksJson { get; init; }

    /// <summary>The lit photo.</summary>
    public long? PhotoId { get; init; }

    /// <summary>The dark photo.</summary>
    public long? DarkPhotoId { get; init; }

    /// <summary>The instrument used.</summary>
    public long? InstrumentId { get; init; }
}

/// <summary>What a reading is for.</summary>
public enum ReadingPurpose
{
    /// <summary>What edge the piece came with.</summary>
    Found = 0,

    /// <summary>What edge it has after the work.</summary>
    Check = 1,
}

/// <summary>Angles computed from mounts; can be recomputed from <see cref="InputsJson"/> under another method.</summary>
public sealed class Reading : VisitFact
{
    /// <summary>What for.</summary>
    public ReadingPurpose Purpose { get; init; }

    /// <summary>Ids of the mounts it rests on.</summary>
    public required long[] MountIds { get; init; }

    /// <summary>Name of the method, e.g. "reading-combination".</summary>
    public required string Method { get; init; }

    /// <summary>Version of the method.</summary>
    public required string MethodVersion { get; init; }

    /// <summary>Everything that went in: marks, instrument, knowledge.</summary>
    public required string InputsJson { get; init; }

    /// <summary>The whole result in our reading format.</summary>
    public required string ResultJson { get; init; }

    /// <summary>"read", "one-side" or "refused".</summary>
    public required string Outcome { get; init; }

    /// <summary>Included angle, degrees.</summary>
    public double? IncludedDeg { get; init; }

    /// <summary>Its standard uncertainty, degrees.</summary>
    public double? IncludedUDeg { get; init; }

    /// <summary>Blade's left side, degrees.</summary>
    public double? LeftDeg { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double? LeftUDeg { get; init; }

    /// <summary>Blade's right side, degrees.</summary>
    public double? RightDeg { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double? RightUDeg { get; init; }
}

/// <summary>An outline taken from photographs, or typed lengths in its place.</summary>
public sealed class OutlineTaken : VisitFact
{
    /// <summary>The photo.</summary>
    public long? PhotoId { get; init; }

    /// <summary>The whole result in our trace format; null where only lengths were typed.</summary>
    public string? ResultJson { get; init; }

    /// <summary>Method and version.</summary>
    public string? Method { get; init; }

    /// <summary>Length of the edge, mm.</summary>
    public double? LengthMm { get; init; }

    /// <summary>Height at the heel, mm.</summary>
    public double? HeightMm { get; init; }

    /// <summary>Deepest chip, mm.</summary>
    public double? ChipMm { get; init; }
}

/// <summary>The section as measured by calliper and loupe.</summary>
public sealed class SectionMeasured : VisitFact
{
    /// <summary>Thickness behind the edge, mm.</summary>
    public double? BehindEdgeMm { get; init; }

    /// <summary>Half-angle of the primary grind, degrees.</summary>
    public double? PrimaryHalfDeg { get; init; }

    /// <summary>Width of the dull land, mm.</summary>
    public double? LandMm { get; init; }

    /// <summary>Deepest chip, mm.</summary>
    public double? ChipMm { get; init; }

    /// <summary>Spine, mm.</summary>
    public double? SpineMm { get; init; }

    /// <summary>Height at the heel, mm.</summary>
    public double? HeightMm { get; init; }

    /// <summary>Bend, mm.</summary>
    public double? BendMm { get; init; }

    /// <summary>Rust, patina, anything seen.</summary>
    public string? Seen { get; init; }
}
