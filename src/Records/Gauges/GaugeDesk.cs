using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Gauges;

/// <summary>Writes what the shop measures of its own measuring: studies, instrument checks, corrections applied; and the order of a day.</summary>
/// <param name="clock">The time.</param>
public sealed class GaugeDesk(BookClock clock)
{
    /// <summary>Most characters of a study: some 10,000 measurements.</summary>
    public const int LongestStudy = 400_000;

    /// <summary>Keeps a study.</summary>
    public async Task<SaveOutcome<GaugeStudyKept>> KeepStudyAsync(
        BookContext db, string? name, string unit, string measurementsCsv, double? toleranceWidth, DateTime? happenedAt = null, CancellationToken cancel = default)
    {
        FormCheck check = new FormCheck()
            .Text("Name", name, "a name such as \"laser target, two people\" would be right", 80)
            .OneOf("Unit", unit, "deg", "mm")
            .Text("MeasurementsCsv", measurementsCsv, "part, operator, trial, value would be right", LongestStudy)
            .That(toleranceWidth is null or (> 0 and <= 1000), "ToleranceWidth", toleranceWidth, "a width above 0 would be right, or nothing");
        if (!check.Passed)
            return new SaveOutcome<GaugeStudyKept>.Refused(check.Problems);
        DateTime now = clock.Now();
        return await db.AddFactAsync(
            new GaugeStudyKept { Name = name!.Trim(), Unit = unit, MeasurementsCsv = measurementsCsv, ToleranceWidth = toleranceWidth, HappenedAt = happenedAt ?? now, EnteredAt = now },
            s => s.Name == name, Seen.Anything, cancel);
    }

    /// <summary>Applies a correction, or takes it out with 0: a person did it.</summary>
    /// <param name="db">The write's context.</param>
    /// <param name="typed">Rig, wheel, bias; its times are set here.</param>
    /// <param name="seen">The latest correction of this rig and wheel that the form had seen.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<SaveOutcome<CorrectionApplied>> ApplyAsync(BookContext db, CorrectionTyped typed, Seen seen = default, CancellationToken cancel = default)
    {
        (long rig, long? wheel) = (typed.RigId, typed.WheelId);
        FormCheck check = new FormCheck()
            .That(await db.Rigs.AnyAsync(r => r.Id == rig, cancel), "RigId", rig, "a rig of the shop would be right")
            .That(wheel is null || await db.Wheels.AnyAsync(w => w.Id == wheel && w.RigId == rig, cancel), "WheelId", wheel, "a wheel of this rig would be right")
            .Within("BiasDeg", typed.BiasDeg, -20, 20, "°")
            .Within("BiasUDeg", typed.BiasUDeg, 0, 20, "°")
            .Longest("Why", typed.Why, 400);
        if (!check.Passed)
            return new SaveOutcome<CorrectionApplied>.Refused(check.Problems);
        DateTime now = clock.Now();
        CorrectionApplied fact = new()
        {
            RigId = rig, WheelId = wheel, BiasDeg = typed.BiasDeg, BiasUDeg = typed.BiasUDeg, Pieces = typed.Pieces, Method = typed.Method, Why = Trimmed.Of(typed.Why),
            HappenedAt = now, EnteredAt = now,
        };
        return await db.AddFactAsync(fact, c => c.RigId == rig && c.WheelId == wheel, seen, cancel);
    }

    /// <summary>Enters a check of an instrument against a known angle.</summary>
    public async Task<SaveOutcome<InstrumentCheck>> CheckAsync(BookContext db, InstrumentCheckTyped typed, CancellationToken cancel = default)
    {
        FormCheck check = new FormCheck()
            .Text("Instrument", typed.Instrument, "the instrument's name would be right", 60)
            .Text("Reference", typed.Reference, "what was read would be right: \"gauge block 30°\"", 80)
            .Within("ReferenceDeg", typed.ReferenceDeg, 0.1, 180, "°").Within("ReadDeg", typed.ReadDeg, 0.1, 180, "°")
            .Within("ReferenceUDeg", typed.ReferenceUDeg, 0, 10, "°").Within("ReadUDeg", typed.ReadUDeg, 0.001, 10, "°");
        if (!check.Passed)
            return new SaveOutcome<InstrumentCheck>.Refused(check.Problems);
        DateTime now = clock.Now();
        string name = typed.Instrument!.Trim();
        InstrumentCheck fact = new()
        {
            Instrument = name, Reference = typed.Reference!.Trim(), ReferenceDeg = typed.ReferenceDeg, ReferenceUDeg = typed.ReferenceUDeg, ReadDeg = typed.ReadDeg, ReadUDeg = typed.ReadUDeg,
            HappenedAt = typed.HappenedAt ?? now, EnteredAt = now,
        };
        return await db.AddFactAsync(fact, c => c.Instrument == name, Seen.Anything, cancel);
    }

    /// <summary>Keeps the order of a day.</summary>
    public async Task<SaveOutcome<BenchDayPlanned>> PlanDayAsync(BookContext db, DateOnly day, string planJson, bool byHand, Seen seen = default, CancellationToken cancel = default)
    {
        DateTime now = clock.Now();
        return await db.AddFactAsync(new BenchDayPlanned { Day = day, PlanJson = planJson, ByHand = byHand, HappenedAt = now, EnteredAt = now }, d => d.Day == day, seen, cancel);
    }

}

/// <summary>A correction to apply.</summary>
public sealed record CorrectionTyped
{
    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>The wheel; null for the whole rig.</summary>
    public long? WheelId { get; init; }

    /// <summary>Got less set, degrees; 0 takes the correction out.</summary>
    public double BiasDeg { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double BiasUDeg { get; init; }

    /// <summary>Pieces it was learnt from.</summary>
    public int Pieces { get; init; }

    /// <summary>Method and version.</summary>
    public string? Method { get; init; }

    /// <summary>Why.</summary>
    public string? Why { get; init; }
}

/// <summary>An instrument's check as typed.</summary>
public sealed record InstrumentCheckTyped
{
    /// <summary>Which instrument.</summary>
    public string? Instrument { get; init; }

    /// <summary>What was read.</summary>
    public string? Reference { get; init; }

    /// <summary>Its angle, degrees.</summary>
    public double ReferenceDeg { get; init; }

    /// <summary>How well that is known.</summary>
    public double ReferenceUDeg { get; init; }

    /// <summary>What the instrument said.</summary>
    public double ReadDeg { get; init; }

    /// <summary>Standard uncertainty of reading.</summary>
    public double ReadUDeg { get; init; }

    /// <summary>When, UTC; null for now.</summary>
    public DateTime? HappenedAt { get; init; }
}
