namespace Whetwright.Core.Metrology.Learning;

/// <summary>One piece in the log: what was set and what came out.</summary>
/// <param name="When">When it was ground; the log is taken in this order.</param>
/// <param name="Rig">On which rig.</param>
/// <param name="Wheel">With which wheel or stone of it.</param>
/// <param name="SetDeg">Angle that the dialled setting stands for by the rig's geometry alone, degrees: what was aimed at less any correction in force.</param>
/// <param name="GotDeg">Angle read afterwards, degrees.</param>
/// <param name="UDeg">Standard uncertainty of the difference from reading it, above zero, degrees.</param>
public sealed record SetGot(DateTimeOffset When, string Rig, string Wheel, double SetDeg, double GotDeg, double UDeg)
{
    /// <summary>The correction (got less set) that was in force when it was set, degrees; 0 where there was none.</summary>
    public double CorrectionInForceDeg { get; init; }

    /// <summary>Got less set, degrees.</summary>
    public double DifferenceDeg => GotDeg - SetDeg;

    /// <summary>What the person aimed at: set plus the correction in force, degrees.</summary>
    public double AimedDeg => SetDeg + CorrectionInForceDeg;

    /// <summary>Makes the entry from what was aimed at and the correction (got less set) in force.</summary>
    public static SetGot Aimed(DateTimeOffset when, string rig, string wheel, double aimedDeg, double gotDeg, double uDeg, double correctionInForceDeg) =>
        new(when, rig, wheel, aimedDeg - correctionInForceDeg, gotDeg, uDeg) { CorrectionInForceDeg = correctionInForceDeg };
}

/// <summary>A change that somebody made and noted: rig mended, wheel changed, diameter measured anew. What was learnt before it counts for little after it.</summary>
/// <param name="When">When.</param>
/// <param name="Rig">Which rig.</param>
/// <param name="Wheel">Which wheel; null for the rig itself.</param>
public sealed record KnownChange(DateTimeOffset When, string Rig, string? Wheel);
