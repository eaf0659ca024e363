using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Puts a solution into the words and numbers of a combined reading.</summary>
internal static class CombinedReadingReport
{
    public static CombinedReading Refused(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge known, IReadOnlyList<Reason> reasons) =>
        new(ReadingOutcome.Refused, reasons, null,
            [.. new[] { Side.Left, Side.Right }.Select(t => OneSide(observations, known, t))],
            null, false, Marks(observations), [], []);

    public static CombinedReading Make(ReadingSolution solution, ReadingKnowledge known, ScatterUsed scatter, bool rollKnown, WildMark? wild)
    {
        IReadOnlyList<ReadingObservation> marks = solution.Observations;
        ReadingLayout layout = solution.Layout;
        bool bothEdges = layout.Has(Side.Left, MarkRole.Edge) && layout.Has(Side.Right, MarkRole.Edge);
        bool rollCancels = marks.Where(o => o.Role == MarkRole.Edge).GroupBy(o => o.Mount).Any(m => m.Select(o => o.Target).Distinct().Count() == 2);
        bool read = bothEdges && (rollCancels || rollKnown);
        double floor = scatter.Value.Degrees;
        SideReading[] sides = [.. new[] { Side.Left, Side.Right }.Select(target => OneSide(marks, known, target, known.HasBack ? null : solution, floor))];
        double[] rollWeights = RollWeights(layout, marks);
        MeasuredAngle? roll = rollKnown && !known.HasBack ? solution.Measured(rollWeights) : null;
        return new(
            read ? ReadingOutcome.Read : ReadingOutcome.OneSide,
            ReadingReasons.For(solution, known, scatter, rollKnown, wild, read),
            read ? solution.Included : null,
            sides,
            roll,
            roll is not null,
            Marks(marks),
            read ? solution.Linear.BudgetOf(layout.Included()) : sides.FirstOrDefault(s => s.Edge is not null)?.Budget ?? [],
            NextMeasurements.Rank(solution, known, scatter, read))
        {
            Scatter = scatter,
            IncludedMicro = read && layout.Has(Side.Left, MarkRole.Micro) && layout.Has(Side.Right, MarkRole.Micro)
                ? solution.Measured(layout.Included(MarkRole.Micro))
                : null,
            Wild = wild,
            Solution = solution,
        };
    }

    /// <summary>Side of the blade that lies on a side of the target in the first mount.</summary>
    public static Side BladeOn(IReadOnlyList<ReadingObservation> marks, Side target) => Sides.BladeSide(target, marks.MinBy(o => o.Mount)!.Tip);

    /// <summary>
    /// What a grind's uncertainty comes from, with the share of re-clamping raised to the scatter: averaging over mounts earns no credit,
    /// since a part of the clamping error may turn with the blade.
    /// </summary>
    public static IReadOnlyList<BudgetShare>? SideBudget(ReadingSolution solution, Side blade, MarkRole role, double scatterDeg)
    {
        if (!solution.Layout.Has(blade, role))
            return null;
        double[] weights = solution.Layout.Grind(blade, role);
        if (!solution.Linear.IsIdentified(weights))
            return null;
        IReadOnlyList<BudgetShare> budget = solution.Linear.BudgetOf(weights);
        double clamp = budget.FirstOrDefault(b => b.Source == ReadingLayout.ClampSource).Uncertainty;
        if (clamp >= scatterDeg)
            return budget;
        return [.. budget.Where(b => b.Source != ReadingLayout.ClampSource).Append(new(ReadingLayout.ClampSource, scatterDeg))
            .OrderByDescending(b => b.Uncertainty)];
    }

    public static double Total(IReadOnlyList<BudgetShare> budget) => Math.Sqrt(budget.Sum(b => b.Uncertainty * b.Uncertainty));

    private static SideReading OneSide(
        IReadOnlyList<ReadingObservation> marks, ReadingKnowledge known, Side target, ReadingSolution? solution = null, double scatterDeg = 0)
    {
        Side blade = BladeOn(marks, target);
        MeasuredAngle? Best(MarkRole role) => solution is null || SideBudget(solution, blade, role, scatterDeg) is not { } budget
            ? null
            : MeasuredAngle.FromDegrees(solution.Of(blade, role).Value.Degrees, Total(budget));
        return new(
            target,
            known.TipKnown ? blade : null,
            AsRead(marks, target),
            Best(MarkRole.Edge),
            Best(MarkRole.Primary),
            Best(MarkRole.Micro),
            known.Ranges.TryGetValue(target, out FacetRange range) ? range : null)
        {
            Budget = solution is null ? [] : SideBudget(solution, blade, MarkRole.Edge, scatterDeg) ?? [],
        };
    }

    private static MeasuredAngle? AsRead(IReadOnlyList<ReadingObservation> marks, Side target)
    {
        int first = marks.Min(o => o.Mount);
        ReadingObservation[] here = [.. marks.Where(o => o.Mount == first && o.Target == target && o.Role == MarkRole.Edge)];
        if (here.Length == 0)
            return null;
        double independent = here.Sum(o => o.Noise.Sum(n => n.UncertaintyDeg * n.UncertaintyDeg)) / (here.Length * here.Length);
        double common = here.SelectMany(o => o.Common).GroupBy(c => c.Source, StringComparer.Ordinal)
            .Sum(g => Math.Pow(g.Sum(c => c.DegPerU) / here.Length, 2));
        return MeasuredAngle.FromDegrees(here.Average(o => o.AsRead.Degrees), Math.Sqrt(independent + common));
    }

    internal static double[] RollWeights(ReadingLayout layout, IReadOnlyList<ReadingObservation> marks)
    {
        double[] weights = layout.Unit(ReadingLayout.RollName);
        int[] mounts = [.. marks.Select(o => o.Mount).Distinct()];
        if (mounts.Length > 1)
            return weights;
        double[] clamp = layout.Unit(ReadingLayout.Clamp(mounts[0]));
        return [.. weights.Zip(clamp, (a, b) => a + b)];
    }

    private static ReadMark[] Marks(IReadOnlyList<ReadingObservation> marks) =>
        [.. marks.OrderBy(o => o.Mount).ThenBy(o => o.Target).ThenBy(o => o.Role).Select(o => new ReadMark(
            o.Mount, o.Target, o.Role, o.AtMm, o.PhotoPx, MeasuredAngle.FromDegrees(o.AsRead.Degrees, OwnUncertainty(o))))];

    private static double OwnUncertainty(ReadingObservation mark) => Math.Sqrt(
        mark.Noise.Sum(n => n.UncertaintyDeg * n.UncertaintyDeg)
        + mark.Common.GroupBy(c => c.Source, StringComparer.Ordinal).Sum(g => Math.Pow(g.Sum(c => c.DegPerU), 2)));
}
