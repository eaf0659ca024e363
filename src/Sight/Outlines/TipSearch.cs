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

    /// <summary>Points sharper or blunter than this are none, and one further off is another. Chosen.</summary>
    private const double SharpestRad = 0.2, BluntestRad = 2.4, FarthestMm = 3;

    /// <summary>What remains of the light when the sky and the lamps that shade the edge are taken off may come from a lamp that shades the spine. Chosen.</summary>
    private const double LeastShare = 0.08;

    /// <summary>Such a lamp's lean across the spine and along it, shifts of its shadow per millimetre of height, where the search begins. Chosen.</summary>
    private static readonly double[] s_leans = [0.3, 0.7];
    private static readonly double[] s_alongs = [-0.3, 0.3];

    /// <summary>Lean along the edge of a lamp that shades it, where the search begins too: the edge hardly tells it, its end does. Chosen.</summary>
    private static readonly double[] s_unsaid = [-0.7, 0, 0.7];

    /// <summary>Places nearer to each other than this are one beginning, mm, and shadows that lean less apart than this one lamp. Chosen.</summary>
    private const double OnePlaceMm = 0.15, OneLean = 0.35;

    /// <summary>Half-width of a penumbra per millimetre of height, and the least width of a rim, mm. Chosen.</summary>
    private const double UsualSpread = 0.12, LeastRimMm = 0.08;

    /// <summary>What one lamp more must be worth. Chosen.</summary>
    private const double LampCost = 8;

    /// <summary>The model is this much surer of itself than it is right, and never better than this, mm. Chosen, from photographs of known truth.</summary>
    private const double Optimism = 2, SettingMm = 0.04;

    /// <summary>Steps to tell good beginnings from bad ones, and how many of those are followed to their end. Chosen.</summary>
    private const int FirstRounds = 3, Followed = 2;

    /// <summary>Steel less even than this, in the paper's light, is stained. Chosen.</summary>
    private const double UnevenShare = 0.03;

    /// <summary>How far the angle between edge and spine may be off what is supposed, standard deviation. Chosen.</summary>
    public double AngleSpreadRad { get; init; } = 0.12;

    /// <summary>How far from the tip the photo is looked at, mm.</summary>
    public double ReachMm { get; init; } = TipPatch.UsualReachMm;

    /// <summary>The tip.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="at">Where it was supposed.</param>
    /// <param name="spine">The spine's line there.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <param name="others">Other lines that the spine may have; the patch tells which.</param>
    /// <returns>Null where the edge is too short or the spine's line cannot be that of a point.</returns>
    public SeenTip? Of(Point2[] line, Point2 at, StraightLine spine, Point2 spineSide, params ReadOnlySpan<StraightLine> others)
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
        if (angle is < SharpestRad or > BluntestRad)
            return null;
        RobustPolynomial edge = RobustPolynomial.Fit([.. part.Select(p => (p - at).Dot(x))], [.. part.Select(p => (p - at).Dot(y))], 2, 0.08);
        Vector2 view = camera?.Parallax(at, 1) ?? default;
        var viewMm = new Vector2(view.Dot(x) * light.TipMm, view.Dot(y) * light.TipMm);
        var shape = new TipShape(0, edge.At(0), edge.Slope(0), (edge.Slope(0) - edge.Slope(-4)) / 4, angle, 0, light.Blur, light.BevelMm, Known(inward, (line[^1] - line[0]).Normalized(), x, y, viewMm));
        (double, bool) Light(double u, double v)
        {
            Point2 px = map.ToPhoto(at + (x * u) + (y * v));
            var (blue, green, red) = sampler.At(px);
            return ((blue + green + red) / 3, TipPatch.IsCut(sampler, px));
        }

        var patch = new TipPatch(Light, pixelMm, Math.Max(sigmaPx, 0.4) * pixelMm, light.TipMm, light, shape, viewMm, ReachMm, sampler.Ink is { } ink ? (u, v) => ink.At(at + (x * u) + (y * v)) : null);
        var starts = new List<TipShape> { shape };
        foreach (StraightLine side in (ReadOnlySpan<StraightLine>)[spine, .. others])
        {
            (double meets, double turned) = (Meets(shape, (side.At - at).Dot(x), (side.At - at).Dot(y)), AngleOf(side, x, y));
            if (Math.Abs(meets) < FarthestMm && turned is > SharpestRad and < BluntestRad && starts.All(t => Math.Abs(t.TipMm - meets) > OnePlaceMm))
                starts.Add(shape with { TipMm = meets, AngleRad = turned });
        }

        TipFit.Fitted best = Best(patch, shape, starts, viewMm);
        TipShape found = best.Shape;
        double u = found.TipMm;
        double uMm = Math.Sqrt(Math.Pow(Optimism * best.TipUMm, 2) + (SettingMm * SettingMm));
        Vector2 ahead = (x + (y * (found.EdgeSlope + (found.EdgeBend * u)))).Normalized();
        double face = (view.Dot(x) * Math.Sin(found.AngleRad)) + (view.Dot(y) * Math.Cos(found.AngleRad));
        return new(at + (x * u) + (y * found.EdgeAt(u)), uMm, ahead, best.Misfit, best, face) { Frame = (at, x, y) };
    }

    /// <summary>
    /// The best fit from the places that were supposed, with the lamps that shade the edge leaning along it this way or that, and from places further in with a
    /// lamp's shadow beyond the spine.
    /// </summary>
    private TipFit.Fitted Best(TipPatch patch, TipShape shape, List<TipShape> supposed, Vector2 viewMm)
    {
        double z = light.TipMm;
        TipShape inside = supposed[Math.Min(1, supposed.Count - 1)];
        int known = shape.Lamps.Count;
        List<Beginning> starts = [.. supposed.Select(s => new Beginning(s, shape, 0))];
        for (int i = 0; i < known; i++)
        {
            starts.AddRange(s_unsaid.Select(along => (along * z) - viewMm.X)
                .Where(u => Math.Abs(u - shape.Lamps[i].U) > OneLean * z)
                .Select(u => shape.Lamps.Select((l, k) => k == i ? l with { U = u } : l).ToList())
                .Select(lamps => new Beginning(inside with { Lamps = lamps }, shape with { Lamps = lamps }, LampCost)));
        }

        if (1 - light.Sky - light.Lamps.Sum(l => l.Share) > LeastShare)
        {
            (double sin, double cos) = Math.SinCos(shape.AngleRad);
            foreach (double lean in s_leans)
            {
                double d = lean * z;
                starts.AddRange(s_alongs.Select(a => a * z).Select(a => new Beginning(
                    inside with
                    {
                        TipMm = inside.TipMm - (d / sin),
                        Lamps = [.. shape.Lamps, new((d * sin) - (a * cos), (d * cos) + (a * sin), Math.Max(LeastRimMm, UsualSpread * z))],
                    },
                    shape with { Lamps = [.. shape.Lamps, new(-viewMm.X, -viewMm.Y, UsualSpread * z)] },
                    LampCost)));
            }
        }

        // Samples that share the blur, or a flaw of the model beside it, repeat each other.
        double look = 2 * Math.Max(pixelMm, 1.5 * sigmaPx * pixelMm);
        double looks = patch.AreaMm2 / (look * look);
        (TipFit.Fitted even, Beginning begun) = Follow(patch, starts);
        double uneven = patch.Unevenness(even.Shape);
        return uneven < UnevenShare ? even : Follow(patch.Stained(uneven, TipFit.Floor, looks), [.. starts, begun with { From = even.Shape }]).Found;

        (TipFit.Fitted Found, Beginning Start) Follow(TipPatch seen, List<Beginning> from) => from
            .Select(s => (Fit: new TipFit(seen, looks, s.Usual, Spread(s.From, known)), Start: s))
            .BesideEachOther(t => (t.Fit, t.Start, Found: t.Fit.Find(t.Start.From, FirstRounds)))
            .OrderBy(t => t.Found.Cost + t.Start.Extra).Take(Followed)
            .BesideEachOther(t => (Found: t.Fit.Find(t.Found.Shape), t.Start))
            .MinBy(t => t.Found.Cost + t.Start.Extra);
    }

    /// <summary>Where a search begins.</summary>
    /// <param name="From">The shape.</param>
    /// <param name="Usual">The shape that is supposed with such lamps.</param>
    /// <param name="Extra">What its lamps must be worth.</param>
    private sealed record Beginning(TipShape From, TipShape Usual, double Extra);

    /// <summary>How far a shape's numbers may be off, in the order of its row: the tip anywhere, the edge hardly, known lamps mostly along the edge, which tells little of that. Chosen.</summary>
    private double[] Spread(TipShape s, int known)
    {
        double z = light.TipMm;
        return [1.0, 0.08, 0.012, AngleSpreadRad, 0.02, 0.06, 0.25, .. s.Lamps.SelectMany((_, i) => i < known ? new[] { (0.4 * z) + 0.05, (0.2 * z) + 0.05, 0.4 } : [0.6 * z, 0.6 * z, 0.6])];
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
