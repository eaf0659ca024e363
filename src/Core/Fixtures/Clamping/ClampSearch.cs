using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// The best clamp. <see cref="Best"/> finds the pivot within the box, and with it the setting of every channel, whose largest weighted
/// deviation from the target is smallest, and proves by branch and bound over boxes of pivots how much better any other could be;
/// <see cref="Evaluate(ClampProblem, Point2)"/> takes a given pivot and finds its best settings; with settings given too, it only computes.
/// </summary>
public static class ClampSearch
{
    /// <summary>Method of a proved search.</summary>
    public const string CertifiedMethod = "fixtures.clamp-certified/1";

    /// <summary>Method of a search without proof.</summary>
    public const string UncertifiedMethod = "fixtures.clamp-search/1";

    /// <summary>Method of a given clamp.</summary>
    public const string EvaluateMethod = "fixtures.clamp-evaluate/1";

    /// <summary>What is left between the clamp found and the bound proved, degrees, unless the proof had to be widened (chosen, not derived).</summary>
    public const double ProofGapDeg = 0.0005;

    /// <summary>The best clamp, with a proved bound.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static ClampOutcome Best(ClampProblem problem, CancellationToken cancellationToken = default) =>
        Search(problem, true, cancellationToken);

    /// <summary>The best clamp found by descent from a grid of starts: as good in practice, without the proof.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static ClampOutcome Uncertified(ClampProblem problem, CancellationToken cancellationToken = default) =>
        Search(problem, false, cancellationToken);

    /// <summary>A given pivot with its best settings. The pivot may lie outside the box.</summary>
    public static ClampOutcome Evaluate(ClampProblem problem, Point2 pivot)
    {
        if (!double.IsFinite(pivot.X) || !double.IsFinite(pivot.Y))
            return NotANumber(pivot);
        ClampModel model = new(problem);
        double[] g = new double[model.Channels.Length];
        double delta = model.DeltaRad(pivot.X, -pivot.Y, g);
        return double.IsInfinity(delta)
            ? new ClampOutcome.Refused([NoPose(problem, pivot)])
            : new ClampOutcome.Found(At(problem, pivot, Settings(model, g), null, 0, EvaluateMethod));
    }

    /// <summary>A given pivot and given settings, one for each channel. Stations without a pose have the angle NaN and an infinite deviation.</summary>
    public static ClampOutcome Evaluate(ClampProblem problem, Point2 pivot, IReadOnlyList<double> settingsMm)
    {
        if (!double.IsFinite(pivot.X) || !double.IsFinite(pivot.Y))
            return NotANumber(pivot);
        if (settingsMm.Count != problem.Channels.Count)
            throw new ArgumentOutOfRangeException(nameof(settingsMm), settingsMm.Count, $"There must be {problem.Channels.Count}, one for each channel.");
        foreach (double setting in settingsMm)
            Require.Finite(setting, nameof(settingsMm));
        Clamp clamp = At(problem, pivot, settingsMm, null, 0, EvaluateMethod);
        return double.IsFinite(clamp.WorstDeg)
            ? new ClampOutcome.Found(clamp)
            : new ClampOutcome.Refused([NoPose(problem, pivot)]);
    }

    /// <summary>α in degrees at every station of the problem for one channel: the angle profile. NaN where there is no pose.</summary>
    public static void Profile(ClampProblem problem, ClampChannel channel, Point2 pivot, double settingMm, Span<double> anglesDeg)
    {
        double g = channel.Map.ToG(settingMm);
        double distance = -pivot.Y;
        bool bent = problem.Blade.Bend is not null && channel.Side is not null;
        for (int i = 0; i < problem.Stations.Count; i++)
        {
            double p = problem.Stations[i].SupportDistanceMm(pivot);
            double q = channel.OffsetAtMm(p, distance, bent ? BendAt(problem, channel, i) : 0);
            double angle = p > 0 ? channel.Map.AngleFromG(g, p, q) : double.NaN;
            anglesDeg[i] = angle > 0 ? double.RadiansToDegrees(angle) : double.NaN;
        }
    }

    internal static double BendAt(ClampProblem problem, ClampChannel channel, int station) =>
        problem.Blade.Bend is { } bend && channel.Side is { } side ? bend.OutwardMm(problem.Stations[station].XMm, side) : 0;

    internal static double[] Settings(ClampModel model, ReadOnlySpan<double> g)
    {
        double[] settings = new double[g.Length];
        for (int c = 0; c < g.Length; c++)
            settings[c] = model.Channels[c].Map.FromG(g[c]);
        return settings;
    }

    internal static Clamp At(ClampProblem problem, Point2 pivot, IReadOnlyList<double> settingsMm, double? boundDeg, int boxes, string method)
    {
        ClampSetting[] settings = new ClampSetting[settingsMm.Count];
        double worst = 0;
        for (int c = 0; c < settings.Length; c++)
        {
            ClampChannel channel = problem.Channels[c];
            double[] angles = new double[problem.Stations.Count];
            Profile(problem, channel, pivot, settingsMm[c], angles);
            double worstHere = 0;
            int worstAt = problem.FirstScored;
            for (int i = problem.FirstScored; i <= problem.LastScored; i++)
            {
                double miss = double.IsNaN(angles[i])
                    ? double.PositiveInfinity
                    : Math.Abs(angles[i] - channel.Target.Degrees) * problem.Weights[i - problem.FirstScored];
                if (miss > worstHere)
                    (worstHere, worstAt) = (miss, i);
            }

            settings[c] = new(channel, settingsMm[c], angles, worstHere, worstAt);
            worst = Math.Max(worst, worstHere);
        }

        return new(problem, pivot, settings, worst, boundDeg, boxes, method);
    }

    private static ClampOutcome Search(ClampProblem problem, bool certified, CancellationToken cancellationToken)
    {
        ClampModel model = new(problem);
        ClampDescent descent = new(model, problem);
        if (!descent.Run(cancellationToken))
            return new ClampOutcome.Refused([NoPose(problem, null)]);
        int boxes = 0;
        double? bound = null;
        if (certified)
        {
            ClampProof proof = new(model, descent);
            bound = proof.Run(cancellationToken);
            boxes = proof.BoxesTried;
        }

        double[] g = new double[model.Channels.Length];
        model.DeltaRad(descent.X, descent.Distance, g);
        Clamp clamp = At(problem, new(descent.X, -descent.Distance), Settings(model, g), bound, boxes, certified ? CertifiedMethod : UncertifiedMethod);
        return new ClampOutcome.Found(bound > clamp.WorstDeg ? clamp with { BoundDeg = clamp.WorstDeg } : clamp);
    }

    private static ClampOutcome.Refused NotANumber(Point2 pivot) => new([new(
        "pivot",
        string.Create(CultureInfo.InvariantCulture, $"pivotMm is [{pivot.X}, {pivot.Y}]; both must be finite numbers of millimetres."))]);

    private static Reason NoPose(ClampProblem problem, Point2? pivot)
    {
        string where = pivot is { } p
            ? string.Create(CultureInfo.InvariantCulture, $"with the pivot at [{p.X:0.#}, {p.Y:0.#}]")
            : string.Create(CultureInfo.InvariantCulture, $"with the pivot anywhere in x {problem.Box.LeastXMm:0.#} to {problem.Box.MostXMm:0.#}, distance {problem.Box.LeastDistanceMm:0.#} to {problem.Box.MostDistanceMm:0.#} mm");
        ClampChannel first = problem.Channels[0];
        string range = problem.Channels.Any(c => c.LeastSettingMm is not null || c.MostSettingMm is not null)
            ? $" within the range of the {first.Map.SettingName}"
            : "";
        return new("no-such-pose", $"No setting{range} grinds the whole scored edge anywhere near {first.Target} {where}. Move the pivot further from the edge, score a shorter stretch, or choose another angle.");
    }
}
