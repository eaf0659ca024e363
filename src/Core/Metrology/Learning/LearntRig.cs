using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Learning;

/// <summary>What a step was.</summary>
public enum StepOf
{
    /// <summary>The whole rig moved: all its wheels.</summary>
    Rig = 0,

    /// <summary>One wheel alone.</summary>
    Wheel = 1,

    /// <summary>Which of the two cannot be told yet, or the rig has one wheel only.</summary>
    RigOrWheel = 2,
}

/// <summary>A step in got less set.</summary>
/// <param name="At">Index in the log of the first piece after it, as best told today.</param>
/// <param name="NoticedAt">Index in the log of the piece after which it was noticed.</param>
/// <param name="When">Time of the piece <paramref name="At"/>.</param>
/// <param name="Rig">Which rig.</param>
/// <param name="Wheel">The wheel in use at the step.</param>
/// <param name="Of">Whether rig or wheel moved.</param>
/// <param name="SizeDeg">Change of got less set, degrees.</param>
/// <param name="SizeUDeg">Its standard uncertainty.</param>
/// <param name="Probability">That there was a step about there, as the whole log says it today.</param>
public sealed record StepFound(
    int At, int NoticedAt, DateTimeOffset When, string Rig, string Wheel, StepOf Of, double SizeDeg, double SizeUDeg, double Probability);

/// <summary>State of the learning after one piece: for charts.</summary>
/// <param name="At">Index in the log.</param>
/// <param name="DifferenceDeg">Got less set of the piece.</param>
/// <param name="BiasDeg">Bias of its rig and wheel as known after it.</param>
/// <param name="UDeg">Standard uncertainty of that.</param>
/// <param name="StepProbability">That a step has happened since the last one noticed, within the last pieces.</param>
/// <param name="WildProbability">That this reading is wild.</param>
/// <param name="CorrectionInForceDeg">The correction it was set with.</param>
/// <param name="Clear">Whether a new correction stood clear after it.</param>
public sealed record LearningTrace(
    int At, double DifferenceDeg, double BiasDeg, double UDeg, double StepProbability, double WildProbability, double CorrectionInForceDeg, bool Clear);

/// <summary>What is known of one wheel on one rig.</summary>
/// <param name="Rig">Which rig.</param>
/// <param name="Wheel">Which wheel.</param>
/// <param name="Pieces">Pieces in the log.</param>
/// <param name="BiasDeg">Got less set, degrees, drawn toward the rig's mean as far as the wheel's own pieces are few.</param>
/// <param name="UDeg">Its standard uncertainty.</param>
/// <param name="Interval">The interval that holds it with 95 %.</param>
/// <param name="CorrectionInForceDeg">Correction (got less set) with which the last piece was set.</param>
/// <param name="ProposedCorrectionDeg">Correction (got less set) to take out from now on; null where none stands clear.</param>
public sealed record LearntWheel(
    string Rig, string Wheel, int Pieces, double BiasDeg, double UDeg, (double FromDeg, double ToDeg) Interval,
    double CorrectionInForceDeg, double? ProposedCorrectionDeg)
{
    /// <summary>What is left with the correction in force, degrees.</summary>
    public double LeftDeg => BiasDeg - CorrectionInForceDeg;

    /// <summary>How many standard uncertainties that stands clear.</summary>
    public double ClearBy => Math.Abs(LeftDeg) / UDeg;

    /// <summary>Chance that the bias is at most so many degrees, by the log.</summary>
    public double CumulativeAt(double biasDeg) => Cumulative(biasDeg);

    internal Func<double, double> Cumulative { get; init; } = _ => double.NaN;

    /// <summary>Bias with its uncertainty, for <see cref="Fixtures.Rig"/>'s learnt correction and the setting's uncertainty.</summary>
    public MeasuredAngle Bias => new(Angle.FromDegrees(BiasDeg), Angle.FromDegrees(UDeg));
}

/// <summary>What is known of one rig.</summary>
/// <param name="Rig">Which rig.</param>
/// <param name="MeanDeg">Mean bias of the rig, degrees: what a wheel without pieces of its own would be given.</param>
/// <param name="UDeg">Its standard uncertainty.</param>
/// <param name="ScatterDeg">Scatter from piece to piece beyond the readings' own uncertainty, degrees.</param>
/// <param name="Wheels">Its wheels, in the order in which they first stand in the log.</param>
/// <param name="Steps">Steps noticed, oldest first.</param>
/// <param name="Trace">After each piece, oldest first.</param>
public sealed record LearntRig(
    string Rig, double MeanDeg, double UDeg, double ScatterDeg, IReadOnlyList<LearntWheel> Wheels, IReadOnlyList<StepFound> Steps, IReadOnlyList<LearningTrace> Trace)
{
    /// <summary>Chance that the rig's mean is at most so many degrees, by the log.</summary>
    public double CumulativeAt(double meanDeg) => Cumulative(meanDeg);

    internal Func<double, double> Cumulative { get; init; } = _ => double.NaN;
}
