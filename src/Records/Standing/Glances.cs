using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>What of a reading decides where a visit stands.</summary>
public sealed record ReadingGlance(DateTime At, ReadingPurpose Purpose, string Outcome);

/// <summary>What of an aim does.</summary>
public sealed record AimGlance(long Id, DateTime At);

/// <summary>What of a setting does.</summary>
public sealed record SettingGlance(long Id, DateTime At, long? AimId, IReadOnlyList<long> DiameterIds);

/// <summary>What of a touch-off does.</summary>
public sealed record TouchGlance(DateTime At, long SettingId, bool Accepted);

/// <summary>What of passes does.</summary>
public sealed record PassGlance(DateTime At, int Stage, long? AbrasiveId, string Side, int Count);

/// <summary>What of another event at the bench does.</summary>
public sealed record EventGlance(DateTime At, BenchEventKind Kind, int? Stage, int? AtPass);

/// <summary>What of a mark on a step does.</summary>
public sealed record MarkGlance(DateTime At, BenchStep Step, StepState State);

/// <summary>The facts of one visit that stand, as far as they say where it stands.</summary>
public sealed record VisitGlance
{
    /// <summary>The visit.</summary>
    public required long VisitId { get; init; }

    /// <summary>True once it was handed back.</summary>
    public bool HandedBack { get; init; }

    /// <summary>When mounts, outlines or sections were entered: a reading was begun.</summary>
    public IReadOnlyList<DateTime> Measured { get; init; } = [];

    /// <summary>Readings.</summary>
    public IReadOnlyList<ReadingGlance> Readings { get; init; } = [];

    /// <summary>Aims.</summary>
    public IReadOnlyList<AimGlance> Aims { get; init; } = [];

    /// <summary>Settings.</summary>
    public IReadOnlyList<SettingGlance> Settings { get; init; } = [];

    /// <summary>Touch-offs.</summary>
    public IReadOnlyList<TouchGlance> TouchOffs { get; init; } = [];

    /// <summary>Passes.</summary>
    public IReadOnlyList<PassGlance> Passes { get; init; } = [];

    /// <summary>Events.</summary>
    public IReadOnlyList<EventGlance> Events { get; init; } = [];

    /// <summary>Marks on steps.</summary>
    public IReadOnlyList<MarkGlance> Marks { get; init; } = [];

    /// <summary>When things were cut for a test.</summary>
    public IReadOnlyList<DateTime> CutTests { get; init; } = [];

    /// <summary>When the owner was last told.</summary>
    public DateTime? ToldAt { get; init; }
}
