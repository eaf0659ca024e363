using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Marks;

/// <summary>One side of the edge. Curvature is apex minus shoulder: positive convex, negative hollow.</summary>
public sealed record EdgeSide(
    double PrimaryDeg, double BevelDeg, double CurvatureDeg, double BevelWidthMm, double? MicroDeg, double? MicroWidthMm, double SlopeAcross,
    double SlopeAlong, double SkewDeg, double PrimarySlopeAcross, double PrimarySlopeAlong, double PrimarySkewDeg, double ReflectBevel, double ReflectPrimary)
{
    public double ShoulderDeg => BevelDeg - (CurvatureDeg / 2);

    public double ApexDeg => BevelDeg + (CurvatureDeg / 2);
}

/// <summary>How the blade stands in the beam, and the sheet behind it.</summary>
public sealed record MountPose(
    double RollDeg, double PitchDeg, double TwistDeg, double OffsetMm, double ApexRadiusUm, double LandUm, double BladeHeightMm,
    double NominalMm, double TrueMm, double SheetYawDeg, double SheetPitchDeg, double SheetRotDeg, Vector2 ZeroOffsetMm);

/// <summary>A notch in the edge, V-shaped.</summary>
public sealed record Nick(double AtMm, double HalfWidthMm, double DepthMm);

/// <summary>Something else on the picture.</summary>
public abstract record Distractor
{
    public sealed record Ghost(Vector2 ShiftMm, double Strength) : Distractor;

    public sealed record Glint(Point2 AtMm, double LengthMm, double WidthMm, double TurnRad, double WattPerM2) : Distractor;

    public sealed record Pen(IReadOnlyList<Point2> PointsMm, double WidthMm, double Red, double Green, double Blue) : Distractor;

    public sealed record Shadow(double AtMm, double WidthMm, double Slant, double Depth, double SoftMm) : Distractor;
}

/// <summary>The stretch of blade that the camera may see.</summary>
public sealed record SeenBlade(double FromMm, double ToMm, double Albedo, double Scatter);

/// <summary>How one photograph was taken.</summary>
public sealed record Shot
{
    public required bool Portrait { get; init; }

    public required int ExifOrientation { get; init; }

    public required bool ExifWritten { get; init; }

    public required double TiltXDeg { get; init; }

    public required double TiltYDeg { get; init; }

    public required double RollDeg { get; init; }

    public required double F35Mm { get; init; }

    public required double K1 { get; init; }

    public required double K2 { get; init; }

    /// <summary>Share of the frame's width that the sheet fills.</summary>
    public required double Fill { get; init; }

    public required Vector2 AimMm { get; init; }

    public required double AmbientLux { get; init; }

    public required double Ev { get; init; }

    public required Vector3 AmbientRgb { get; init; }

    public required Vector3 LaserRgb { get; init; }

    public required Vector2 Gradient { get; init; }

    public required double Vignetting { get; init; }

    /// <summary>Blurs at a width of 4000 px.</summary>
    public required double DefocusPx12 { get; init; }

    public required double MotionPx12 { get; init; }

    public required double MotionDeg { get; init; }

    public required Vector2 Bloom { get; init; }

    public required Vector2 BloomPx12 { get; init; }

    public required double Denoise { get; init; }

    public required double Sharpen { get; init; }

    public required double Contrast { get; init; }

    public required int JpegQuality { get; init; }

    public required double BenchBrightness { get; init; }
}
