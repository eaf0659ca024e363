using System.Text.Json;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Accuracy;

/// <summary>Which photos of a scene are read.</summary>
internal enum Mode
{
    Lit,
    Dark,
    Turned,
    TurnedDark,
}

/// <summary>One scene read in one way, beside its truth and its bound.</summary>
internal sealed record Trial(Scene Scene, PhotoReading Reading, double ToldMm, double Milliseconds)
{
    public double? Included => Reading.Included?.Value.Degrees;

    public double? U => Reading.Included?.StandardUncertainty.Degrees;

    public double? Error => Included - Scene.Included;

    public double? BoundError { get; init; }

    /// <summary>True where the dark photograph was read beside the lit one.</summary>
    public bool Dark { get; init; }

    /// <summary>The truth's report on the photograph at hand: the dark one where it was given.</summary>
    public JsonElement Seen => Dark && Scene.Report.TryGetProperty("dark", out JsonElement dark) ? dark : Scene.Report;

    public bool MayRefuse => Seen.GetProperty("may_refuse_included").GetBoolean();

    public bool ShouldRefuse => Seen.GetProperty("should_refuse_included").GetBoolean();

    /// <summary>"clear", "weak: why" or "no: why".</summary>
    public string Visibility(string side) => Seen.GetProperty("visibility").GetProperty(side).GetString() ?? "";

    public double? AsReadError(Side side) => Reading.Combined?.On(side).AsRead?.Value.Degrees - Scene.AsRead(side == Side.Left ? "L" : "R");

    public double? AsReadU(Side side) => Reading.Combined?.On(side).AsRead?.StandardUncertainty.Degrees;

    public double? SideError(Side side) => Reading.Combined?.On(side).Edge?.Value.Degrees - Scene.TrueSide(side == Side.Left ? "L" : "R");

    public double? SideU(Side side) => Reading.Combined?.On(side).Edge?.StandardUncertainty.Degrees;

    /// <summary>Perfect places in both mounts: sides with the roll taken out by the turn.</summary>
    public (double? Left, double? Right) SideBound(Point2 zeroMm)
    {
        if (Scene.Turned is not { } turned)
            return (null, null);
        var a = Bound.Of(Scene.Truth, zeroMm, ToldMm);
        var b = Bound.Of(turned, zeroMm, ToldMm);
        double? left = (a.Left + b.Right) / 2;
        double? right = (a.Right + b.Left) / 2;
        return (left - Scene.TrueSide("L"), right - Scene.TrueSide("R"));
    }

    public static Trial Run(Scene scene, TargetSheet target, Mode mode, double? distanceU, bool beam)
    {
        // Told distance: the scene's own nominal one, or the true one with a seeded error of the stated size.
        double told = scene.NominalMm;
        if (distanceU is { } u)
        {
            var random = new Random(StableHash(scene.Name));
            for (int i = 0; i < 16; i++)
                random.Next();
            double gauss = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            told = scene.TrueMm * (1 + (u * gauss));
        }

        var watch = System.Diagnostics.Stopwatch.StartNew();
        using Picture lit = Picture.Read(scene.Photo("photo.jpg")!);
        using Picture? dark = mode is Mode.Dark or Mode.TurnedDark ? Open(scene, "photo_dark.jpg") : null;
        using Picture? turned = mode is Mode.Turned or Mode.TurnedDark ? Open(scene, "photo_turned.jpg") : null;
        using Picture? turnedDark = mode is Mode.TurnedDark ? Open(scene, "photo_turned_dark.jpg") : null;
        PhotoReading reading = PhotoReader.Read(new()
        {
            First = new(lit, dark),
            Turned = turned is null ? null : new(turned, turnedDark),
            Target = target,
            Tip = TipDirection.Up,
            Distance = MeasuredLength.FromMillimetres(told, (distanceU ?? 0.01) * told),
            Laser = scene.Laser == "red" ? LaserColour.Red : scene.Laser == "green" ? LaserColour.Green : LaserColour.Unknown,
            Beam = !beam ? BeamKind.Unknown : scene.Beam == "line" ? BeamKind.Line : BeamKind.Dot,
        });
        return new(scene, reading, told, watch.Elapsed.TotalMilliseconds)
        {
            Dark = mode is Mode.Dark or Mode.TurnedDark,
            BoundError = Bound.Of(scene.Truth, target.ZeroMm, told).Included - scene.Included,
        };
    }

    private static Picture? Open(Scene scene, string name) => scene.Photo(name) is { } path ? Picture.Read(path) : null;

    private static int StableHash(string text) => text.Aggregate(17, (h, c) => unchecked((h ^ c) * 16777619));
}
