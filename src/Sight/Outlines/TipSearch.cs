using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

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

    /// <summary>Such a lamp's lean across the spine and along it, shifts of its shadow per millimetre of height, where the search begins. Chosen.</summary>
    private static readonly double[] s_leans = [0.3, 0.7];
    private static readonly double[] s_alongs = [-0.3, 0.3];

    /// <summary>Half-width of a penumbra per millimetre of height, and the least width of a rim, mm. Chosen.</summary>
    private const double UsualSpread = 0.12, LeastRimMm = 0.08;

    /// <summary>What one lamp more must be worth. Chosen.</summary>
    private const double LampCost = 8;

    /// <summary>The model is this much surer of itself than it is right, and never better than this, mm. Chosen, from photographs of known truth.</summary>
    private const double Optimism = 2, SettingMm = 0.04;

    /// <summary>Steps to tell good beginnings from bad ones, and how many of those are followed to their end. Chosen.</summary>
    private const int FirstRounds = 3, Followed = 2;

    /// <summary>The tip.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="at">Where it was supposed.</param>
    /// <param name="spine">The spine's line there.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <returns>Null where the edge is too short or the spine's line cannot be that of a point.</returns>
    public SeenTip? Of(Point2[] line, Point2 at, StraightLine spine, Point2 spineSide)
    {
        Point2[] part = [.. line.Skip(line.Length / 2).Where(p => p.DistanceTo(at) is > EdgeFromMm and < EdgeToMm)];
        if (part.Length < 12)
            return null;
        Vector2 inward = Inward(line, spineSide);
        Vector2 x = StraightLine.Through(part, 2, part.Length - 1).Direction;
        Vector2 y = new(-x.Y, x.X);
        if (y.Dot(inward) < 0)
            y *= -1;
        double angle = AngleOf(spine, x, y);
        if (angle is < 0.2 or > 2.4)
            return null;
        RobustPolynomial edge = RobustPolynomial.Fit([.. part.Select(p => (p - at).Dot(x))], [.. part.Select(p => (p - at).Dot(y))], 2, 0.08);
        Vector2 view = camera?.Parallax(at, 1) ?? default;
        var viewMm = new Vector2(view.Dot(x) * light.TipMm, view.Dot(y) * light.TipMm);
        var shape = new TipShape(0, edge.At(0), edge.Slope(0), (edge.Slope(0) - edge.Slope(-4)) / 4, angle, 0, light.Blur, light.BevelMm, Known(inward, (line[^1] - line[0]).Normalized(), x, y, viewMm));
        double Light(double u, double v)
        {
            var (blue, green, red) = sampler.At(map.ToPhoto(at + (x * u) + (y * v)));
            return (blue + green + red) / 3;
        }

        var patch = new TipPatch(Light, pixelMm, Math.Max(sigmaPx, 0.4) * pixelMm, light.TipMm, light, shape, viewMm);
        TipFit.Fitted best = Best(patch, shape, Meets(shape, (spine.At - at).Dot(x), (spine.At - at).Dot(y)), viewMm);
        TipShape found = best.Shape;
        double u = found.TipMm;
        double uMm = Math.Sqrt(Math.Pow(Optimism * best.TipUMm, 2) + (SettingMm * SettingMm));
        Vector2 ahead = (x + (y * (found.EdgeSlope + (found.EdgeBend * u)))).Normalized();
        double face = (view.Dot(x) * Math.Sin(found.AngleRad)) + (view.Dot(y) * Math.Cos(found.AngleRad));
        return new(at + (x * u) + (y * found.EdgeAt(u)), uMm, ahead, best.Misfit, best, face) { Frame = (at, x, y) };
    }

    /// <summary>The best fit from the places that were supposed, and from places further in with a lamp's shadow beyond the spine.</summary>
    private TipFit.Fitted Best(TipPatch patch, TipShape shape, double meets, Vector2 viewMm)
    {
        double z = light.TipMm;
        var starts = new List<TipShape> { shape };
        if (Math.Abs(meets) is > 0.15 and < 3)
            starts.Add(shape with { TipMm = meets });
        TipShape inside = starts[^1];
        int plain = starts.Count;
        if (1 - light.Sky - light.Lamps.Sum(l => l.Share) > LeastShare)
        {
            (double sin, double cos) = Math.SinCos(shape.AngleRad);
            foreach (double lean in s_leans)
            {
                double d = lean * z;
                starts.AddRange(s_alongs.Select(a => a * z).Select(a => inside with
                {
                    TipMm = inside.TipMm - (d / sin),
                    Lamps = [.. shape.Lamps, new((d * sin) - (a * cos), (d * cos) + (a * sin), Math.Max(LeastRimMm, UsualSpread * z))],
                }));
            }
        }

        // Samples that share the blur, or a flaw of the model beside it, repeat each other.
        double look = 2 * Math.Max(pixelMm, 1.5 * sigmaPx * pixelMm);
        double looks = patch.AreaMm2 / (look * look);
        TipFit Fit(TipShape s) => new(patch, looks, shape with { Lamps = [.. shape.Lamps, .. s.Lamps.Skip(shape.Lamps.Count).Select(_ => new TipShadow(-viewMm.X, -viewMm.Y, UsualSpread * z))] }, Spread(s, shape.Lamps.Count));
        return starts.Select((s, i) => (Fit: Fit(s), Start: s, Extra: i < plain ? 0 : LampCost))
            .Select(t => (t.Fit, t.Extra, Found: t.Fit.Find(t.Start, FirstRounds)))
            .OrderBy(t => t.Found.Cost + t.Extra).Take(Followed)
            .Select(t => (Found: t.Fit.Find(t.Found.Shape), t.Extra))
            .MinBy(t => t.Found.Cost + t.Extra).Found;
    }

    /// <summary>How far a shape's numbers may be off, in the order of its row: the tip anywhere, the edge hardly, known lamps mostly along the edge, which tells little of that. Chosen.</summary>
    private double[] Spread(TipShape s, int known)
    {
        double z = light.TipMm;
        return [1.0, 0.08, 0.012, 0.12, 0.02, 0.06, 0.25, .. s.Lamps.SelectMany((_, i) => i < known ? new[] { (0.4 * z) + 0.05, (0.2 * z) + 0.05, 0.4 } : [0.6 * z, 0.6 * z, 0.6])];
    }

    /// <summary>Shadows of the lamps that shade the edge: shifted by the lamp's lean times the height, and, as the camera sees it, by what the steel itself appears moved.</summary>
    private List<TipShadow> Known(Vector2 toSteel, Vector2 along, Vector2 x, Vector2 y, Vector2 viewMm)
    {
        double z = light.TipMm;
        return [.. light.Lamps.Select(l =>
        {
            Vector2 shift = ((toSteel * l.Lean) + (along * l.Along)) * -z;
            double half = l.Spread * z;
            return new TipShadow(shift.Dot(x) - viewMm.X, shift.Dot(y) - viewMm.Y, Math.Sqrt((half * half / 3) + (LeastRimMm * LeastRimMm)));
        })];
    }

    /// <summary>Angle between the ways back from the tip along edge and spine.</summary>
    private static double AngleOf(StraightLine spine, Vector2 x, Vector2 y)
    {
        Vector2 back = spine.Direction.Dot(x) < 0 ? spine.Direction : spine.Direction * -1;
        if (Math.Abs(back.Dot(x)) < 0.5 && back.Dot(y) < 0)
            back *= -1;
        return Math.Atan2(back.Dot(y), -back.Dot(x));
    }

    /// <summary>Where the spine's line through a place meets the edge.</summary>
    private static double Meets(TipShape s, double u, double v)
    {
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
