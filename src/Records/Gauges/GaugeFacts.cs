namespace Whetwright.Records.Gauges;

/// <summary>A gauge study as it was measured: which part, by whom, which repeat, what was read.</summary>
public sealed class GaugeStudyKept : Fact
{
    /// <summary>What was studied.</summary>
    public required string Name { get; init; }

    /// <summary>Unit of the values: "deg" or "mm".</summary>
    public required string Unit { get; init; }

    /// <summary>The measurements as CSV with the columns part, operator, trial, value.</summary>
    public required string MeasurementsCsv { get; init; }

    /// <summary>Full width of the tolerance that the gauge shall judge, in the unit; null where none was told.</summary>
    public double? ToleranceWidth { get; init; }
}

/// <summary>
/// A correction that a person applied: from then on a rig, or one wheel of it, is taken to grind this much off what it is set to. The latest of a rig and
/// wheel counts; 0 takes it out again.
/// </summary>
public sealed class CorrectionApplied : Fact
{
    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>The wheel; null for the whole rig.</summary>
    public long? WheelId { get; init; }

    /// <summary>Got less set, degrees: what the setting takes out.</summary>
    public double BiasDeg { get; init; }

    /// <summary>Its standard uncertainty, degrees.</summary>
    public double BiasUDeg { get; init; }

    /// <summary>Pieces it was learnt from; 0 for one that a person typed.</summary>
    public int Pieces { get; init; }

    /// <summary>Method and version it was learnt by; null for one that a person typed.</summary>
    public string? Method { get; init; }

    /// <summary>Why, in words.</summary>
    public string? Why { get; init; }
}

/// <summary>A known angle read by an instrument: is it still right.</summary>
public sealed class InstrumentCheck : Fact
{
    /// <summary>Name of the instrument.</summary>
    public required string Instrument { get; init; }

    /// <summary>What was read: "gauge block 30°".</summary>
    public required string Reference { get; init; }

    /// <summary>Its angle, degrees.</summary>
    public double ReferenceDeg { get; init; }

    /// <summary>How well that is known, standard uncertainty, degrees.</summary>
    public double ReferenceUDeg { get; init; }

    /// <summary>What the instrument said.</summary>
    public double ReadDeg { get; init; }

    /// <summary>Standard uncertainty of reading, degrees.</summary>
    public double ReadUDeg { get; init; }
}

/// <summary>The order of a bench day as somebody settled it; the latest of a day counts.</summary>
public sealed class BenchDayPlanned : Fact
{
    /// <summary>The shop's day.</summary>
    public DateOnly Day { get; init; }

    /// <summary>Operations in order and what the order cost, in our day format.</summary>
    public required string PlanJson { get; init; }

    /// <summary>True where a person changed the order that was found.</summary>
    public bool ByHand { get; init; }
}
