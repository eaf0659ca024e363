using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the line of a short bare side, the heel's face or the spine near the tip, under the light that was found along the edge: no bevel, so
/// that a band beside the steel is a shadow; lamps that shade this side are sought anew.
/// </summary>
internal sealed class BareSide(PhotoSampler sampler, LensMap map, double sigmaPx, double pixelMm, MatCamera? camera, EdgeLight edge)
{
    /// <summary>Sections, each a median over twice the half. Chosen: grid lines and rough steel fall out of two millimetres.</summary>
    private const double EveryMm = 1, HalfMm = 1;

    private const int FewestSections = 4;

    /// <summary>A known height is good to this for a side beside the edge: steel is thicker there. Chosen.</summary>
    private const double HeightUMm = 0.3;

    /// <summary>Leans of lamps behind whose shadows the side is supposed to lie when the search begins. Chosen.</summary>
    private static readonly double[] s_leans = [0.3, 0.7];

    /// <summary>The side's line.</summary>
    /// <param name="path">Where the outline shows it, in order from the corner.</param>
    /// <param name="toSteel">Roughly toward the steel.</param>
    /// <param name="heightMm">Its height over the mat.</param>
    /// <param name="degree">1 of a straight side, 2 of a bent one.</param>
    /// <param name="deepest">How deep behind the line steel may be looked at, against the distance from the first place, mm.</param>
    /// <param name="at">Where the tangent is taken, mm from the first place.</param>
    /// <returns>Null where the side is too short.</returns>
    public SideLine? Of(IReadOnlyList<Point2> path, Vector2 toSteel, double heightMm, int degree, Func<double, double> deepest, double at)
    {
        if (path.Count < 6)
            return null;
        Vector2 x = (path[^1] - path[0]).Normalized();
        Vector2 y = new(-x.Y, x.X);
        if (y.Dot(toSteel) < 0)
            y *= -1;
        double[] s = [.. path.Select(p => (p - path[0]).Dot(x))];
        RobustPolynomial course = RobustPolynomial.Fit(s, [.. path.Select(p => (p - path[0]).Dot(y))], degree, 0.08);
        double length = s[^1];
        int n = (int)((length - (2 * HalfMm)) / EveryMm) + 1;
        if (n < FewestSections)
            return null;
        double[] place = [.. Enumerable.Range(0, n).Select(i => HalfMm + (i * EveryMm))];
        Vector2 Inward(double v) => (y - (x * course.Slope(v))).Normalized();
        Point2 On(double v) => path[0] + (x * v) + (y * course.At(v));
        EdgeProfile[] profiles = [.. place.Select(v => new EdgeProfile(v, v / length, Math.Atan2(Inward(v).Dot(x), Inward(v).Dot(y)), camera?.Parallax(On(v), 1).Dot(Inward(v)) ?? 0, Light(v, On, Inward, deepest)) { Ink = Ink(v, On, Inward) })];
        var fit = new EdgeLightFit(profiles, sigmaPx * pixelMm, pixelMm, new(heightMm, HeightUMm), edge.ForBare(heightMm, heightMm));
        double[] path0 = new double[n];
        (EdgeLight light, EdgeLightFit.Places places) = fit.Find([new(path0), .. s_leans.Select(f => new EdgeLightFit.SupposedLine(Enumerable.Repeat(Math.Min(2.5, f * heightMm), n).ToArray()))]);
        double[] found = [.. places.InwardMm.Select((v, i) => course.At(place[i]) + v)];
        double typical = Math.Max(1e-6, places.Curvature.Order().ElementAt(n / 2));
        double[] weight = [.. places.Curvature.Select(c => Math.Clamp(c / typical, 0.05, 3))];
        RobustPolynomial line = RobustPolynomial.Fit(place, found, degree, 0.05, weight);
        double[] off = [.. place.Select((v, i) => Math.Abs(found[i] - line.At(v))).Order()];
        return new(new(path[0] + (x * at) + (y * line.At(at)), (x + (y * line.Slope(at))).Normalized()), off[n / 2], fit.DoubtMm(light, places.InwardMm), light);
    }

    private const int Rows = 9;

    private static double Place(double at, int row) => at + (HalfMm * ((2.0 * row / (Rows - 1)) - 1));

    private double[]? Ink(double at, Func<double, Point2> on, Func<double, Vector2> inward) =>
        EdgeProfile.InkOf(sampler.Ink, [.. Enumerable.Range(0, Rows).Select(j => on(Place(at, j)))], [.. Enumerable.Range(0, Rows).Select(j => inward(Place(at, j)))]);

    private double[][] Light(double at, Func<double, Point2> on, Func<double, Vector2> inward, Func<double, double> deepest)
    {
        double[][] light = [new double[EdgeProfile.Count], new double[EdgeProfile.Count], new double[EdgeProfile.Count]];
        double[][] values = [new double[Rows], new double[Rows], new double[Rows]];
        for (int k = 0; k < EdgeProfile.Count; k++)
        {
            for (int j = 0; j < Rows; j++)
            {
                double v = Place(at, j);
                double depth = Math.Min(EdgeProfile.FromMm + (k * EdgeProfile.StepMm), deepest(v));
                (values[0][j], values[1][j], values[2][j]) = sampler.At(map.ToPhoto(on(v) + (inward(v) * depth)));
            }

            for (int c = 0; c < 3; c++)
            {
                Array.Sort(values[c]);
                light[c][k] = values[c][Rows / 2];
            }
        }

        return light;
    }
}

/// <summary>A bare side's line where steel ends.</summary>
/// <param name="Line">The line, or a bent one's tangent.</param>
/// <param name="ScatterMm">Median distance of its sections from it.</param>
/// <param name="DoubtMm">How far it may lie from there as far as shadows tell.</param>
/// <param name="Light">The light along it.</param>
internal readonly record struct SideLine(StraightLine Line, double ScatterMm, double DoubtMm, EdgeLight Light);
