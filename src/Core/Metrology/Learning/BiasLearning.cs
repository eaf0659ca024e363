using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Learning;

/// <summary>
/// Set against got: what each rig and wheel really grinds against what it was set to. Per rig a linear Gaussian state of the rig's mean and each wheel's own
/// part, both drifting, filtered forward piece by piece; steps, wild readings and the scatter from piece to piece are weighed as
/// hypotheses beside each other.
/// </summary>
/// <remarks>
/// Filter: [kalman]. Mixture of hypotheses, of which the likeliest are kept: [harrison-stevens]. Priors in <see cref="LearningPrior"/>. Checked by simulated
/// shops drawn from those priors: bench/Learning. What the instrument itself is off by, the same for all readings, cannot be told from a bias of all rigs and is in it.
/// </remarks>
public static class BiasLearning
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "metrology.bias-learning/1";

    /// <summary>A correction is proposed when the bias left stands clear by this many standard uncertainties (chosen; checked by simulated shops).</summary>
    public const double ClearTimes = 3;

    /// <summary>Pieces on a wheel before anything is proposed for it (chosen, not derived).</summary>
    public const int LeastPieces = 3;

    /// <summary>A step is noticed when it is likelier than this (chosen; checked by simulated shops).</summary>
    public const double NoticeAbove = 0.5;

    /// <summary>Learns from a log; entries may be in any order.</summary>
    /// <param name="log">Pieces ground and read.</param>
    /// <param name="prior">What was believed before; null for the usual.</param>
    /// <param name="changes">Changes that somebody made and noted.</param>
    /// <exception cref="ArgumentException">An entry that fails <see cref="Problem"/>.</exception>
    public static IReadOnlyList<LearntRig> Learn(IReadOnlyList<SetGot> log, LearningPrior? prior = null, IReadOnlyList<KnownChange>? changes = null)
    {
        prior ??= LearningPrior.Usual;
        prior.Validate();
        if (Problem(log) is { } reason)
            throw new ArgumentException(reason.Text, nameof(log));
        int[] order = [.. Enumerable.Range(0, log.Count).OrderBy(i => log[i].When)];
        return
        [
            .. order.GroupBy(i => log[i].Rig, StringComparer.Ordinal).Select(rig => new RigLearner(log, [.. rig], prior,
                [.. (changes ?? []).Where(c => string.Equals(c.Rig, rig.Key, StringComparison.Ordinal)).OrderBy(c => c.When)]).Run()),
        ];
    }

    /// <summary>The first entry that cannot be learnt from, named by its field and value; null where all can.</summary>
    public static Reason? Problem(IReadOnlyList<SetGot> log)
    {
        for (int i = 0; i < log.Count; i++)
        {
            SetGot e = log[i];
            if (string.IsNullOrWhiteSpace(e.Rig) || string.IsNullOrWhiteSpace(e.Wheel))
                return new("learn-field", $"entry {i + 1}: rig and wheel must be named; they are '{e.Rig}' and '{e.Wheel}'.");
            if (!(e.SetDeg is > -10 and < 90))
                return new("learn-field", FormattableString.Invariant($"entry {i + 1}: setDeg is {e.SetDeg}; an angle per side below 90° would be right."));
            if (!(e.GotDeg is > 0 and < 90))
                return new("learn-field", FormattableString.Invariant($"entry {i + 1}: gotDeg is {e.GotDeg}; an angle per side above 0° and below 90° would be right."));
            if (!(e.UDeg is > 0 and < 20))
                return new("learn-field", FormattableString.Invariant($"entry {i + 1}: uDeg is {e.UDeg}; a standard uncertainty above 0° and below 20° would be right."));
        }

        return null;
    }

    /// <summary>How one wheel's bias came to be.</summary>
    public static Derivation Explain(LearntRig rig, LearntWheel wheel) => new(
        $"bias of {rig.Rig}, {wheel.Wheel}", wheel.BiasDeg, "deg", "b = E[m + o | log], y = got − set = m + o + noise; m and o drift and may step", "[kalman], [harrison-stevens]",
        [
            new("m", "mean of the rig", rig.MeanDeg, "deg", 1),
            new("o", "the wheel's own part", wheel.BiasDeg - rig.MeanDeg, "deg", 1),
            new("u", "standard uncertainty of b", wheel.UDeg, "deg"),
            new("s", "scatter beyond the readings", rig.ScatterDeg, "deg"),
            new("n", "pieces on this wheel", wheel.Pieces, "1"),
            new("k", "clear when |b − in force| reaches k·u", ClearTimes, "1", IsDefault: true),
        ],
        Method);
}
