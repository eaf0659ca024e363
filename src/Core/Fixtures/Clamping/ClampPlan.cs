using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>One clamp where it keeps the tolerance, or two with the change-over that makes the worse of them best.</summary>
/// <param name="Clamps">Heel to tip. Each one's problem says the stretch it is scored over; the second begins where the first ends.</param>
/// <param name="ChangeOverMm">Arc length of the change-over; null with one clamp.</param>
/// <param name="Note">Why there are two, or why two would not help; null where one is within tolerance.</param>
public sealed record ClampPlan(IReadOnlyList<Clamp> Clamps, double? ChangeOverMm, Reason? Note)
{
    /// <summary>Shortest stretch worth a clamp of its own, mm (chosen, not derived).</summary>
    public const double ShortestStretchMm = 10;

    /// <summary>Two clamps must beat one by this share to be worth the re-clamping (chosen, not derived).</summary>
    public const double LeastGain = 0.2;

    private const int Halvings = 14;

    /// <summary>The largest weighted deviation of all clamps, degrees.</summary>
    public double WorstDeg => Clamps.Max(c => c.WorstDeg);

    /// <summary>Makes the plan. Null where no pose is found at all; the reasons then say why.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static ClampPlan? TryMake(
        ClampProblem problem, Angle tolerance, out IReadOnlyList<Reason> refusals, CancellationToken cancellationToken = default)
    {
        refusals = [];
        ClampOutcome outcome = ClampSearch.Best(problem, cancellationToken);
        Clamp? one = (outcome as ClampOutcome.Found)?.Clamp;
        if (one is not null && one.WorstDeg <= tolerance.Degrees)
            return new([one], null, null);
        ClampPlan? two = Two(problem, cancellationToken);
        if (one is null && two is null)
        {
            refusals = ((ClampOutcome.Refused)outcome).Reasons;
            return null;
        }

        if (two is not null && (one is null || two.WorstDeg < (1 - LeastGain) * one.WorstDeg))
            return two with { Note = Why(one, two, tolerance) };
        return new([one!], null, new("beyond-tolerance", string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"The best clamp is off by up to {one!.WorstDeg:0.00}°, more than the {tolerance.Degrees:0.00}° asked, and a second clamp would gain little. Set the pivot further from the edge, score a shorter stretch, or blend the rest by hand.")));
    }

    /// <summary>Two clamps with the change-over that keeps the worse of them smallest; null where the edge is too short or has no pose.</summary>
    /// <remarks>
    /// The first clamp's worst deviation cannot fall, the second's cannot grow, as the change-over moves toward the tip; so the best is where
    /// they cross, found by halving. Stations move with the change-over, which leaves it uncertain by about a station.
    /// </remarks>
    public static ClampPlan? Two(ClampProblem problem, CancellationToken cancellationToken = default)
    {
        double low = problem.ScoreFromMm + ShortestStretchMm;
        double high = problem.ScoreToMm - ShortestStretchMm;
        if (high <= low)
            return null;
        double best = double.PositiveInfinity;
        double at = double.NaN;
        for (int pass = 0; pass < Halvings && high - low > 0.05; pass++)
        {
            double middle = 0.5 * (low + high);
            double first = Worst(problem.Over(problem.ScoreFromMm, middle), cancellationToken);
            double second = Worst(problem.Over(middle, problem.ScoreToMm), cancellationToken);
            double worse = Math.Max(first, second);
            if (worse < best)
                (best, at) = (worse, middle);
            if (double.IsInfinity(first) && double.IsInfinity(second))
                return null;
            if (first < second)
                low = middle;
            else
                high = middle;
        }

        if (double.IsInfinity(best))
            return null;
        return ClampSearch.Best(problem.Over(problem.ScoreFromMm, at), cancellationToken) is ClampOutcome.Found heel
            && ClampSearch.Best(problem.Over(at, problem.ScoreToMm), cancellationToken) is ClampOutcome.Found tip
            ? new([heel.Clamp, tip.Clamp], at, null)
            : null;
    }

    private static double Worst(ClampProblem problem, CancellationToken cancellationToken) =>
        ClampSearch.Uncertified(problem, cancellationToken) is ClampOutcome.Found found ? found.Clamp.WorstDeg : double.PositiveInfinity;

    private static Reason Why(Clamp? one, ClampPlan two, Angle tolerance) => new("two-clamps", one is null
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"No one clamp reaches the whole edge; change over at {two.ChangeOverMm:0} mm from the heel.")
        : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"One clamp is off by up to {one.WorstDeg:0.00}°, more than the {tolerance.Degrees:0.00}° asked; two, changed over at {two.ChangeOverMm:0} mm from the heel, by up to {two.WorstDeg:0.00}°."));
}
