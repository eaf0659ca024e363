namespace Whetwright.Core.Ordering;

/// <summary>What is changed between two operations at the bench.</summary>
[Flags]
public enum SetupChanges
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Another piece into the jaw, dialled and touched off.</summary>
    Clamp = 1,

    /// <summary>Another wheel or abrasive on the same rig.</summary>
    Wheel = 2,

    /// <summary>Another angle on the same rig: bar, pivot or lift moved.</summary>
    Angle = 4,

    /// <summary>To another rig.</summary>
    Rig = 8,
}

/// <summary>How the bench is set up for an operation.</summary>
/// <param name="Piece">The piece in the jaw.</param>
/// <param name="Rig">The rig; null for work by hand or not known.</param>
/// <param name="Wheel">Wheel or abrasive; null for none.</param>
/// <param name="AngleDeg">Angle set, degrees; null where none is chosen.</param>
/// <param name="WheelMinutes">Minutes that somebody typed for changing to this wheel or abrasive; null for the usual ones.</param>
public sealed record BenchSetup(string Piece, string? Rig = null, string? Wheel = null, double? AngleDeg = null, double? WheelMinutes = null)
{
    /// <summary>Two angles closer than this are one setting, degrees (chosen, not derived).</summary>
    public const double SameAngleDeg = 0.05;

    /// <summary>Both are set to the same angle, or to none.</summary>
    public bool HasAngleOf(BenchSetup other) =>
        AngleDeg is { } x && other.AngleDeg is { } y ? Math.Abs(x - y) <= SameAngleDeg : AngleDeg is null && other.AngleDeg is null;

    /// <summary>What changes from one set-up to the next. A rig brings its own wheel and angle, so these are not counted beside it.</summary>
    /// <param name="from">The set-up before; null for a bench that nobody told of, which costs one clamping.</param>
    /// <param name="to">The set-up after.</param>
    public static SetupChanges Between(BenchSetup? from, BenchSetup to)
    {
        if (from is null)
            return SetupChanges.Clamp;
        SetupChanges changes = from.Piece == to.Piece ? SetupChanges.None : SetupChanges.Clamp;
        if (from.Rig != to.Rig)
            return changes | SetupChanges.Rig;
        if (from.Wheel != to.Wheel)
            changes |= SetupChanges.Wheel;
        return to.HasAngleOf(from) ? changes : changes | SetupChanges.Angle;
    }
}

/// <summary>A change of set-up seen in the log.</summary>
/// <param name="Minutes">How long it took, above 0.</param>
/// <param name="Changes">All that was changed in that time.</param>
/// <param name="WheelMinutes">Minutes that somebody typed for changing to that wheel; null for the usual ones.</param>
public sealed record SetupSeen(double Minutes, SetupChanges Changes, double? WheelMinutes = null);
