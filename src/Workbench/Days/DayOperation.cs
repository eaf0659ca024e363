using Whetwright.Core.Ordering;

namespace Whetwright.Workbench.Days;

/// <summary>One operation of a bench day: a stage of a piece, or all its bench work where the stages are not known.</summary>
/// <param name="Id">Unique in the day.</param>
/// <param name="VisitId">The visit.</param>
/// <param name="Tag">As it is read out.</param>
/// <param name="Piece">The piece.</param>
/// <param name="What">"coarse", "bench work".</param>
/// <param name="RigId">On which rig; null for work by hand or not known.</param>
/// <param name="Rig">Its name.</param>
/// <param name="WheelId">With which wheel; null for none.</param>
/// <param name="AbrasiveId">With which abrasive; null for none.</param>
/// <param name="AngleDeg">Angle set; null where none is chosen.</param>
/// <param name="Minutes">Working minutes.</param>
/// <param name="MinutesFrom">Where the minutes come from: "stages, learnt rates", "price list", "a guess".</param>
/// <param name="DueMinutes">Promise, minutes from the start of the day; null for none that day.</param>
/// <param name="Weight">What a minute late weighs.</param>
public sealed record DayOperation(
    string Id, long VisitId, string Tag, string Piece, string What, long? RigId, string? Rig, long? WheelId, long? AbrasiveId, double? AngleDeg,
    double Minutes, string MinutesFrom, double? DueMinutes, double Weight)
{
    /// <summary>How the bench is set up for it.</summary>
    /// <param name="abrasiveMinutes">Minutes typed for a change to its abrasive; null for none.</param>
    public BenchSetup Setup(double? abrasiveMinutes = null) => new(
        FormattableString.Invariant($"{VisitId}"), RigId is null ? null : FormattableString.Invariant($"{RigId}"), FormattableString.Invariant($"{WheelId}/{AbrasiveId}"), AngleDeg, abrasiveMinutes);
}
