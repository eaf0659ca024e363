using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>A clamp with its settings and what it grinds.</summary>
/// <param name="Problem">What was asked.</param>
/// <param name="Pivot">Foot of the pivot, blade frame.</param>
/// <param name="Settings">One for each channel of the problem, in order.</param>
/// <param name="WorstDeg">Largest weighted deviation from the target over all scored stations and channels, recomputed from the pivot and the settings.</param>
/// <param name="BoundDeg">No clamp in the box is better than this, proved; null where it was not asked for (a given clamp, an uncertified search).</param>
/// <param name="BoxesTried">Boxes that the proof looked at; zero without one.</param>
/// <param name="Method">Name and version.</param>
public sealed record Clamp(
    ClampProblem Problem,
    Point2 Pivot,
    IReadOnlyList<ClampSetting> Settings,
    double WorstDeg,
    double? BoundDeg,
    int BoxesTried,
    string Method)
{
    /// <summary>Distance of the pivot behind the line of the edge, mm: −y.</summary>
    public double PivotDistanceMm => -Pivot.Y;
}

/// <summary>What one channel is set to and grinds.</summary>
/// <param name="Channel">Which.</param>
/// <param name="SettingMm">The number to dial.</param>
/// <param name="AnglesDeg">α at each station of the problem, scored or not; NaN where there is no such pose.</param>
/// <param name="WorstDeg">Largest weighted deviation over the scored stations.</param>
/// <param name="WorstStation">Index of the station where it is.</param>
public sealed record ClampSetting(ClampChannel Channel, double SettingMm, IReadOnlyList<double> AnglesDeg, double WorstDeg, int WorstStation);

/// <summary>What became of a search.</summary>
public abstract record ClampOutcome
{
    private ClampOutcome()
    {
    }

    /// <summary>A clamp.</summary>
    public sealed record Found(Clamp Clamp) : ClampOutcome;

    /// <summary>No such pose, and why.</summary>
    public sealed record Refused(IReadOnlyList<Reason> Reasons) : ClampOutcome;
}
