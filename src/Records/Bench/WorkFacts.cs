namespace Whetwright.Records.Bench;

/// <summary>Where a chosen angle came from.</summary>
public enum TargetSource
{
    /// <summary>The edge found is kept.</summary>
    Found = 0,

    /// <summary>As last time.</summary>
    LastTime = 1,

    /// <summary>A house rule.</summary>
    HouseRule = 2,

    /// <summary>The person's own choice.</summary>
    Own = 3,

    /// <summary>Thinner than where the choice started.</summary>
    Thinner = 4,

    /// <summary>Stronger than where the choice started.</summary>
    Stronger = 5,
}

/// <summary>The edge each side should get. (The printed sheet in the beam is a target, too; here the word is the aim.)</summary>
public sealed class AimChosen : VisitFact
{
    /// <summary>Where from.</summary>
    public TargetSource Source { get; init; }

    /// <summary>Blade's left side, degrees; 0 on a back.</summary>
    public double LeftDeg { get; init; }

    /// <summary>Blade's right side, degrees; 0 on a back.</summary>
    public double RightDeg { get; init; }

    /// <summary>Micro-bevel per side, degrees; null for none.</summary>
    public double? MicroDeg { get; init; }

    /// <summary>Angle at the strop or hone, degrees per side; null as the bevel.</summary>
    public double? HoneDeg { get; init; }

    /// <summary>Tolerance per side, degrees.</summary>
    public double ToleranceDeg { get; init; }

    /// <summary>The section before and after, in our section format; null where it could not be computed.</summary>
    public string? SectionJson { get; init; }

    /// <summary>Method and version behind it.</summary>
    public string? Method { get; init; }

    /// <summary>Profile repair decided on: kind and depth in our reshape format.</summary>
    public string? ReshapeJson { get; init; }
}

/// <summary>What to dial into a rig. Pins the diameter entries it used: a dressing afterwards makes it stale.</summary>
public sealed class SettingMade : VisitFact
{
    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>Diameter entries it used, one per wheel.</summary>
    public required long[] DiameterIds { get; init; }

    /// <summary>The aim it serves.</summary>
    public long? AimId { get; init; }

    /// <summary>Everything that went in: blade, rig, wish, corrections applied.</summary>
    public required string InputsJson { get; init; }

    /// <summary>The whole result in our set format.</summary>
    public required string ResultJson { get; init; }

    /// <summary>Method and version.</summary>
    public required string Method { get; init; }

    /// <summary>Clamp: jaw from heel, mm.</summary>
    public double? JawFromHeelMm { get; init; }

    /// <summary>Clamp: protrusion, mm.</summary>
    public double? ProtrusionMm { get; init; }

    /// <summary>Clamp: pivot in the blade frame, mm.</summary>
    public double? PivotXMm { get; init; }

    /// <summary>Clamp: pivot in the blade frame, mm.</summary>
    public double? PivotYMm { get; init; }
}

/// <summary>The touch-off: one distance measured after clamping or a wheel change.</summary>
public sealed class TouchOff : VisitFact
{
    /// <summary>The setting it proves.</summary>
    public long SettingId { get; init; }

    /// <summary>The wheel, where there is one.</summary>
    public long? WheelId { get; init; }

    /// <summary>What it should measure, mm.</summary>
    public double ExpectedMm { get; init; }

    /// <summary>What it measured, mm.</summary>
    public double MeasuredMm { get; init; }

    /// <summary>True where the person accepted it.</summary>
    public bool Accepted { get; init; }
}

/// <summary>Passes over one abrasive on one side, counted.</summary>
public sealed class Passes : VisitFact
{
    /// <summary>The abrasive.</summary>
    public long? AbrasiveId { get; init; }

    /// <summary>The wheel, where the abrasive sits on one.</summary>
    public long? WheelId { get; init; }

    /// <summary>"left", "right" or "both".</summary>
    public required string Side { get; init; }

    /// <summary>How many.</summary>
    public int Count { get; init; }

    /// <summary>Stage number within the visit, 1-based.</summary>
    public int Stage { get; init; }
}

/// <summary>What happens at the bench besides passes.</summary>
public enum BenchEventKind
{
    /// <summary>The pen test was made; <see cref="BenchEvent.DataJson"/> has the band in our touch format.</summary>
    PenTest = 0,

    /// <summary>A burr was felt.</summary>
    BurrFelt = 1,

    /// <summary>The burr will not come off.</summary>
    BurrStays = 2,

    /// <summary>The burr is off.</summary>
    BurrOff = 3,

    /// <summary>Cooled, waited, or colour looked at.</summary>
    Cooled = 4,

    /// <summary>The clamp slipped: back to Set.</summary>
    Slipped = 5,

    /// <summary>Stropped or honed.</summary>
    Stropped = 6,

    /// <summary>Cleaned and oiled.</summary>
    Cleaned = 7,

    /// <summary>Clamped.</summary>
    Clamped = 8,
}

/// <summary>Something that happened at the bench.</summary>
public sealed class BenchEvent : VisitFact
{
    /// <summary>What.</summary>
    public BenchEventKind Kind { get; init; }

    /// <summary>Stage number, where it belongs to one.</summary>
    public int? Stage { get; init; }

    /// <summary>Pass number, for a slip.</summary>
    public int? AtPass { get; init; }

    /// <summary>Strop, compound or abrasive, where one was used.</summary>
    public long? AbrasiveId { get; init; }

    /// <summary>Data of the kind.</summary>
    public string? DataJson { get; init; }

    /// <summary>Words.</summary>
    public string? Note { get; init; }
}

/// <summary>The steps of the bench, in order.</summary>
public enum BenchStep
{
    /// <summary>Find out what edge it has.</summary>
    Read = 0,

    /// <summary>Decide what edge each side gets.</summary>
    Choose = 1,

    /// <summary>Clamp and dial.</summary>
    Set = 2,

    /// <summary>Grind.</summary>
    Grind = 3,

    /// <summary>Strop, hone, clean.</summary>
    Finish = 4,

    /// <summary>Read again, cut test.</summary>
    Check = 5,
}

/// <summary>A step was closed, skipped, or opened again.</summary>
public sealed class StepMark : VisitFact
{
    /// <summary>Which.</summary>
    public BenchStep Step { get; init; }

    /// <summary>What was said.</summary>
    public StepState State { get; init; }

    /// <summary>Why, for a skipped or reopened one.</summary>
    public string? Why { get; init; }
}

/// <summary>What was said of a step.</summary>
public enum StepState
{
    /// <summary>Done.</summary>
    Done = 0,

    /// <summary>Left out on purpose.</summary>
    Skipped = 1,

    /// <summary>Open again.</summary>
    Reopened = 2,
}

/// <summary>A cut test.</summary>
public sealed class CutTest : VisitFact
{
    /// <summary>What was cut: "newsprint".</summary>
    public required string Medium { get; init; }

    /// <summary>At the heel: "clean", "catches", "tears".</summary>
    public string? Heel { get; init; }

    /// <summary>In the middle.</summary>
    public string? Middle { get; init; }

    /// <summary>At the tip.</summary>
    public string? Tip { get; init; }
}
