using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Marks;

namespace Whetwright.Darkroom.Mats;

/// <summary>What the steel's skin does with light.</summary>
public enum Finish
{
    Polished,
    Brushed,
    Patina,
}

/// <summary>A lamp: a disc or rectangle that faces down, above the mat.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="AtMm">Place: x, y on the mat, z its height above it.</param>
/// <param name="HalfMm">Half its sides.</param>
/// <param name="Share">Light on the mat's middle, in the room's own light there.</param>
public sealed record Lamp(string Kind, Vector3 AtMm, Vector2 HalfMm, double Share);

/// <summary>Handle: where it starts behind the heel, how long, wide and half as thick it is; grey of its skin.</summary>
public sealed record Handle(double StartMm, double LengthMm, double WidthMm, double HalfThickMm, double Albedo, string Kind);

/// <summary>Something flat that lies about: a coin or a scrap, on the mat or over the blade.</summary>
public sealed record Lying(string Kind, Point2 AtMm, double RadiusMm, double HeightMm, double Albedo);

/// <summary>The blade's section and how it lies.</summary>
public sealed record LyingBlade(
    double SpineMm, double BehindEdgeMm, double BevelDeg, Finish Finish, double Roughness, double TurnRad, bool Mirrored, Point2 HeelMm, double LiftAtHeelMm, double LiftAtTipMm, bool Engraved);

/// <summary>Where a photograph of the mat is taken from.</summary>
public sealed record MatShot(
    double F35Mm, double K1, double K2, double TiltXDeg, double TiltYDeg, double RollDeg, Vector2 AimMm, double Fill, double DefocusPx12, double MotionPx12, double MotionDeg,
    double Gain, double Denoise, double Sharpen, double Contrast, double Level, int JpegQuality, double Vignetting);

/// <summary>Everything that is true of photographs of one blade on the mat.</summary>
public sealed record MatScene
{
    public required Difficulty Difficulty { get; init; }

    public required int Seed { get; init; }

    public required MatSheet Mat { get; init; }

    /// <summary>Whether the mat carries a faint grid.</summary>
    public required bool Grid { get; init; }

    public required BladeShape Shape { get; init; }

    public required LyingBlade Blade { get; init; }

    public required Handle? Handle { get; init; }

    public required IReadOnlyList<Lamp> Lamps { get; init; }

    public required Vector3 RoomRgb { get; init; }

    public required IReadOnlyList<Lying> About { get; init; }

    /// <summary>What makes the photograph useless: "none", "oblique", "blurred", "tip-covered", "heel-covered".</summary>
    public required string Defect { get; init; }

    public required MatShot Shot { get; init; }

    public required MatShot SecondShot { get; init; }

    /// <summary>Draws a scene.</summary>
    public static MatScene Generate(Difficulty difficulty, int seed, MatSheet? mat = null) => new MatDraw(difficulty, seed, mat ?? OurA3).Draw();

    /// <summary>The same piece laid down again: another place and turn on the mat, other shots; place 0 is this scene.</summary>
    public MatScene Placed(int place) => place == 0 ? this : new MatDraw(Difficulty, Seed, Mat, place).Move(this);

    private static MatSheet OurA3 { get; } = MatLayout.For(KnownPaperSizes.A3).Sheet;
}
