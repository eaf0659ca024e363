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
    double Minutes, string MinutesFrom, double? DueMinutes, double Weight);

/// <summary>Minutes that a change of set-up takes, each with where it comes from.</summary>
/// <param name="Clamp">Another piece into the jaw, dialled and touched off.</param>
/// <param name="Wheel">Another wheel or abrasive, where the abrasive's own minutes are not typed.</param>
/// <param name="Angle">Another angle: bar, pivot or lift moved.</param>
/// <param name="Rig">To another rig.</param>
/// <param name="ClampFrom">"learnt from 31 touch-offs", "a default".</param>
public sealed record SetupMinutes(double Clamp, double Wheel, double Angle, double Rig, string ClampFrom)
{
    /// <summary>Defaults: 3, 2, 1.5 and 1 minutes (chosen, not derived).</summary>
    public static SetupMinutes Usual { get; } = new(3, 2, 1.5, 1, "a default");

    /// <summary>Fewest observations that replace a default (chosen, not derived).</summary>
    public const int Fewest = 5;

    /// <summary>With the clamping learnt: the median of the minutes from "dialled" to "touched off".</summary>
    public static SetupMinutes Learnt(IReadOnlyList<double> clampMinutes)
    {
        double[] seen = [.. clampMinutes.Where(m => m is > 0.1 and < 30).Order()];
        return seen.Length < Fewest ? Usual
            : Usual with { Clamp = (seen[(seen.Length - 1) / 2] + seen[seen.Length / 2]) / 2, ClampFrom = FormattableString.Invariant($"learnt from {seen.Length} touch-offs, their median") };
    }

    /// <summary>Two angles closer than this are one setting, degrees (chosen, not derived).</summary>
    public const double SameAngleDeg = 0.05;

    /// <summary>Minutes from one operation to the next; from the bench as it stands where <paramref name="from"/> is null.</summary>
    public double Between(DayOperation? from, DayOperation to, double? abrasiveMinutes)
    {
        if (from is null)
            return Clamp;
        double minutes = from.VisitId == to.VisitId ? 0 : Clamp;
        if (from.RigId != to.RigId)
            return minutes + Rig;
        if (from.WheelId != to.WheelId || from.AbrasiveId != to.AbrasiveId)
            minutes += abrasiveMinutes ?? Wheel;
        return SameAngle(from, to) ? minutes : minutes + Angle;
    }

    /// <summary>Both are set to the same angle, or to none.</summary>
    public static bool SameAngle(DayOperation a, DayOperation b) => a.AngleDeg is { } x && b.AngleDeg is { } y ? Math.Abs(x - y) <= SameAngleDeg : a.AngleDeg is null && b.AngleDeg is null;
}
