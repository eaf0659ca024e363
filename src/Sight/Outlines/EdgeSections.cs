using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Where the edge lies against its smooth line, from median profiles of a few millimetres of edge (grid lines and chips fall out): under one light
/// for the whole edge, sky and lamps (<see cref="EdgeLight"/>); an edge too short for that, each section by itself: a blurred step under a contact
/// shadow with one blur and one height of the shadow's model for all sections, those that fit best.
/// </summary>
internal sealed class EdgeSections(PhotoSampler sampler, LensMap map, double sigmaPx, MatCamera? camera = null, KnownHeight? known = null, SpineSide? spine = null)
{
    private const double EveryMm = 2;
    private const double HalfMm = 3;
    private const double OutMm = 1.8;
    private const double InMm = 0.9;
    private const int FewestSections = 5;
    private const double InMostMm = 2.5;

    /// <summary>Height of a heel, nothing known, where a search begins: between half a spine and half a handle. Chosen.</summary>
    private const double UsualHeelMm = 2.2;

    /// <summary>
    /// Where a tenth of the sections lie further off than this the profiles are drawn anew around the found edge: drawn around a shadow's rim they show much paper and
    /// little steel, and so speak for an edge too far out; drawn along a shoulder, where the outline stepped in over a bevel as bright as the paper, the edge may lie outside
    /// what they show. Chosen from trials.
    /// </summary>
    private const double FarMm = 0.3;

    /// <summary>How often: one that stepped in by more than the edge is looked for comes nearer each time. Chosen.</summary>
    private const int MostDrawn = 3;

    /// <summary>Misfits hang together along the edge and across it, so that explanations are weighed by so many times less than if each sample stood for itself. Chosen from trials.</summary>
    private const double HangTogether = 10;

    /// <summary>Lines found whose means lie nearer than this are one, mm. Chosen.</summary>
    private const double SameMm = 0.1;

    /// <summary>Leans of lamps behind whose shadows the edge is supposed to lie, besides on the path, when the search begins. Chosen.</summary>
    private static readonly double[] s_leans = [0.15, 0.3, 0.45, 0.6, 0.8, 1.0, 1.15, 1.3];

    /// <summary>The light along the edge; null where each section stands for itself.</summary>
    public EdgeLight? Light { get; private set; }

    /// <summary>How badly the light explains each section, −2 log likelihood, and how far it lies from the line's beginning, mm; none without a light.</summary>
    public IReadOnlyList<(double AtMm, double Misfit)> Misfits { get; private set; } = [];

    /// <summary>How far the edge may lie from where it was found, as far as its shadows tell; 0 without a light.</summary>
    public double DoubtMm { get; private set; }

    /// <summary>How badly the light explains the paper beside edge and spine (<see cref="EdgeLightFit.PaperMisfit"/>); null without a light.</summary>
    public double? PaperMisfit => _best?.Fit.PaperMisfit(_best.Light);

    private Explanation? _best;

    /// <summary>Corrections toward the outside at places along the line of stations, smoothed; mm.</summary>
    public (double[] AtMm, double[] OutwardMm, double[] UMm) Of(Point2[] line, Vector2[] inward, double pxMm)
    {
        double ds = line[0].DistanceTo(line[1]);
        (double[] eachPlace, double[] each, double[] eachU) = Each(line, inward, pxMm);
        RuledLines? ruled = RuledLines.Find(sampler, map, line, inward);
        EdgeProfile[] profiles = Profiles(line, inward, ds, ruled, pxMm);
        if (profiles.Length < FewestSections)
            return (eachPlace, each, eachU);
        double[] held = [.. profiles.Select(p => -At(eachPlace, each, p.AtMm))];
        (double[] found, double[] smooth) = Under(profiles, held, move =>
        {
            Point2[] there = [.. line.Select((p, i) => p + (inward[i] * At([.. profiles.Select(q => q.AtMm)], move, i * ds)))];
            return Profiles(there, inward, ds, ruled, pxMm);
        }, pxMm);
        double[] place = [.. profiles.Select(p => p.AtMm)];
        int[] station = [.. place.Select(a => Math.Clamp((int)Math.Round(a / ds), 0, line.Length - 1))];
        double[] bridge = BridgedEdge.OutwardMm([.. station.Select((s, i) => line[s] + (inward[s] * -smooth[i]))], [.. station.Select(s => inward[s])]);
        return (place, [.. smooth.Zip(bridge, (a, b) => a + b)], [.. found.Zip(smooth, (a, b) => Math.Abs(a + b))]);
    }

    /// <summary>The edge's own line by those corrections, station by station, and how far outward each section lies.</summary>
    public (Point2[] Line, double[] OutwardMm) Line(Point2[] path, Vector2[] inward, double pxMm)
    {
        (double[] place, double[] outwardMm, _) = Of(path, inward, pxMm);
        double spacing = path[0].DistanceTo(path[1]);
        return ([.. path.Select((p, i) => p + (inward[i] * -At(place, outwardMm, i * spacing)))], outwardMm);
    }

    // Each ruled line's end is told with the section nearest to it.
    private EdgeProfile[] Profiles(Point2[] line, Vector2[] inward, double ds, RuledLines? ruled, double pxMm)
    {
        EdgeProfile[] profiles = [.. EdgeProfile.Along(line, inward, sampler, map, ds, camera)];
        if (ruled is null || profiles.Length == 0)
            return profiles;
        IReadOnlyList<RuledEnd> ends = RuledEnd.Of(ruled, line, inward);
        double[] everywhere = ends.Count == 0 ? [] : RuledEnd.Everywhere(ends);
        foreach (RuledEnd end in ends)
        {
            int nearest = EdgeProfile.Nearest(profiles, end.AtMm);
            double[] costs = end.Costs(everywhere, pxMm, sigmaPx * pxMm);
            profiles[nearest] = profiles[nearest] with { Ruled = profiles[nearest].Ruled is { } other ? [.. other.Zip(costs, (a, b) => a + b)] : costs };
        }

        return profiles;
    }

    /// <summary>
    /// Where the steel begins, inward, by one light for all profiles, and the smoothed correction toward the outside. Lines that may be the edge's are compared each in
    /// sections drawn around itself: in sections drawn around another its steel lies in a corner, and it seems the less likely for it. Those about as likely are weighed together.
    /// </summary>
    /// <param name="profiles">Light across the line of stations.</param>
    /// <param name="held">Where each section by itself would have the edge, inward.</param>
    /// <param name="anew">Draws the profiles again around a line that lies further inside.</param>
    /// <param name="pxMm">A pixel on the mat.</param>
    internal (double[] InwardMm, double[] OutwardMm) Under(IReadOnlyList<EdgeProfile> profiles, double[] held, Func<double[], IReadOnlyList<EdgeProfile>> anew, double pxMm)
    {
        double[] place = [.. profiles.Select(p => p.AtMm)];
        EdgeLightFit first = Fit(profiles, pxMm);
        Explanation[] all = [.. first.Likeliest([new(held), new(new double[place.Length]), .. BehindRims(profiles, known)])
            .BesideEachOther(l => Drawn(profiles, place, first, l, anew, pxMm)).OrderBy(e => e.Cost)];
        all = [.. all.Where((e, i) => all[..i].All(likelier => Math.Abs(likelier.InwardMm.Average() - e.InwardMm.Average()) > SameMm))]; // each line once
        Explanation best = all[0];
        double[] weight = [.. all.Select(e => Math.Exp(-0.5 * (e.Cost - best.Cost) / HangTogether))];
        double Mean(Func<Explanation, double> of) => all.Zip(weight, (e, w) => w * of(e)).Sum() / weight.Sum();
        double[] found = [.. place.Select((_, i) => Mean(e => e.InwardMm[i]))];
        double middle = Mean(e => e.InwardMm.Average());
        double spread = Math.Sqrt(Mean(e => Math.Pow(e.InwardMm.Average() - middle, 2)));
        (_best, Light) = (best, best.Light);
        (Misfits, DoubtMm) = ([.. place.Zip(best.Places.Cost)], Math.Max(spread, best.Fit.DoubtMm(Light, best.Places.InwardMm)));
        return (found, Smooth(place, [.. found.Select(v => -v)], Weights(best.Places)));
    }

    /// <summary>A light, the line it makes of the edge, inward from the line of stations, what both cost, and the sections around that line.</summary>
    private sealed record Explanation(EdgeLight Light, double Cost, double[] InwardMm, EdgeLightFit Fit, EdgeLightFit.Places Places);

    private EdgeLightFit Fit(IReadOnlyList<EdgeProfile> profiles, double pxMm) => new(profiles, sigmaPx * pxMm, pxMm, known) { Spine = spine };

    // In sections drawn around the line itself, as often as it moves far.
    private Explanation Drawn(IReadOnlyList<EdgeProfile> profiles, double[] place, EdgeLightFit fit, EdgeLightFit.Weighed found, Func<double[], IReadOnlyList<EdgeProfile>> anew, double pxMm)
    {
        EdgeLightFit.Places places = fit.PlacesUnder(found.Light);
        var e = new Explanation(found.Light, found.Cost, places.InwardMm, fit, places);
        for (int drawn = 0; drawn < MostDrawn; drawn++)
        {
            double[]? behind = WideShadow.Behind(profiles, e.Light, e.InwardMm);
            if ((drawn > 0 || known is null) && behind is null && !Far(e.Places.InwardMm))
                break;
            double[] move = Smooth(place, behind ?? e.InwardMm, behind is null ? Weights(e.Places) : [.. behind.Select(_ => 1.0)]);
            EdgeLightFit around = Fit(anew(move), pxMm);
            (EdgeLight light, double cost) = around.Again(e.Light);
            places = around.PlacesUnder(light);
            e = new(light, cost, [.. places.InwardMm.Select((v, i) => v + move[i])], around, places);
        }

        return e;
    }

    /// <summary>The line of stations taken for the rim of a lamp's shadow: the edge lies behind it in the measure of its height, for lamps that lean more or less.</summary>
    internal static IEnumerable<EdgeLightFit.SupposedLine> BehindRims(IReadOnlyList<EdgeProfile> profiles, KnownHeight? known)
    {
        (double heel, double tip) = known is { } height ? (height.HeelMm, height.TipMm) : (UsualHeelMm, OutlineBudget.TipHeightMm);
        return s_leans.Select(f => new EdgeLightFit.SupposedLine([.. profiles.Select(p => Math.Min(InMostMm, f * (heel + ((tip - heel) * p.Share))))], f));
    }

    private static bool Far(double[] found) => found.Select(Math.Abs).Order().ElementAt((int)(0.9 * found.Length)) > FarMm;

    private static double[] Weights(EdgeLightFit.Places places) => [.. places.Curvature.Select(c => Math.Clamp(c, 0.01, 1e6))];

    /// <summary>The same with each section fitted by itself, no lamps.</summary>
    internal (double[] AtMm, double[] OutwardMm, double[] UMm) Each(Point2[] line, Vector2[] inward, double pxMm)
    {
        double ds = line[0].DistanceTo(line[1]);
        double dv = 0.3 * pxMm;
        int outside = (int)(OutMm / dv);
        int m = outside + (int)(InMm / dv) + 1;
        var profiles = new List<(double At, double[][] Light)>();
        for (double at = HalfMm; at < ((line.Length - 1) * ds) - HalfMm; at += EveryMm)
            profiles.Add((at, Median(line, inward, (int)((at - HalfMm) / ds), (int)((at + HalfMm) / ds), outside, m, dv)));
        if (profiles.Count == 0)
            return ([0], [0], [0.1]);
        double[] v = [.. Enumerable.Range(0, m).Select(k => (k - outside) * dv)];
        (double U, double Cost, double Curvature)[]? best = null;
        double least = double.PositiveInfinity;
        foreach (double blur in new[] { 0.8, 0.95, 1.1 })
        {
            foreach (double z in new[] { 0.5, 0.9, 1.6 })
            {
                var fits = profiles.Select(p => Fit(p.Light, v, Math.Max(0.45, blur * sigmaPx) * pxMm, z)).ToArray();
                double cost = fits.Sum(f => Math.Log(f.Cost + 1e-6));
                if (cost < least)
                    (least, best) = (cost, fits);
            }
        }

        double[] place = [.. profiles.Select(p => p.At)];
        double[] raw = [.. best!.Select(f => -f.U)];
        double[] weight = [.. best!.Select(f => Math.Clamp(f.Curvature / (f.Cost + 1e-6), 0.01, 1e6))];
        double[] smooth = Smooth(place, raw, weight);
        return (place, smooth, [.. raw.Zip(smooth, (a, b) => Math.Abs(a - b))]);
    }

    private static double[] Smooth(double[] place, double[] raw, double[] weight)
    {
        double typical = weight.Order().ElementAt(weight.Length / 2);
        weight = [.. weight.Select(w => Math.Min(w, 3 * typical) / typical)];
        double[] smooth = new double[raw.Length];
        for (int i = 0; i < raw.Length; i++)
        {
            int from = Math.Max(0, i - 6);
            int to = Math.Min(raw.Length - 1, i + 6);
            double[] x = [.. Enumerable.Range(from, to - from + 1).Select(k => place[k])];
            double[] w = [.. Enumerable.Range(from, to - from + 1).Select(k => weight[k] * Math.Exp(-0.5 * Math.Pow((place[k] - place[i]) / 5, 2)))];
            smooth[i] = RobustPolynomial.Fit(x, raw.AsSpan(from, to - from + 1), 1, 0.04, w).At(place[i]);
        }

        return smooth;
    }

    public static double At(double[] place, double[] value, double at)
    {
        if (at <= place[0])
            return value[0];
        if (at >= place[^1])
            return value[^1];
        int i = Array.FindIndex(place, p => p >= at);
        double t = (at - place[i - 1]) / (place[i] - place[i - 1]);
        return ((1 - t) * value[i - 1]) + (t * value[i]);
    }

    private double[][] Median(Point2[] line, Vector2[] inward, int from, int to, int outside, int m, double dv)
    {
        int step = Math.Max(1, (to - from) / 30);
        var light = new double[3][];
        for (int c = 0; c < 3; c++)
            light[c] = new double[m];
        var values = new List<float>[3];
        for (int k = 0; k < m; k++)
        {
            values = [[], [], []];
            for (int i = from; i <= to; i += step)
            {
                var (b, g, r) = sampler.At(map.ToPhoto(line[i] + (inward[i] * ((k - outside) * dv))));
                values[0].Add(b);
                values[1].Add(g);
                values[2].Add(r);
            }

            for (int c = 0; c < 3; c++)
            {
                values[c].Sort();
                light[c][k] = values[c][values[c].Count / 2];
            }
        }

        return light;
    }

    private static (double U, double Cost, double Curvature) Fit(double[][] light, double[] v, double sigma, double z)
    {
        const double from = -0.45;
        const double to = 0.45;
        const double step = 0.03;
        int count = (int)Math.Round((to - from) / step) + 1;
        double[] cost = new double[count];
        int best = -1;
        for (int k = 0; k < count; k++)
        {
            cost[k] = Cost(light, v, from + (k * step), sigma, z);
            if (best < 0 || cost[k] < cost[best])
                best = k;
        }

        double u = from + (best * step);
        double curvature = 0;
        if (best > 0 && best < count - 1)
        {
            curvature = (cost[best - 1] - (2 * cost[best]) + cost[best + 1]) / (step * step);
            if (curvature > 0)
                u += (cost[best - 1] - cost[best + 1]) / (2 * step * curvature);
        }

        return (u, cost[best], curvature);
    }

    /// <summary>Mean square misfit of the best a, b ≥ 0, c in each channel.</summary>
    private static double Cost(double[][] light, double[] v, double u, double sigma, double z)
    {
        double inside = Math.Max(0.35, 2.2 * sigma);
        int n = 0;
        Span<double> p = stackalloc double[v.Length];
        Span<double> q = stackalloc double[v.Length];
        Span<double> r = stackalloc double[v.Length];
        Span<int> at = stackalloc int[v.Length];
        for (int i = 0; i < v.Length; i++)
        {
            if (v[i] - u > inside || u - v[i] > 1.35)
                continue;
            double x = (u - v[i]) / z;
            r[n] = BlurredStep.Phi((v[i] - u) / sigma);
            p[n] = 1 - r[n];
            q[n] = -p[n] * BlurredStep.Shade(x);
            at[n++] = i;
        }

        (double pp, double pq, double pr, double qq, double qr, double rr) = (0, 0, 0, 0, 0, 1e-9);
        for (int i = 0; i < n; i++)
        {
            pp += p[i] * p[i];
            pq += p[i] * q[i];
            pr += p[i] * r[i];
            qq += q[i] * q[i];
            qr += q[i] * r[i];
            rr += r[i] * r[i];
        }

        var tones = new ThreeTones(pp, pq, pr, qq, qr, rr);
        double total = 0;
        foreach (double[] s in light)
        {
            (double bp, double bq, double br, double ss) = (0, 0, 0, 0);
            for (int i = 0; i < n; i++)
            {
                double y = s[at[i]];
                bp += p[i] * y;
                bq += q[i] * y;
                br += r[i] * y;
                ss += y * y;
            }

            // Without shadow first; then with, if that makes it a darkening and no more than all the light.
            double det2 = (pp * rr) - (pr * pr);
            double a0 = ((bp * rr) - (br * pr)) / det2;
            double c0 = ((br * pp) - (bp * pr)) / det2;
            double best = ss - (a0 * bp) - (c0 * br);
            (double a, double b, double c) = tones.Solve(bp, bq, br);
            if (b > 0 && b < 1.6 * a)
                best = Math.Min(best, ss - (a * bp) - (b * bq) - (c * br));
            total += best;
        }

        return Math.Max(0, total) / Math.Max(1, n);
    }
}
