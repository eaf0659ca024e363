using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Darkroom.Cameras;
using Whetwright.Darkroom.Chance;
using Whetwright.Darkroom.Sheets;

namespace Whetwright.Darkroom.Mats;

/// <summary>Two photographs of one blade on the mat, from different places.</summary>
public sealed class MatPhotographs
{
    private static readonly ConcurrentDictionary<MatSheet, SheetPrint> Plain = new(ReferenceEqualityComparer.Instance);
    private static readonly ConcurrentDictionary<MatSheet, SheetPrint> Gridded = new(ReferenceEqualityComparer.Instance);

    private readonly SheetPrint _print;
    private readonly Lazy<MatLight> _light;
    private readonly Lazy<SteelSkin> _skin;

    /// <summary>Sets a scene up.</summary>
    /// <param name="scene">What is true.</param>
    /// <param name="longSidePx">Width of the photographs, 400 to 6000; height is three quarters.</param>
    public MatPhotographs(MatScene scene, int longSidePx)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longSidePx, 400);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(longSidePx, 6000);
        Scene = scene;
        LongSidePx = longSidePx;
        _print = scene.Grid ? Gridded.GetOrAdd(scene.Mat, m => SheetPrint.OfMat(m, grid: true)) : Plain.GetOrAdd(scene.Mat, m => SheetPrint.OfMat(m, grid: false));
        Body = new(scene);
        _light = new(() => new(scene, Body));
        _skin = new(() => new(scene));
        First = Stand(scene.Shot);
        Second = Stand(scene.SecondShot);
    }

    public MatScene Scene { get; }

    public int LongSidePx { get; }

    public LensCamera First { get; }

    public LensCamera Second { get; }

    internal MatBody Body { get; }

    /// <summary>The picture; blue, green, red, 8 bits. The caller disposes it.</summary>
    public Mat Picture(bool second = false)
    {
        MatShot shot = second ? Scene.SecondShot : Scene.Shot;
        Picture light = new MatPhotographer(Scene, shot, Body, _light.Value, _skin.Value, _print, second ? Second : First).Draw();
        double scale = LongSidePx / 4000.0;
        return Film.Develop(light, new()
        {
            DefocusPx = Math.Max(0.35, shot.DefocusPx12 * scale),
            MotionPx = shot.MotionPx12 * scale,
            MotionRad = double.DegreesToRadians(shot.MotionDeg),
            BloomNear = 0.015,
            BloomFar = 0.006,
            BloomNearPx = 14 * scale,
            BloomFarPx = 160 * scale,
            Vignetting = shot.Vignetting,
            FocalPx = First.FocalPx,
            Gain = shot.Gain,
            Denoise = shot.Denoise,
            Sharpen = shot.Sharpen,
            Contrast = shot.Contrast,
            NoiseSeed = (int)(new Dice(Scene.Seed, $"mat-noise-{Scene.Difficulty}-{second}").Bits() & 0xFFFFF),
        });
    }

    /// <summary>The photograph as a JPEG.</summary>
    public byte[] Jpeg(bool second = false)
    {
        using Mat picture = Picture(second);
        return PhotoFile.Encode(picture, Scene.Shot.JpegQuality, 1, writeTag: false);
    }

    /// <summary>All that is true.</summary>
    public JsonObject Truth() => new MatTruth(this).Write();

    /// <summary>All that a tracer may be told.</summary>
    public JsonObject Input() => new()
    {
        ["photo"] = "photo.jpg",
        ["second"] = "photo2.jpg",
        ["mat"] = new JsonObject { ["paper"] = Scene.Mat.Paper.ToUpperInvariant(), ["sizeMm"] = new JsonArray(Scene.Mat.SizeMm.X, Scene.Mat.SizeMm.Y) },
        ["widthPx"] = First.WidthPx,
        ["heightPx"] = First.HeightPx,
        ["focal35Mm"] = Math.Round(Scene.Shot.F35Mm),
        ["spineMm"] = Math.Round(Scene.Blade.SpineMm, 1),
        ["rests"] = Scene.Handle is null ? "on its flank" : "on handle and blade",
        ["edgeHeightMm"] = Math.Round((Scene.Blade.LiftAtHeelMm + Scene.Blade.LiftAtTipMm) / 2, 1),
    };

    /// <summary>Fiducials wholly inside a picture.</summary>
    public int FiducialsSeen(LensCamera camera) => Scene.Mat.Fiducials.Count(f => f.CornersMm.All(c => Inside(camera, new(c.X, c.Y, 0), 3)));

    // As near as the fill asks; further back until the whole knife's blade and five fiducials are in the picture.
    private LensCamera Stand(MatShot shot)
    {
        int width = LongSidePx;
        int height = LongSidePx * 3 / 4;
        double focal = shot.F35Mm / Math.Sqrt((36 * 36) + (24 * 24)) * Math.Sqrt((width * (double)width) + (height * (double)height));
        Vector2 size = Scene.Mat.SizeMm;
        double whole = Math.Max(focal * size.X / (shot.Fill * width), focal * size.Y / (shot.Fill * height));
        double distance = Math.Min(whole, 620 + (2 * shot.F35Mm));
        List<Point2> blade = [.. Scene.Shape.Outline.Select(Body.Frame.ToMat)];
        double closeness = 1 - (distance / whole);
        double bx = (blade.Min(p => p.X) + blade.Max(p => p.X)) / 2;
        double by = (blade.Min(p => p.Y) + blade.Max(p => p.Y)) / 2;
        var aim = new Vector3(
            ((size.X / 2) * (1 - closeness)) + (bx * closeness) + shot.AimMm.X, ((size.Y / 2) * (1 - closeness)) + (by * closeness) + shot.AimMm.Y, 0);
        for (int attempt = 0; ; attempt++)
        {
            LensCamera camera = LensCamera.Looking(
                width, height, focal, shot.K1, shot.K2, aim, distance, double.DegreesToRadians(shot.TiltXDeg), double.DegreesToRadians(shot.TiltYDeg), double.DegreesToRadians(shot.RollDeg));
            if (attempt == 60 || (blade.All(p => Inside(camera, new(p.X, p.Y, 0), 0.02 * width)) && FiducialsSeen(camera) >= 6))
                return camera;
            distance *= 1.02;
        }
    }

    private static bool Inside(LensCamera camera, Vector3 at, double margin) =>
        camera.See(at) is Point2 seen && seen.X > margin && seen.Y > margin && seen.X < camera.WidthPx - 1 - margin && seen.Y < camera.HeightPx - 1 - margin;
}
