using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Where the photo around a tip shows it to be.</summary>
/// <param name="Place">The tip as it appears on the mat.</param>
/// <param name="UMm">Its standard uncertainty along the edge.</param>
/// <param name="Along">The edge's direction there, beyond the tip.</param>
/// <param name="MisfitShare">What the model leaves unexplained, in the paper's light.</param>
/// <param name="Best">The best fit.</param>
/// <param name="FaceView">How far the spine appears moved outward, square to its line, per millimetre of height: where negative the camera looks at the spine's own side.</param>
internal sealed record SeenTip(Point2 Place, double UMm, Vector2 Along, double MisfitShare, TipFit.Fitted Best, double FaceView)
{
    /// <summary>A blunt end's own side is as thick at the edge's end as anywhere, and looked at from the side it is seen beside the steel's upper face: the model has none. Chosen: from 75° and 0.2 mm per mm.</summary>
    public bool ShowsItsSide => Best.Shape.AngleRad > 1.3 && FaceView < -0.2;

    /// <summary>Where the shape's frame stands.</summary>
    internal required (Point2 At, Vector2 X, Vector2 Y) Frame { get; init; }

    /// <summary>The edge's place beside a point, as the patch shows it.</summary>
    public Point2 EdgeBeside(Point2 p)
    {
        double u = (p - Frame.At).Dot(Frame.X);
        return Frame.At + (Frame.X * u) + (Frame.Y * Best.Shape.EdgeAt(u));
    }
}

/// <summary>
/// Finds the tip in the photo around it: the edge's line is known from outside, and the light along it; the spine and the tip's place are sought as those that explain
/// the patch best.
/// </summary>
internal sealed class TipSearch(PhotoSampler sampler, LensMap map, double sigmaPx, double pixelMm, MatCamera? camera, EdgeLight light)
{
    /// <summary>The edge's line is taken from so far inside its end, mm. Chosen.</summary>
    private const double EdgeFromMm = 1.2, EdgeToMm = 12;

    /// <summary>What remains of the light when the sky and the lamps that shade the edge are taken off may come from a lamp that shades the spine. Chosen.</summary>
    private const double LeastShare = 0.08;

    /// <summary>The model is this much surer of itself than it is right, and never better than this, mm. Chosen, from photographs of known truth.</summary>
    private const double Optimism = 2, SettingMm = 0.04;

    /// <summary>What one lamp more must be worth. Chosen.</summary>
    private const double LampCost = 8;

    private static readonly double[] s_leans = [0.3, 0.7];
    private static readonly double[] s_alongs = [-0.3, 0.3];

    /// <summary>The tip.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="at">Where it was supposed.</param>
    /// <param name="spine">The spine's line there.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    public SeenTip? Of(Point2[] line, Point2 at, StraightLine spine, Point2 spineSide)
    {
        Point2[] part = [.. line.Skip(line.Length / 2).Where(p => p.DistanceTo(at) is > EdgeFromMm and < EdgeToMm)];
        if (part.Length < 12)
            return null;
        StraightLine tangent = StraightLine.Through(part, 2, part.Length - 1);
        Vector2 x = tangent.Direction;
        Vector2 y = new(-x.Y, x.X);
        Vector2 back = spine.Direction.Dot(x) < 0 ? spine.Direction : spine.Direction * -1;
        Vector2 inward = Inward(line, spineSide);
        if (y.Dot(inward) < 0)
            y *= -1;
        if (Math.Abs(back.Dot(x)) < 0.5 && back.Dot(y) < 0)
            back *= -1;
        double angle = Math.Atan2(back.Dot(y), -back.Dot(x));
        if (angle is < 0.2 or > 2.4)
            return null;
        double[] u = [.. part.Select(p => (p - at).Dot(x))];
        RobustPolynomial edge = RobustPolynomial.Fit(u, [.. part.Select(p => (p - at).Dot(y))], 2, 0.08);
        double bend = (edge.Slope(0) - edge.Slope(-4)) / 4;
        double z = light.TipMm;
        Vector2 view = camera?.Parallax(at, 1) ?? default;
        Vector2 chord = (line[^1] - line[0]).Normalized();
        List<TipShadow> Shadows(EdgeLight of, Vector2 toSteel, Vector2 along) => [.. of.Lamps.Select(l =>
        {
            Vector2 shift = ((toSteel * l.Lean) + (along * l.Along) + view) * -z;
            return new TipShadow(shift.Dot(x), shift.Dot(y), Math.Max(0.08, Math.Sqrt((l.Spread * z * l.Spread * z / 3) + 0.0064)));
        })];
        List<TipShadow> known = Shadows(light, inward, chord);
        var starts = new List<TipShape>();
        var shape = new TipShape(0, edge.At(0), edge.Slope(0), bend, angle, 0, light.Blur, light.BevelMm, known);
        double meets = Meets(shape, (spine.At - at).Dot(x), (spine.At - at).Dot(y));
        starts.Add(shape);
        if (Math.Abs(meets) is > 0.15 and < 3)
            starts.Add(shape with { TipMm = meets });
        double perLook = 2 * Math.Max(pixelMm, 1.5 * sigmaPx * pixelMm);
        double Light(double a, double b)
        {
            var (blue, green, red) = sampler.At(map.ToPhoto(at + (x * a) + (y * b)));
            return (blue + green + red) / 3;
        }

        var patch = new TipPatch(Light, pixelMm, Math.Max(sigmaPx, 0.4) * pixelMm, z, light, shape, new(view.Dot(x) * z, view.Dot(y) * z));
        double[] Spread(TipShape s) => [1.0, 0.08, 0.012, 0.12, 0.02, 0.06, 0.25, .. s.Lamps.SelectMany((_, i) => i < known.Count ? new[] { (0.4 * z) + 0.05, (0.2 * z) + 0.05, 0.4 } : [0.6 * z, 0.6 * z, 0.6])];
        double looks = patch.AreaMm2 / (perLook * perLook);
        TipFit Fit(TipShape s) => new(patch, looks, s with { TipMm = 0, AngleRad = angle, Lamps = [.. known, .. s.Lamps.Skip(known.Count).Select(_ => new TipShadow(view.Dot(x) * -z, view.Dot(y) * -z, 0.12 * z))] }, Spread(s));
        double rest = 1 - light.Sky - light.Lamps.Sum(l => l.Share);
        var tried = starts.Select(s => (Start: s, Fit: Fit(s), Extra: 0.0)).ToList();
        if (rest > LeastShare)
        {
            TipShape inside = starts[^1];
            (double sin, double cos) = Math.SinCos(angle);
            foreach (double lean in s_leans)
            {
                foreach (double along in s_alongs)
                {
                    double d = lean * z;
                    TipShape s = inside with { TipMm = inside.TipMm - (d / sin), Lamps = [.. known, new((d * sin) - (along * z * cos), (d * cos) + (along * z * sin), Math.Max(0.08, 0.12 * z))] };
                    tried.Add((s, Fit(s), LampCost));
                }
            }
        }

        var begun = tried.Select(t => (t.Fit, t.Extra, Found: t.Fit.Find(t.Start, 3))).OrderBy(t => t.Found.Cost + t.Extra).Take(2).ToList();
        var best = begun.Select(t => (Found: t.Fit.Find(t.Found.Shape), t.Extra)).MinBy(t => t.Found.Cost + t.Extra).Found;
        TipShape b = best.Shape;
        Vector2 ahead = (x + (y * (b.EdgeSlope + (b.EdgeBend * b.TipMm)))).Normalized();
        double uMm = Math.Sqrt(Math.Pow(Optimism * best.TipUMm, 2) + (SettingMm * SettingMm));
        return new(at + (x * b.TipMm) + (y * b.EdgeAt(b.TipMm)), uMm, ahead, best.Misfit, best, (view.Dot(x) * Math.Sin(b.AngleRad)) + (view.Dot(y) * Math.Cos(b.AngleRad))) { Frame = (at, x, y) };
    }

    private static double Meets(TipShape s, double u, double v)
    {
        // The spine's line through (u, v) down to the edge.
        double at = u;
        for (int i = 0; i < 6; i++)
            at = u + ((v - s.EdgeAt(at)) / Math.Tan(s.AngleRad));
        return at;
    }

    private static Vector2 Inward(Point2[] line, Point2 side)
    {
        Vector2 along = (line[^1] - line[0]).Normalized();
        Vector2 y = new(-along.Y, along.X);
        return y.Dot(side - line[line.Length / 2]) < 0 ? y * -1 : y;
    }
}
