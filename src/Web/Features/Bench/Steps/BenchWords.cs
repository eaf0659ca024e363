using Whetwright.Records.Bench;
using Whetwright.Records.Standing;

namespace Whetwright.Web.Features.Bench.Steps;

/// <summary>The steps in words and addresses.</summary>
public static class BenchWords
{
    /// <summary>All steps in their order.</summary>
    public static IReadOnlyList<BenchStep> Steps { get; } = [BenchStep.Read, BenchStep.Choose, BenchStep.Set, BenchStep.Grind, BenchStep.Finish, BenchStep.Check];

    /// <summary>Its part of the address.</summary>
    public static string Key(this BenchStep step) => step.ToString().ToLowerInvariant();

    /// <summary>The step of a part of an address; null for none.</summary>
    public static BenchStep? Of(string key) => Steps.Where(s => s.Key() == key).Select(s => (BenchStep?)s).FirstOrDefault();

    /// <summary>What the piece needs.</summary>
    public static string Needs(this BenchStep step) => step switch
    {
        BenchStep.Read => "Read the edge",
        BenchStep.Choose => "Choose the edge",
        BenchStep.Set => "Clamp and dial",
        BenchStep.Grind => "Grind",
        BenchStep.Finish => "Strop and clean",
        _ => "Check and test",
    };

    /// <summary>How far a step has come.</summary>
    public static string Words(this StepProgress progress) => progress switch
    {
        StepProgress.Closed => "done",
        StepProgress.Skipped => "skipped",
        StepProgress.Begun => "begun",
        StepProgress.Stale => "stale: do it again",
        StepProgress.PassedBy => "passed by",
        _ => "open",
    };

    /// <summary>Its sign on the bar; the word goes with it for those who do not see it.</summary>
    public static string Sign(this StepProgress progress) => progress switch
    {
        StepProgress.Closed => "✓",
        StepProgress.Skipped => "–",
        StepProgress.Begun => "◐",
        StepProgress.Stale => "▲",
        StepProgress.PassedBy => "·",
        _ => "○",
    };
}
