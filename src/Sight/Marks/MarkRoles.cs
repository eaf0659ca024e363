using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>
/// Says which mark is edge bevel, primary, micro-bevel, by what physics and the trade say: the primary lies nearest zero, the edge next, a
/// micro-bevel beyond it and fainter; the two sides are alike up to roll; all specular points lie on one row through the bare beam; whatever
/// is left over (ghost, glint, pen, noise) must be explained away, and the brighter it is, the dearer. Scores are log-likelihoods with
/// spreads that are chosen, not derived.
/// </summary>
internal static class MarkRoles
{
    /// <summary>Inside this a mark can be the primary or the bare beam without further cost.</summary>
    private const double InnerDeg = 5.0;

    /// <summary>Edge bevels flatter than this per side are hardly met (common practice, no source); roll can take 3° more off one side.</summary>
    private const double FlattestDeg = 7.2;

    /// <summary>Primaries are a few degrees or less on thin blades (common practice, no source): their mean, free of roll, hardly passes this.</summary>
    private const double SteepestPrimaryDeg = 4.3;

    /// <summary>An edge mark with less than this part of the brightest mark's light is hardly ever one. Chosen.</summary>
    private const double LeastShare = 0.0015;

    /// <summary>Taller marks come from a line beam, whose own middle need not lie on the reading row.</summary>
    private const double TallMm = 4.5;

    private const int MostPerSide = 5;

    public static MarkChoice Choose(IReadOnlyList<MarkShape> shapes, Point2 zeroMm, double distanceMm, (double Value, double U) y0, SetUpPriors priors)
    {
        var left = Candidates(shapes, Side.Left, zeroMm, distanceMm);
        var right = Candidates(shapes, Side.Right, zeroMm, distanceMm);
        var inner = shapes.Where(s => s.RoughDeg < InnerDeg + 2.5 && Math.Abs(s.CentreYMm - zeroMm.Y) < 8 && s.SignalToNoise > 12).ToList();
        double brightest = shapes.Count == 0 ? 0 : shapes.Max(s => s.Flux);
        var all = new List<MarkHypothesis>();
        foreach ((MarkShape? el, MarkShape? ml) in SideWays(left))
        {
            foreach ((MarkShape? er, MarkShape? mr) in SideWays(right))
            {
                all.Add(Weigh(el, ml, er, mr, left, right, inner, brightest, zeroMm, distanceMm, y0, priors));
            }
        }

        MarkHypothesis best = all.MaxBy(h => h.Score)!;
        MarkHypothesis? rival = all.Where(h => !SameEdges(h, best)).MaxBy(h => h.Score);
        double total = all.Sum(h => Math.Exp(h.Score - best.Score));
        double same = all.Where(h => SameEdges(h, best)).Sum(h => Math.Exp(h.Score - best.Score));
        return new(best, rival, same / total);
    }

    private static bool SameEdges(MarkHypothesis a, MarkHypothesis b) => a.EdgeLeft == b.EdgeLeft && a.EdgeRight == b.EdgeRight;

    private static List<MarkShape> Candidates(IReadOnlyList<MarkShape> shapes, Side side, Point2 zeroMm, double distanceMm) =>
        [.. shapes.Where(s => s.Side == side && s.RoughDeg > 3.5 && s.RoughDeg < 38 && Math.Abs(s.CentreYMm - zeroMm.Y) < 30)
            .OrderByDescending(s => s.Flux * s.SignalToNoise / (1 + Math.Pow((s.CentreYMm - zeroMm.Y) / (4 + (0.05 * s.OutMm)), 2)))
            .Take(MostPerSide)
            .OrderBy(s => s.OutMm)];

    private static IEnumerable<(MarkShape? Edge, MarkShape? Micro)> SideWays(List<MarkShape> side)
    {
        yield return (null, null);
        for (int e = 0; e < side.Count; e++)
        {
            yield return (side[e], null);
            for (int m = e + 1; m < side.Count; m++)
                yield return (side[e], side[m]);
        }
    }

    private static MarkHypothesis Weigh(
        MarkShape? el, MarkShape? ml, MarkShape? er, MarkShape? mr, List<MarkShape> left, List<MarkShape> right, List<MarkShape> inner,
        double brightest, Point2 zeroMm, double distanceMm, (double Value, double U) y0, SetUpPriors priors)
    {
        double score = EdgePrior(el, brightest) + EdgePrior(er, brightest) + MicroPrior(el, ml) + MicroPrior(er, mr);
        score += (ml, mr) switch
        {
            (null, null) => Math.Log(0.6),
            (not null, not null) => Math.Log(0.33),
            _ => Math.Log(0.07),
        };
        if (el is not null && er is not null)
        {
            score += Tail(Math.Log(er.Flux / el.Flux) / (1.2 + Doubt(er) + Doubt(el)));
            score += Math.Log(1 / (1 + Math.Exp(-(((el.RoughDeg + er.RoughDeg) / 2) - FlattestDeg) / 0.5)));
        }

        if (ml is not null && mr is not null && el is not null && er is not null)
            score += Tail(((mr.RoughDeg - er.RoughDeg) - (ml.RoughDeg - el.RoughDeg)) / 2.0);
        MarkShape? pl = Primary(left, inner, Side.Left, el, zeroMm.Y);
        MarkShape? pr = Primary(right, inner, Side.Right, er, zeroMm.Y);
        score += Likeness(el, er, pl, pr);
        var marks = new List<(double, double, double)>();
        double innermost = inner.Count == 0 ? 0 : inner.Max(s => s.Flux);
        foreach (MarkShape? s in new[] { el, ml, er, mr })
            Add(marks, s, zeroMm);
        foreach (MarkShape s in inner)
        {
            if (s != el && s != er && Math.Abs(s.CentreYMm - zeroMm.Y) < 5 && s.Flux > 0.05 * innermost)
                marks.Add((s.CentreXMm - zeroMm.X, s.CentreYMm - zeroMm.Y, Math.Max(1.5, 0.3 * s.AlongSdMm) * (s.Blob.Saddle > 0.3 * s.Blob.Peak ? 2 : 1)));
        }

        EdgeRow row = EdgeRow.Fit(marks, distanceMm, y0, priors);
        score -= 3 * Math.Log(1 + (row.Misfit / 6));
        score += Clutter(left, el, ml, pl, row, brightest, zeroMm, distanceMm) + Clutter(right, er, mr, pr, row, brightest, zeroMm, distanceMm);
        return new() { EdgeLeft = el, EdgeRight = er, MicroLeft = ml, MicroRight = mr, PrimaryLeft = pl, PrimaryRight = pr, Row = row, Score = score };
    }

    internal static double AlongUMm(MarkShape s) => Math.Sqrt(0.16 + Math.Pow(0.15 * s.AlongSdMm, 2) + Math.Pow(s.AlongSdMm > TallMm ? 0.25 * s.AlongSdMm : 0, 2)) * (1 + s.Clipped) * (s.AtRim ? 3 : 1);

    private static void Add(List<(double, double, double)> marks, MarkShape? s, Point2 zeroMm)
    {
        if (s is not null)
            marks.Add((s.CentreXMm - zeroMm.X, s.CentreYMm - zeroMm.Y, AlongUMm(s)));
    }

    /// <summary>The brightest inner mark inside the edge that is not the bare beam's place.</summary>
    private static MarkShape? Primary(List<MarkShape> side, List<MarkShape> inner, Side on, MarkShape? edge, double zeroY) =>
        inner.Concat(side).Where(s => s.Side == on && s != edge && s.RoughDeg is > 0.4 and < 10 && Math.Abs(s.CentreYMm - zeroY) < 6 && (edge is null || s.OutMm < edge.OutMm - 2))
            .MaxBy(s => s.Flux);

    private static double EdgePrior(MarkShape? edge, double brightest)
    {
        if (edge is null)
            return Math.Log(0.015);
        double low = 1 / (1 + Math.Exp(-(edge.RoughDeg - (FlattestDeg - 3)) / 0.5));
        double high = 1 / (1 + Math.Exp((edge.RoughDeg - 30) / 1.5));
        double faint = 1 / (1 + Math.Exp(-(edge.SignalToNoise - 13) / 1.3));
        double share = 1 / (1 + Math.Exp(-Math.Log(Math.Max(edge.Flux, 1e-9) / Math.Max(brightest, 1e-9) / LeastShare) / 0.5));
        return Math.Log((low * high * faint * share) + 1e-9);
    }

    /// <summary>
    /// The two edge marks differ by the bevels' own difference and twice the roll. Where both primaries stand clear of the bare beam they show
    /// the roll, and the rest must be small.
    /// </summary>
    private static double Likeness(MarkShape? el, MarkShape? er, MarkShape? pl, MarkShape? pr)
    {
        if (el is null || er is null)
            return 0;
        double difference = er.RoughDeg - el.RoughDeg;
        double primaries = pl is not null && pr is not null ? Tail(Math.Max(0, ((pl.RoughDeg + pr.RoughDeg) / 2) - SteepestPrimaryDeg) / 0.8) : 0;
        if (pl is { RoughDeg: > 1.2 } && pr is { RoughDeg: > 1.2 } && pl.Blob.Saddle < 0.5 * pl.Blob.Peak && pr.Blob.Saddle < 0.5 * pr.Blob.Peak)
            return primaries + Tail((difference - (pr.RoughDeg - pl.RoughDeg)) / 2.2);
        return primaries + Tail(difference / 3.4) + Math.Log(2.2 / 3.4);
    }

    private static double MicroPrior(MarkShape? edge, MarkShape? micro)
    {
        if (edge is null || micro is null)
            return 0;
        double step = micro.RoughDeg - edge.RoughDeg;
        double ratio = Math.Log(micro.Flux / edge.Flux);
        double doubt = Doubt(edge) + Doubt(micro);
        return Tail((step - 5.0) / 2.2) + Tail((ratio + 1.2) / ((ratio > -1.2 ? 0.7 : 1.4) + doubt)) - (step < 1.2 ? 4 : 0);
    }

    /// <summary>How little the light of a heap says, in units of its logarithm, when it is clipped or lies mostly below the saddle to a brighter neighbour.</summary>
    private static double Doubt(MarkShape s) => (2.5 * Math.Max(0, (s.Blob.Saddle / s.Blob.Peak) - 0.2)) + (0.6 * s.Clipped);

    private static double Clutter(List<MarkShape> side, MarkShape? edge, MarkShape? micro, MarkShape? primary, EdgeRow row, double brightest, Point2 zeroMm, double distanceMm)
    {
        double cost = 0;
        foreach (MarkShape s in side)
        {
            if (s == edge || s == micro || s == primary || s.RoughDeg < InnerDeg)
                continue;
            double x = s.CentreXMm - zeroMm.X;
            double off = (s.CentreYMm - zeroMm.Y - row.YMm(x, distanceMm)) / Math.Sqrt(2 + Math.Pow(0.4 * s.AlongSdMm, 2) + Math.Pow(0.05 * x, 2));
            double onRow = Math.Exp(-0.17 * Math.Min(off * off, 100));
            double visible = Math.Clamp((s.SignalToNoise - 8) / 10, 0, 1);
            double relative = edge is null ? 1 : s.Flux / edge.Flux;
            bool beyond = edge is not null && s.OutMm > edge.OutMm;
            double bright = Math.Clamp((beyond ? 6 : 4) + (1.5 * Math.Log(relative + 1e-6)), 0, 9);
            cost -= visible * ((onRow * bright) + 0.3);
        }

        if (primary is not null)
            cost += Tail(Math.Max(0, primary.RoughDeg - SteepestPrimaryDeg - 1) / 2.5);
        return cost;
    }

    /// <summary>Log-likelihood of a standardised misfit with a heavy tail (Student, four degrees of freedom).</summary>
    private static double Tail(double t) => -2.5 * Math.Log(1 + (t * t / 4));
}
