using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Combines the marks of one or several mounts, read by eye or from photographs, into one reading: a weighted linear Gaussian solve with
/// stated priors, robust to one wild mark. Method <see cref="Method"/>.
/// </summary>
/// <remarks>
/// One free roll per mount would not do: four equations, rank three. The holder's roll is therefore one unknown for all mounts and each
/// clamping adds a small scatter. No credit is taken for averaging that scatter, since a part of it may turn with the blade, which reversal
/// cannot see ([reversal]): a side's uncertainty never falls below it. Source: [gum], [tarantola] ch. 3, [reversal].
/// </remarks>
public static class ReadingCombination
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "reading.combine/1";

    /// <summary>Combines marks. Refusals come back as an outcome with reasons.</summary>
    /// <exception cref="ArgumentException">No marks, or a mark that is not finite, has no uncertainty, or lies at 45° or more.</exception>
    public static CombinedReading Combine(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge? knowledge = null)
    {
        ReadingKnowledge known = knowledge ?? new();
        Check(observations);
        Angle prior = known.Scatter ?? known.Assumptions.Scatter;
        WildSearch search = WildSearch.In(observations, known, prior);
        if (search.Refusal is { } refusal)
            return CombinedReadingReport.Refused(observations, known, [refusal]);
        IReadOnlyList<Reason> contradictions = MarkContradictions.In(search.Kept);
        if (contradictions.Count > 0)
            return CombinedReadingReport.Refused(search.Kept, known, contradictions);
        ScatterUsed scatter = ReclampingScatter.Estimate(search.Kept, known);
        (ReadingSolution solution, bool rollKnown) = Solve(search.Kept, known, scatter.Value);
        return CombinedReadingReport.Make(solution, known, scatter, rollKnown, search.Wild ?? known.WildAmongRepeats);
    }

    /// <summary>
    /// The linear solution for marks taken as they are. The holder's roll is left free where the marks tell it, and gets the chosen default
    /// where they do not (second result false).
    /// </summary>
    internal static (ReadingSolution Solution, bool RollKnown) Solve(
        IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, Angle scatter)
    {
        if (known.HolderRoll is { } told)
            return (Solve(observations, known, new MeasuredAngle(told, Angle.Max(scatter, Angle.FromDegrees(1e-6))), scatter), true);
        ReadingSolution free = Solve(observations, known, null, scatter);
        if (free.Linear.IsIdentified(free.Layout.Unit(ReadingLayout.RollName)))
            return (free, true);
        return (Solve(observations, known, new MeasuredAngle(Angle.Zero, known.Assumptions.HolderRollUncertainty), scatter), false);
    }

    internal static string Place(ReadingObservation mark) => string.Create(
        CultureInfo.InvariantCulture,
        $"mount {mark.Mount + 1}, {Word(mark.Target)} of the target, {Word(mark.Role)} mark at {mark.AsTyped ?? mark.AsRead.ToString()}");

    internal static string Word(Side side) => side == Side.Left ? "left" : "right";

    internal static string Word(MarkRole role) => role switch
    {
        MarkRole.Edge => "edge",
        MarkRole.Primary => "primary",
        _ => "micro-bevel",
    };

    private static ReadingSolution Solve(
        IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, MeasuredAngle? roll, Angle scatter)
    {
        ReadingLayout layout = new(observations, known, roll, scatter);
        LinearObservation[] rows = [.. observations.Select(o => new LinearObservation(
            layout.Row(o), o.AsRead.Degrees, [.. o.Noise.Select(n => new BudgetShare(n.Source, n.UncertaintyDeg))]))];
        return new(LinearGaussianModel.Solve(layout.Unknowns, rows), observations, layout);
    }

    private static void Check(IReadOnlyList<ReadingObservation> observations)
    {
        if (observations.Count == 0)
            throw new ArgumentException("Must have at least one mark.", nameof(observations));
        foreach (ReadingObservation mark in observations)
        {
            if (Math.Abs(mark.AsRead.Degrees) >= 45)
                throw new ArgumentException($"{Place(mark)}: a bevel read on a target lies below 45°, where the light would run along the sheet.", nameof(observations));
            if (!(mark.Noise.Sum(n => n.UncertaintyDeg * n.UncertaintyDeg) > 0))
                throw new ArgumentException($"{Place(mark)}: its uncertainty must be above zero.", nameof(observations));
        }

        foreach (IGrouping<int, ReadingObservation> mount in observations.GroupBy(o => o.Mount))
        {
            if (mount.Select(o => o.Tip).Distinct().Count() > 1)
                throw new ArgumentException($"mount {mount.Key + 1}: the tip is up in some marks and down in others; one mount has one.", nameof(observations));
        }
    }
}
