using Whetwright.Core.Blades;
using Whetwright.Records.Bench;

namespace Whetwright.Web.Features.Rack;

/// <summary>Words for steps and kinds as pages say them.</summary>
internal static class BenchWords
{
    /// <summary>What a piece needs next.</summary>
    public static string Need(BenchStep step) => step switch
    {
        BenchStep.Read => "To be read",
        BenchStep.Choose => "Edge to choose",
        BenchStep.Set => "To be clamped and set",
        BenchStep.Grind => "To be ground",
        BenchStep.Finish => "To be stropped",
        BenchStep.Check => "To be checked",
        _ => throw new ArgumentOutOfRangeException(nameof(step), step, "Not a step of the bench."),
    };

    /// <summary>The step as a verb, for a button.</summary>
    public static string Verb(BenchStep step) => step.ToString();

    /// <summary>The step in addresses.</summary>
    public static string Address(BenchStep step) => step.ToString().ToLowerInvariant();

    /// <summary>A kind as people say it.</summary>
    public static string Kind(PieceKind kind) => kind switch
    {
        PieceKind.DoubleBevel => "knife",
        PieceKind.SingleBevel => "single bevel",
        PieceKind.Convex => "convex edge",
        PieceKind.Serrated => "serrated",
        PieceKind.Scissors => "scissors",
        PieceKind.Chisel => "chisel",
        PieceKind.PlaneIron => "plane iron",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of piece."),
    };
}
