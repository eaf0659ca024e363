namespace Whetwright.Core.Ordering;

/// <summary>What one kind of change takes.</summary>
/// <param name="UsualMinutes">The default, minutes.</param>
/// <param name="Minutes">Median of what is known now, minutes: every second change takes longer.</param>
/// <param name="FromMinutes">Lower end of the interval that holds it with 95 %.</param>
/// <param name="ToMinutes">Upper end.</param>
/// <param name="Seen">Changes in the log in which it was one of what was changed.</param>
/// <param name="IsLearnt">The log tells more of it than the default did.</param>
public sealed record SetupTime(double UsualMinutes, double Minutes, double FromMinutes, double ToMinutes, int Seen, bool IsLearnt)
{
    /// <summary>What the log says over the default; minutes that somebody typed are taken times this.</summary>
    public double Factor => Minutes / UsualMinutes;

    /// <summary>In words: a default, a default with too few changes seen, or learnt from so many.</summary>
    public string Origin => (Seen, IsLearnt) switch
    {
        (0, _) => "a default",
        (1, false) => "mostly the default, 1 change seen",
        (_, false) => FormattableString.Invariant($"mostly the default, {Seen} changes seen"),
        (1, true) => "learnt from 1 change",
        _ => FormattableString.Invariant($"learnt from {Seen} changes"),
    };
}

/// <summary>What the four kinds of change take at this bench.</summary>
/// <param name="Clamp">Another piece into the jaw, dialled and touched off.</param>
/// <param name="Wheel">Another wheel or abrasive, where no minutes of its own are typed.</param>
/// <param name="Angle">Another angle.</param>
/// <param name="Rig">To another rig.</param>
/// <param name="Changes">Changes in the log behind it.</param>
public sealed record SetupTimes(SetupTime Clamp, SetupTime Wheel, SetupTime Angle, SetupTime Rig, int Changes)
{
    /// <summary>Defaults: 3, 2, 1.5 and 1 minutes (chosen, not derived), each good to a factor of 4 either way.</summary>
    public static SetupTimes Usual { get; } = SetupLearning.From([]);

    /// <summary>Minutes of a change from one set-up to the next.</summary>
    /// <param name="from">The set-up before; null for a bench that nobody told of.</param>
    /// <param name="to">The set-up after.</param>
    public double Between(BenchSetup? from, BenchSetup to) => Of(BenchSetup.Between(from, to), to.WheelMinutes);

    /// <summary>Minutes of so many changes at once: their sum.</summary>
    /// <param name="changes">What is changed.</param>
    /// <param name="wheelMinutes">Minutes typed for that wheel, taken times what the log says of wheels; null for the usual ones.</param>
    public double Of(SetupChanges changes, double? wheelMinutes = null)
    {
        double minutes = changes.HasFlag(SetupChanges.Clamp) ? Clamp.Minutes : 0;
        if (changes.HasFlag(SetupChanges.Wheel))
            minutes += (wheelMinutes ?? Wheel.UsualMinutes) * Wheel.Factor;
        if (changes.HasFlag(SetupChanges.Angle))
            minutes += Angle.Minutes;
        return changes.HasFlag(SetupChanges.Rig) ? minutes + Rig.Minutes : minutes;
    }

    /// <summary>Minutes of every change of a day, as <see cref="BenchDay"/> takes them: row and column 0 the bench as it stands, which nobody told of.</summary>
    /// <param name="setups">How the bench is set up for each operation.</param>
    public double[][] Matrix(IReadOnlyList<BenchSetup> setups) => [.. Enumerable.Range(0, setups.Count + 1).Select(i => Enumerable.Range(0, setups.Count + 1)
        .Select(j => j == 0 || i == j ? 0 : Between(i == 0 ? null : setups[i - 1], setups[j - 1])).ToArray())];

    /// <summary>The four, named as on paper.</summary>
    public IReadOnlyList<(string What, SetupTime Time)> Named() => [("another piece", Clamp), ("another wheel", Wheel), ("another angle", Angle), ("another rig", Rig)];
}
