using Whetwright.Core.Quantities;

namespace Whetwright.Core.Abrasives;

/// <summary>How the numbers of a chain came to be.</summary>
public static class AbrasiveExplanation
{
    /// <summary>Minutes of each stage, with rate and passes behind them.</summary>
    public static IReadOnlyList<Derivation> Explain(AbrasivePlan plan, AbrasiveTask task) =>
    [
        .. plan.Stages.Select(s => new Derivation($"minutes on {s.Abrasive.Name}", s.Minutes, "min", "t = change + (nL + nR)·t1", "derived: [abrasive-chain]",
        [
            new("change", "change to it", s.Abrasive.ChangeMinutes, "min", 1),
            new("nL", "passes on the left", s.PassesLeft, "1", task.PassMinutes ?? AbrasivePlanner.UsualPassMinutes, Passes("left", s.PassesLeft, s.CutLeftMm2, s)),
            new("nR", "passes on the right", s.PassesRight, "1", task.PassMinutes ?? AbrasivePlanner.UsualPassMinutes, Passes("right", s.PassesRight, s.CutRightMm2, s)),
            new("t1", "one pass", task.PassMinutes ?? AbrasivePlanner.UsualPassMinutes, "min", s.PassesLeft + s.PassesRight, IsDefault: task.PassMinutes is null),
        ], "abrasives.chain/1")),
    ];

    private static Derivation Passes(string side, int passes, double cutMm2, AbrasiveStage s) => new(
        $"passes on the {side}", passes, "1", "n = ⌈A/V⌉", "[rate-update]",
        [
            new("A", "area to take off", cutMm2, "mm²", 1 / s.Abrasive.Rate.AreaPerPassMm2),
            new("V", $"area per pass, {s.Abrasive.Rate.Origin}", s.Abrasive.Rate.AreaPerPassMm2, "mm²", -cutMm2 / (s.Abrasive.Rate.AreaPerPassMm2 * s.Abrasive.Rate.AreaPerPassMm2), IsDefault: s.Abrasive.Rate.IsGuess),
        ], "abrasives.passes/1");
}
