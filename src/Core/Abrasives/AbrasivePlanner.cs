using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Abrasives;

/// <summary>
/// The chain of abrasives of least total time. A stage leaves scratches κ·d50 deep over the facet, so it stops that much short of the shape and the next one
/// cuts that layer down to its own scratches; the last cuts all that is left. What a stage costs depends on it and the one before alone, so the
/// best chain is a shortest path through the abrasives from coarse to fine, and is found exactly.
/// </summary>
public static class AbrasivePlanner
{
    /// <summary>κ = 0.5: depth of the scratches over d50 (chosen, not derived; a grain stands out of its bond by less than its half).</summary>
    public const double ScratchDepthOverD50 = 0.5;

    /// <summary>1 mm, where the width of the facet is not given (chosen, not derived).</summary>
    public const double UsualFacetMm = 1;

    /// <summary>0.15 minutes a pass with its turn and look (chosen, not derived).</summary>
    public const double UsualPassMinutes = 0.15;

    /// <summary>Finds the chain; what cannot be done is said in <see cref="AbrasivePlan.Refusals"/>.</summary>
    public static AbrasivePlan Plan(IReadOnlyList<OwnedAbrasive> owned, AbrasiveTask task)
    {
        List<Reason> refusals = Check(owned, task);
        if (refusals.Count > 0)
            return new([], 0, (0, 0), refusals, []);
        List<Reason> speeds = [.. owned.Where(a => a.Wheel is not null).Select(a => WheelSpeed.Caution(a.Wheel!)).OfType<Reason>()];
        owned = [.. owned.Where(a => !TooFast(a))];
        if (owned.Count == 0)
            return new([], 0, (0, 0), speeds, []);
        OwnedAbrasive[] chain = [.. owned.OrderByDescending(a => a.D50Um).ThenBy(a => a.Name, StringComparer.Ordinal)];
        int n = chain.Length;
        double[] best = new double[n];
        int[] before = new int[n];
        (double Minutes, int End, int Before) finish = (double.PositiveInfinity, -1, -1);
        for (int j = 0; j < n; j++)
        {
            (best[j], before[j]) = CheapestInto(chain, best, j, task, last: false);
            if (chain[j].D50Um > task.FinishD50Um)
                continue;
            (double minutes, int from) = CheapestInto(chain, best, j, task, last: true);
            if (minutes < finish.Minutes - 1e-12)
                finish = (minutes, j, from);
        }

        return finish.End < 0
            ? new([], 0, (0, 0), [NoChain(chain, task), .. speeds.Where(s => s.Code == "wheel-too-fast")], [])
            : Made([.. Path(before, finish.Before).Select(i => chain[i]), chain[finish.End]], task, speeds);
    }

    private static (double Minutes, int From) CheapestInto(OwnedAbrasive[] chain, double[] best, int j, AbrasiveTask task, bool last)
    {
        (double Minutes, int From) cheapest = (MayBegin(chain[j], task) ? Cost(null, chain[j], task, last) : double.PositiveInfinity, -1);
        for (int i = 0; i < j; i++)
        {
            if (!MayFollow(chain[i], chain[j], task.MaxRatio))
                continue;
            double through = best[i] + Cost(chain[i], chain[j], task, last);
            if (through < cheapest.Minutes - 1e-12)
                cheapest = (through, i);
        }

        return cheapest;
    }

    /// <summary>Area that a stage takes off one side, mm²: what the one before left less the layer it leaves itself.</summary>
    /// <param name="shapeMm2">The shape's own area, for the first stage.</param>
    /// <param name="previous">The stage before; null for the first.</param>
    /// <param name="stage">The stage.</param>
    /// <param name="last">True for the last: it leaves nothing for another.</param>
    /// <param name="facetMm">Width of the facet.</param>
    /// <param name="fromD50Um">Grain of the scratches already there; null for none.</param>
    public static double CutMm2(double shapeMm2, OwnedAbrasive? previous, OwnedAbrasive stage, bool last, double facetMm, double? fromD50Um)
    {
        double left = last ? 0 : Layer(stage.D50Um, facetMm);
        double there = previous is null ? Math.Max(shapeMm2, fromD50Um is { } from ? Layer(from, facetMm) : 0) : Layer(previous.D50Um, facetMm);
        // A grain whose scratches go deeper than the shape needs takes its own layer all the same.
        return previous is null ? Math.Max(there - left, Layer(stage.D50Um, facetMm)) : Math.Max(there - left, 0);
    }

    private static double Layer(double d50Um, double facetMm) => ScratchDepthOverD50 * d50Um / 1000 * facetMm;

    private static bool MayBegin(OwnedAbrasive first, AbrasiveTask task) =>
        task.FromD50Um is not { } from || (first.D50Um <= from * (1 + 1e-9) && from / first.D50Um <= task.MaxRatio * (1 + 1e-9));

    private static bool MayFollow(OwnedAbrasive coarse, OwnedAbrasive fine, double maxRatio) =>
        fine.D50Um < coarse.D50Um && coarse.D50Um / fine.D50Um <= maxRatio * (1 + 1e-9);

    private static List<int> Path(int[] before, int end)
    {
        List<int> path = [];
        for (int i = end; i >= 0; i = before[i])
            path.Insert(0, i);
        return path;
    }

    private static double Cost(OwnedAbrasive? previous, OwnedAbrasive stage, AbrasiveTask task, bool last) => Stage(previous, stage, task, last).Minutes;

    private static AbrasiveStage Stage(OwnedAbrasive? previous, OwnedAbrasive stage, AbrasiveTask task, bool last)
    {
        double left = Side(task.LeftMm2, task.LeftFacetMm), right = Side(task.RightMm2, task.RightFacetMm);
        double rate = stage.Rate.AreaPerPassMm2;
        (double slow, double fast) = stage.Rate.NextVisit();
        int passesLeft = Passes(left, rate), passesRight = Passes(right, rate);
        double larger = Math.Max(left, right);
        double minutes = stage.ChangeMinutes + ((passesLeft + passesRight) * (task.PassMinutes ?? UsualPassMinutes));
        return new(stage, left, right, passesLeft, passesRight, (Passes(larger, fast), Passes(larger, slow)), minutes);

        double Side(double shape, double? facet) => shape > 0 ? CutMm2(shape, previous, stage, last, facet ?? UsualFacetMm, task.FromD50Um) : 0;
    }

    internal static int Passes(double areaMm2, double rate) => areaMm2 > 0 ? Math.Max(1, (int)Math.Ceiling((areaMm2 / rate) - 1e-9)) : 0;

    /// <summary>Beyond the speed marked on it: it is left out of every chain.</summary>
    private static bool TooFast(OwnedAbrasive abrasive) => abrasive.Wheel is { } wheel && WheelSpeed.Caution(wheel)?.Code == "wheel-too-fast";

    private static AbrasivePlan Made(List<OwnedAbrasive> path, AbrasiveTask task, List<Reason> speeds)
    {
        List<AbrasiveStage> stages = [];
        for (int i = 0; i < path.Count; i++)
        {
            AbrasiveStage stage = Stage(i > 0 ? path[i - 1] : null, path[i], task, i == path.Count - 1);
            stages.Add(stage with { Stops = StageStops.Of(stage, first: i == 0) });
        }

        double pass = task.PassMinutes ?? UsualPassMinutes;
        double Ends(Func<AbrasiveStage, int> passes) => stages.Sum(s =>
            s.Abrasive.ChangeMinutes + (pass * passes(s) * ((s.PassesLeft > 0 ? 1 : 0) + (s.PassesRight > 0 ? 1 : 0))));
        return new(stages, stages.Sum(s => s.Minutes), (Ends(s => s.PassesRange.Fewest), Ends(s => s.PassesRange.Most)), [], [.. speeds, .. Notes(stages, task)]);
    }

    private static List<Reason> Notes(List<AbrasiveStage> stages, AbrasiveTask task)
    {
        List<Reason> notes = [];
        foreach (AbrasiveStage stage in stages.Where(s => s.Abrasive.Rate.IsGuess))
            notes.Add(new("rate-is-a-guess", FormattableString.Invariant($"{stage.Abrasive.Name}: {stage.Abrasive.Rate.AreaPerPassMm2:0.####} mm² a pass is a guess; count passes and it is learnt from the log.")));
        if (task.LeftFacetMm is null && task.RightFacetMm is null)
            notes.Add(new("facet-default", FormattableString.Invariant($"The facet's width is not given: {UsualFacetMm} mm stands in (chosen); it decides how much each finer stage must take.")));
        notes.Add(new("burr", "At the end of each stage: light alternating passes until no burr is felt on either side; pen test before the first full pass (common practice, no source)."));
        foreach (AbrasiveStage stage in stages)
        {
            if (stage.Abrasive.Medium is { } medium && HeatCare.For(medium) is { NeedsCooling: true } care)
                notes.Add(new("cooling", $"{stage.Abrasive.Name}: {care.Text}"));
        }

        return notes;
    }

    private static Reason NoChain(OwnedAbrasive[] chain, AbrasiveTask task)
    {
        if (chain[^1].D50Um > task.FinishD50Um)
        {
            return new("no-chain", FormattableString.Invariant(
                $"The finest abrasive, {chain[^1].Name} at {chain[^1].D50Um:0.##} µm, is coarser than the finish wanted ({task.FinishD50Um:0.##} µm): ask for a coarser finish or add a finer abrasive."));
        }

        for (int i = 1; i < chain.Length; i++)
        {
            if (chain[i - 1].D50Um / chain[i].D50Um > task.MaxRatio)
            {
                return new("no-chain", FormattableString.Invariant(
                    $"From {chain[i - 1].Name} ({chain[i - 1].D50Um:0.##} µm) to {chain[i].Name} ({chain[i].D50Um:0.##} µm) is a step of {chain[i - 1].D50Um / chain[i].D50Um:0.#}, more than the {task.MaxRatio:0.#} allowed: add a grade between them or allow a larger step (maxRatio)."));
            }
        }

        return new("no-chain", FormattableString.Invariant($"No abrasive can begin after scratches of {task.FromD50Um:0.##} µm within a step of {task.MaxRatio:0.#}: begin coarser."));
    }

    private static List<Reason> Check(IReadOnlyList<OwnedAbrasive> owned, AbrasiveTask task)
    {
        List<Reason> reasons = [];
        if (owned.Count == 0)
            reasons.Add(new("plan-field", "abrasives is empty; give at least one that the shop owns."));
        Require(task.LeftMm2 >= 0 && task.RightMm2 >= 0 && task.LeftMm2 + task.RightMm2 > 0 && double.IsFinite(task.LeftMm2 + task.RightMm2),
            FormattableString.Invariant($"areaMm2 is {task.LeftMm2} left and {task.RightMm2} right; both should be 0 or more, and one above 0."));
        Require(task.FinishD50Um > 0 && double.IsFinite(task.FinishD50Um), FormattableString.Invariant($"finishD50Um is {task.FinishD50Um}; it should be above 0."));
        Require(task.MaxRatio > 1 && double.IsFinite(task.MaxRatio), FormattableString.Invariant($"maxRatio is {task.MaxRatio}; it should be above 1."));
        foreach (OwnedAbrasive abrasive in owned)
        {
            Require(abrasive.D50Um > 0 && double.IsFinite(abrasive.D50Um), FormattableString.Invariant($"{abrasive.Name}: d50 is {abrasive.D50Um} µm; it should be above 0."));
            Require(abrasive.ChangeMinutes >= 0 && double.IsFinite(abrasive.ChangeMinutes), FormattableString.Invariant($"{abrasive.Name}: changeMinutes is {abrasive.ChangeMinutes}; it should be 0 or more."));
        }

        if (owned.Select(a => a.Name).Distinct(StringComparer.Ordinal).Count() != owned.Count)
            reasons.Add(new("plan-field", "Two abrasives have the same name; each needs its own."));
        return reasons;

        void Require(bool fine, string text)
        {
            if (!fine)
                reasons.Add(new("plan-field", text));
        }
    }
}
