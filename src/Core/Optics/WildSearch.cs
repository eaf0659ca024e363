using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Looks for one wild mark: for each mark the odds, by Bayes, that it came from a wide distribution rather than from where all the others put it.
/// odds = π/(1 − π) · N(r; 0, s² + W²)/N(r; 0, s²), with r the distance from the prediction of the others and s its standard deviation.
/// Two suspects of like odds cannot be told apart: then the marks contradict each other and the reading is refused.
/// </summary>
internal sealed record WildSearch(IReadOnlyList<ReadingObservation> Kept, WildMark? Wild, Reason? Refusal)
{
    /// <summary>A suspect is named only when its odds are so many times those of the next (chosen, not derived).</summary>
    private const double ClearLead = 3;

    public static WildSearch In(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, Angle scatter)
    {
        (int suspect, WildMark? wild, List<int> alike) = Suspects(observations, known, scatter);
        if (wild is null)
            return new(observations, null, null);
        if (alike.Count > 1)
            return new(observations, null, Contradiction(observations, alike, wild));
        if (known.WildAmongRepeats is { } earlier)
        {
            return new(observations, null, new("marks-contradict", FormattableString.Invariant(
                $"More than one mark is wild: {ReadingCombination.Place(observations[suspect])} is off by {wild.OffBy.Degrees:+0.0;-0.0}°, and so was one of the repeats in mount {earlier.Mount + 1}. Read all marks again.")));
        }

        ReadingObservation[] kept = [.. observations.Where((_, i) => i != suspect)];
        (int second, WildMark? another, _) = Suspects(kept, known, scatter);
        return another is null
            ? new(kept, wild, null)
            : new(observations, null, new("marks-contradict", FormattableString.Invariant(
                $"More than one mark is wild: {ReadingCombination.Place(observations[suspect])} is off by {wild.OffBy.Degrees:+0.0;-0.0}°, and {ReadingCombination.Place(kept[second])} by {another.OffBy.Degrees:+0.0;-0.0}°. Read all marks again.")));
    }

    private static (int Suspect, WildMark? Wild, List<int> Alike) Suspects(
        IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, Angle scatter)
    {
        (ReadingSolution solution, _) = ReadingCombination.Solve(observations, known, scatter);
        double logPriorOdds = Math.Log(known.Assumptions.WildChance / (1 - known.Assumptions.WildChance));
        double spread = known.Assumptions.WildSpread.Degrees;
        double[] logOdds = new double[observations.Count];
        double[] off = new double[observations.Count];
        for (int i = 0; i < logOdds.Length; i++)
        {
            logOdds[i] = double.NegativeInfinity;
            (double residual, double redundancy) = solution.Linear.ResidualOf(i);
            if (redundancy < 1e-7)
                continue;
            double variance = solution.Linear.Observations[i].Variance / redundancy;
            off[i] = residual / redundancy;
            double wide = variance + (spread * spread);
            logOdds[i] = logPriorOdds + (0.5 * ((off[i] * off[i] * ((1 / variance) - (1 / wide))) - Math.Log(wide / variance)));
        }

        int best = Array.IndexOf(logOdds, logOdds.Max());
        if (!(logOdds[best] > 0))
            return (-1, null, []);
        List<int> alike = [.. Enumerable.Range(0, logOdds.Length).Where(i => logOdds[i] + Math.Log(ClearLead) > logOdds[best])];
        ReadingObservation mark = observations[best];
        return (best, new(mark.Mount, mark.Target, mark.Role, mark.AsRead, Angle.FromDegrees(off[best]), Math.Exp(Math.Min(logOdds[best], 700))), alike);
    }

    private static Reason Contradiction(IReadOnlyList<ReadingObservation> observations, List<int> alike, WildMark wild)
    {
        string between = string.Join("; ", alike.Select(i => ReadingCombination.Place(observations[i])));
        bool mounts = alike.Select(i => observations[i].Mount).Distinct().Count() > 1;
        string by = wild.OffBy.Abs().Degrees.ToString("0.0", CultureInfo.InvariantCulture);
        return mounts
            ? new("mounts-disagree", $"The mounts cannot belong to the same edge: they disagree by {by}°, and any of these may be the wrong one: {between}. Read both mounts again; a third mount would name the wrong mark.")
            : new("marks-contradict", $"Marks contradict each other by {by}°, and which one is wrong cannot be told: {between}. Read them again.");
    }
}
