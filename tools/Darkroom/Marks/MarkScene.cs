using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Darkroom.Marks;

/// <summary>Everything that is true of one set of photographs: drawn from a difficulty and a seed, the same every time.</summary>
public sealed record MarkScene
{
    public required Difficulty Difficulty { get; init; }

    public required int Seed { get; init; }

    /// <summary>The sheet that the light falls on.</summary>
    public required TargetSheet Target { get; init; }

    /// <summary>Sides of the target, the blade as first mounted.</summary>
    public required EdgeSide Right { get; init; }

    public required EdgeSide Left { get; init; }

    public required MountPose Pose { get; init; }

    /// <summary>The pose with the blade turned end for end.</summary>
    public required MountPose TurnedPose { get; init; }

    public required LaserBeam Beam { get; init; }

    public required IReadOnlyList<Nick> Nicks { get; init; }

    public required IReadOnlyList<Distractor> Distractors { get; init; }

    /// <summary>The stretch of blade in front of the camera; null where it is out of the picture's way.</summary>
    public required SeenBlade? Blade { get; init; }

    public required Shot Shot { get; init; }

    public required Shot TurnedShot { get; init; }

    /// <summary>A gauge's reading of the true distance, good to 0.2 %.</summary>
    public required double GaugedMm { get; init; }

    /// <summary>How far paper spreads light, standard deviation.</summary>
    public double PaperSpreadMm { get; init; } = 0.22;

    /// <summary>Draws a scene.</summary>
    /// <param name="difficulty">How hard to read.</param>
    /// <param name="seed">Same seed, same scene.</param>
    /// <param name="target">The sheet; without one, our own A4 target for 100 mm.</param>
    public static MarkScene Generate(Difficulty difficulty, int seed, TargetSheet? target = null) =>
        new SceneDraw(difficulty, seed, target ?? OurA4).Draw();

    private static TargetSheet OurA4 { get; } = TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100)).Sheet;

    /// <summary>The same piece turned end for end: the sides change places.</summary>
    public MarkScene Turned() => this with { Right = Left, Left = Right, Pose = TurnedPose, Shot = TurnedShot };
}
