using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Cameras;
using Whetwright.Darkroom.Chance;
using Whetwright.Darkroom.Sheets;

namespace Whetwright.Darkroom.Marks;

/// <summary>The photographs of one scene, at one size: first mount and turned mount share everything but the pose.</summary>
public sealed class MarkPhotographs
{
    private const double FullSizePx = 4000;
    private static readonly ConcurrentDictionary<TargetSheet, SheetPrint> Prints = new(ReferenceEqualityComparer.Instance);

    private readonly SheetPrint _print;
    private readonly Lazy<SceneLight> _light;
    private readonly Lazy<MarkPhotographs> _turned;

    /// <summary>Sets a scene up to be photographed.</summary>
    /// <param name="scene">What is true.</param>
    /// <param name="longSidePx">Long side of the photographs, 400 to 6000.</param>
    public MarkPhotographs(MarkScene scene, int longSidePx)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longSidePx, 400);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(longSidePx, 6000);
        Scene = scene;
        LongSidePx = longSidePx;
        _print = Prints.GetOrAdd(scene.Target, SheetPrint.OfTarget);
        Camera = Stand(scene, longSidePx);
        _light = new(() => new(Scene));
        _turned = new(() => new(Scene.Turned(), LongSidePx));
    }

    public MarkScene Scene { get; }

    public int LongSidePx { get; }

    public LensCamera Camera { get; }

    public SceneLight Light => _light.Value;

    /// <summary>The same with the blade turned end for end.</summary>
    public MarkPhotographs Turned => _turned.Value;

    /// <summary>The upright picture; blue, green, red, 8 bits. The caller disposes it.</summary>
    public Mat Picture(PhotoKind kind)
    {
        MarkExposure exposure = MarkExposure.Of(Light, kind);
        Picture light = new MarkPhotographer(Light, _print, Camera, exposure).Draw();
        return Film.Develop(light, Settings(kind, exposure));
    }

    /// <summary>The photograph as stored: JPEG, turned as the phone was held.</summary>
    public byte[] Jpeg(PhotoKind kind)
    {
        using Mat picture = Picture(kind);
        Shot shot = Scene.Shot;
        return PhotoFile.Encode(picture, shot.JpegQuality, shot.ExifOrientation, shot.ExifWritten);
    }

    /// <summary>What a perfect reader would say, and all else that is true.</summary>
    public JsonObject Truth() => new MarkTruth(this).Write();

    /// <summary>All that a reader may be told.</summary>
    public JsonObject Input() => new()
    {
        ["L_nominal_mm"] = Scene.Pose.NominalMm,
        ["laser_colour"] = Scene.Beam.Colour,
        ["beam"] = Scene.Beam.IsLine ? "line" : "dot",
        ["L_gauged_mm"] = Scene.GaugedMm,
    };

    internal double PxPerMmScale => Camera.FocalPx / (Camera.CentreMm - new Vector3(Scene.Target.SizeMm.X / 2, Scene.Target.SizeMm.Y / 2, 0)).Norm;

    internal double PxScale => LongSidePx / FullSizePx;

    private FilmSettings Settings(PhotoKind kind, MarkExposure exposure)
    {
        Shot shot = Scene.Shot;
        double scale = PxScale;
        return new()
        {
            DefocusPx = Math.Max(0.35, shot.DefocusPx12 * scale),
            MotionPx = shot.MotionPx12 * scale,
            MotionRad = double.DegreesToRadians(shot.MotionDeg),
            BloomNear = shot.Bloom.X,
            BloomFar = shot.Bloom.Y,
            BloomNearPx = shot.BloomPx12.X * scale,
            BloomFarPx = shot.BloomPx12.Y * scale,
            Vignetting = shot.Vignetting,
            FocalPx = Camera.FocalPx,
            Gain = exposure.Gain,
            Denoise = shot.Denoise,
            Sharpen = shot.Sharpen,
            Contrast = shot.Contrast,
            NoiseSeed = (int)(new Dice(Scene.Seed, $"noise-{Scene.Difficulty}-{kind}-{Scene.Pose.RollDeg}").Bits() & 0xFFFFF),
        };
    }

    // Wide enough that all corners of the sheet are in the picture.
    private static LensCamera Stand(MarkScene scene, int longSidePx)
    {
        Shot shot = scene.Shot;
        int shortSide = longSidePx * 3 / 4;
        (int width, int height) = shot.Portrait ? (shortSide, longSidePx) : (longSidePx, shortSide);
        double diagonal = Math.Sqrt((width * (double)width) + (height * (double)height));
        double focal = shot.F35Mm / Math.Sqrt((36 * 36) + (24 * 24)) * diagonal;
        Vector2 size = scene.Target.SizeMm;
        var aim = new Vector3((size.X / 2) + shot.AimMm.X, (size.Y / 2) + shot.AimMm.Y, 0);
        double distance = focal * size.X / (shot.Fill * width);
        for (int attempt = 0; ; attempt++)
        {
            LensCamera camera = LensCamera.Looking(
                width, height, focal, shot.K1, shot.K2, aim, distance, double.DegreesToRadians(shot.TiltXDeg), double.DegreesToRadians(shot.TiltYDeg), double.DegreesToRadians(shot.RollDeg));
            bool fits = ((Vector3[])[new(3, 3, 0), new(size.X - 3, 3, 0), new(size.X - 3, size.Y - 3, 0), new(3, size.Y - 3, 0)])
                .All(corner => camera.See(corner) is Point2 at && at.X > 4 && at.Y > 4 && at.X < width - 4 && at.Y < height - 4);
            if (fits || attempt == 40)
                return camera;
            distance *= 1.03;
        }
    }
}
