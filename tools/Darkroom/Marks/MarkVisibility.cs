using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;

namespace Whetwright.Darkroom.Marks;

/// <summary>How well each bevel's mark can be seen on one photograph: from the light itself, before noise and without any reader.</summary>
internal sealed class MarkVisibility
{
    private readonly MarkPhotographs _photographs;
    private readonly SceneLight _light;
    private readonly BloomOnSheet _bloom;
    private readonly Dictionary<FacetLight, BloomOnSheet> _ownBloom;
    private readonly BladeInView? _blade;

    public MarkVisibility(MarkPhotographs photographs, MarkExposure exposure)
    {
        _photographs = photographs;
        _light = photographs.Light;
        Exposure = exposure;
        _bloom = new(photographs, _light.Total);
        _ownBloom = _light.Facets.Where(f => f.Facet.Name != "apex").ToDictionary(f => f, f => new BloomOnSheet(photographs, f.Map));
        _blade = _light.Scene.Blade is null ? null : new(_light, photographs.Camera, exposure);
        Right = Judge(Side.Right);
        Left = Judge(Side.Left);
    }

    public MarkExposure Exposure { get; }

    /// <summary>"clear", "weak: why" or "no: why".</summary>
    public string Right { get; }

    public string Left { get; }

    public JsonArray Reasons()
    {
        JsonArray reasons = [];
        if (Right != "clear")
            reasons.Add($"R: {Right}");
        if (Left != "clear")
            reasons.Add($"L: {Left}");
        return reasons;
    }

    /// <summary>A line for every facet.</summary>
    public IEnumerable<JsonObject> Spots()
    {
        foreach (FacetLight facet in _light.Facets)
        {
            (Point2 peakAt, double peak, Point2 centroid, double[] percentiles) = facet.Map.Measure();
            (double value, double before, double step) = Step(facet, peakAt, peak);
            double ambient = Exposure.PerWatt * Exposure.AmbientWatt;
            JsonObject spot = new()
            {
                ["side"] = facet.Facet.Side == Side.Right ? "R" : "L",
                ["facet"] = facet.Facet.Name,
                ["angle_deg"] = AngleOf(facet.Facet),
                ["power_fraction"] = facet.PowerFraction,
                ["power_on_card"] = facet.Map.Power,
                ["peak_mm"] = Pair(peakAt),
                ["peak_per_mm2"] = peak,
                ["centroid_mm"] = Pair(centroid),
                ["x_percentiles_10_50_90_mm"] = new JsonArray(percentiles[0], percentiles[1], percentiles[2]),
                ["peak_W_m2"] = _light.WattPerM2(peak),
                ["peak_over_other_laser_light"] = peak / Math.Max(1e-9, _light.Total.At(peakAt.X, peakAt.Y) - peak),
                ["peak_over_ambient"] = value / ambient,
                ["peak_over_saturation"] = value,
                ["photo_step"] = step,
                ["photo_contrast"] = step / Math.Max(1e-3, Tone(before)),
                ["peak_px_upright"] = Seen(peakAt),
                ["centroid_px_upright"] = Seen(centroid),
            };
            if (facet.Facet.Name != "apex" && facet.IdealMm is Point2 ideal)
            {
                spot["ideal_mm"] = Pair(ideal);
                spot["ideal_px_upright"] = Seen(ideal);
                spot["ideal_hidden"] = _blade?.Hides(new(ideal.X, ideal.Y, 0)) ?? false;
            }

            yield return spot;
        }
    }

    private string Judge(Side side)
    {
        FacetLight bevel = _light.Of(side, "bevel");
        Vector2 size = _light.Scene.Target.SizeMm;
        (Point2 peakAt, double peak, _, _) = bevel.Map.Measure();
        if (bevel.PowerFraction < 1e-4)
            return "no: the beam misses this side";
        if (bevel.IdealMm is not Point2 ideal || ideal.X < 1 || ideal.Y < 1 || ideal.X > size.X - 1 || ideal.Y > size.Y - 1 || bevel.Map.Power < 0.3 * bevel.PowerFraction)
            return "no: the light misses the sheet";
        (double value, double before, double step) = Step(bevel, peakAt, peak);
        double electrons = 6000 / Exposure.Gain;
        double noise = Math.Sqrt((before * electrons) + 6.25) / electrons;
        if (Exposure.AmbientWatt * Exposure.PerWatt > 0.93)
            return "no: the sheet is overexposed";
        if (value < 2 * noise || step < 0.012)
            return before > 0.9 ? "no: drowned in other light" : "no: too faint";
        if (_blade?.Hides(new(ideal.X, ideal.Y, 0)) == true)
            return "weak: hidden behind the blade";
        if (value < 5 * noise || step < 0.035)
            return before > 0.85 ? "weak: drowned in other light" : "weak: faint";
        FacetLight primary = _light.Of(side, "primary");
        if (primary.Map.At(ideal.X, ideal.Y) > 0.5 * bevel.Map.At(ideal.X, ideal.Y))
            return "weak: merged with the primary";
        if (_light.Facets.FirstOrDefault(f => f.Facet.Side == side && f.Facet.Name == "micro") is FacetLight micro
            && micro.Map.At(ideal.X, ideal.Y) > 0.5 * bevel.Map.At(ideal.X, ideal.Y))
            return "weak: merged with the micro-bevel";
        return ideal.X < 6 || ideal.X > size.X - 6 || bevel.Map.Power < 0.7 * bevel.PowerFraction ? "weak: clipped at the rim" : "clear";
    }

    // Sensor value of the facet's own light at its brightest place, the value without it, and the step it makes in the tone curve.
    private (double Value, double Before, double Step) Step(FacetLight facet, Point2 at, double peak)
    {
        double value = Exposure.PerWatt * _light.WattPerM2(peak);
        double other = Math.Max(0, _light.Total.At(at.X, at.Y) - facet.Map.At(at.X, at.Y));
        double own = _ownBloom.TryGetValue(facet, out BloomOnSheet? bloom) ? bloom.At(at.X, at.Y) : 0;
        double glow = Math.Max(0, _bloom.At(at.X, at.Y) - own);
        double before = Exposure.PerWatt * (_light.WattPerM2(other + glow) + Exposure.AmbientWatt);
        double step = Tone(before + value) - Tone(before);
        return (value, before, step);
    }

    private static double Tone(double value)
    {
        double v = Math.Clamp(value, 0, 1);
        return v <= 0.0031308 ? 12.92 * v : (1.055 * Math.Pow(v, 1 / 2.4)) - 0.055;
    }

    private static double? AngleOf(Facet facet) => facet.Name == "apex" ? null : double.RadiansToDegrees((facet.AngleRad[0] + facet.AngleRad[^1]) / 2);

    private JsonArray? Seen(Point2 at) => _photographs.Camera.See(new(at.X, at.Y, 0)) is Point2 seen ? Pair(seen) : null;

    private static JsonArray Pair(Point2 p) => new(p.X, p.Y);
}
