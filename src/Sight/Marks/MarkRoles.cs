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
    private const double SteepestPrimaryDeg = 5.2;

    /// <summary>The two sides' micro-bevels stand above their edges by the same, to about this. Chosen.</summary>
    private const double StepLikenessDeg = 1.0;

    /// <summary>Primaries differ by twice the roll and little more: a spread of this. Chosen.</summary>
    private const double PrimaryLikenessDeg = 3.4;

    /// <summary>A primary throws most of the light; less than this part of the edge's is a splinter. Chosen.</summary>
    private const double LeastPrimary = 0.15;

    /// <summary>Marks wider across than this, in degrees of bevel, are glare: a convex facet's range and its roughness stay below. Chosen.</summary>
    internal const double WidestDeg = 2.0;

    /// <summary>A side alone, roll and zero in, hardly reads flatter. Chosen.</summary>
    private const double FlattestAloneDeg = 5.5;

    /// <summary>Odds that a side's mark is drowned or missed by the beam. Chosen.</summary>
    private const double LeastAbsent = 0.015;

    /// <summary>An edge mark with less than this part of the brightest mark's light is hardly ever one. Chosen.</summary>
    private const double LeastShare = 0.0015;

    /// <summary>Taller marks come from a line beam, whose own middle need not lie on the reading row.</summary>
    private const double TallMm = 4.5;

    /// <summary>Edge marks closer than this give the same reading. Chosen.</summary>
    private const double SameDeg = 0.4;

    private const double SameArcRad = 0.02;

    private const int MostPerSide = 5;

    /// <summary>Odds of a micro-bevel of which one side alone is found, and the part of them left where the other side's should be seen and is not. Chosen.</summary>
    private const double MicroAlone = 0.12;

    private const double UnexplainedMicro = 0.06;

    /// <summary>Less light than this part of what the other side's leads to expect is none. Chosen.</summary>
    private const double LeastOfMicro = 0.12;

    /// <summary>Where the other micro-bevel is sought when its step is not known, degrees above the edge, and its usual height as a part of the edge's. Chosen.</summary>
    private const double LeastStepDeg = 2.5;

    private const double MostStepDeg = 7.5;

    private const double UsualMicro = 0.3;

    /// <summary>Odds that one side's primary sends no light while the other's does. Chosen.</summary>
    private const double LonePrimary = 0.3;

    /// <summary>Odds that an edge's mark that lies within a brighter one's light does not stand out from it. Chosen.</summary>
    private const double Swallowed = 0.25;

    public static MarkChoice Choose(IReadOnlyList<MarkShape> shapes, Point2 zeroMm, double distanceMm, (double Value, double U) y0, SetUpPriors priors, SheetView view)
    {
        var left = Candidates(shapes, Side.Left, zeroMm, distanceMm);
        var right = Candidates(shapes, Side.Right, zeroMm, distanceMm);
        var inner = shapes.Where(s => s.RoughDeg < InnerDeg + 2.5 && Math.Abs(s.CentreYMm - zeroMm.Y) < 8 && s.SignalToNoise > 12).ToList();
        double brightest = shapes.Count == 0 ? 0 : shapes.Max(s => s.Flux);
        double beamMm = BeamHeight(inner);
        var all = new List<MarkHypothesis>();
        foreach ((MarkShape? el, MarkShape? ml) in SideWays(left))
        {
            foreach ((MarkShape? er, MarkShape? mr) in SideWays(right))
                all.Add(Weigh(el, ml, er, mr, left, right, inner, brightest, beamMm, zeroMm, distanceMm, y0, priors, view));
        }

        MarkHypothesis best = all.MaxBy(h => h.Score)!;
        MarkHypothesis? rival = all.Where(h => !SameEdges(h, best)).MaxBy(h => h.Score);
        double total = all.Sum(h => Math.Exp(h.Score - best.Score));
        double same = all.Where(h => SameEdges(h, best)).Sum(h => Math.Exp(h.Score - best.Score));
        return new(best, rival, same / total);
    }

    /// <summary>Alike where both sides' edges are the same marks, or pieces of the same arc.</summary>
    private static bool SameEdges(MarkHypothesis a, MarkHypothesis b) =>
        Same(a.EdgeLeft, b.EdgeLeft) && Same(a.EdgeRight, b.EdgeRight) && a.MissingLeft == b.MissingLeft && a.MissingRight == b.MissingRight;

    private static bool Same(MarkShape? a, MarkShape? b) =>
        a == b || (a is not null && b is not null && Math.Abs(a.RoughDeg - b.RoughDeg) < SameDeg && a.Side == b.Side);

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
            yield return (null, side[e]);
            for (int m = e + 1; m < side.Count; m++)
                yield return (side[e], side[m]);
        }
    }

    private static MarkHypothesis Weigh(
        MarkShape? el, MarkShape? ml, MarkShape? er, MarkShape? mr, List<MarkShape> left, List<MarkShape> right, List<MarkShape> inner,
        double brightest, double beamMm, Point2 zeroMm, double distanceMm, (double Value, double U) y0, SetUpPriors priors, SheetView view)
    {
        MarkShape? pl = Primary(left, inner, Side.Left, el, zeroMm.Y);
        MarkShape? pr = Primary(right, inner, Side.Right, er, zeroMm.Y);
        double micros = (ml, mr) switch
        {
            (null, null) => Math.Log(0.6),
            (not null, not null) => Math.Log(0.33),
            (not null, null) => OneMicro(el, ml, er, view),
            _ => OneMicro(er, mr!, el, view),
        };
        (double rollDeg, double spreadDeg) = Roll(pl, pr);
        double half = StandClear(pl) && StandClear(pr) ? rollDeg / 2 : 0;
        double edges = EdgePrior(el, Math.Max(0, half), brightest, distanceMm) + EdgePrior(er, Math.Max(0, -half), brightest, distanceMm) + TooWide(ml, distanceMm) + TooWide(mr, distanceMm);
        double steps = MicroLight(el, ml) + MicroLight(er, mr) + Steps(el is null ? null : ml?.RoughDeg - el.RoughDeg, er is null ? null : mr?.RoughDeg - er.RoughDeg);
        double likeness = Primaries(pl, pr) + LonePrimaryOf(Side.Left, pl, pr, inner, view) + LonePrimaryOf(Side.Right, pr, pl, inner, view);
        (MissingMark missingLeft, MissingMark missingRight) = (MissingMark.NotThere, MissingMark.NotThere);
        if (el is not null && er is not null)
        {
            likeness += Tail((er.RoughDeg - el.RoughDeg - rollDeg) / spreadDeg) + Tail(Math.Log(er.Flux / el.Flux) / (1.2 + Doubt(er) + Doubt(el)));
            likeness += Math.Log(NotTooFlat((el.RoughDeg + er.RoughDeg) / 2));
        }
        else
        {
            // What is missing may be hidden behind the blade, lie off the sheet, or be drowned or not there at all.
            if (el is null)
                likeness += Absent(Side.Left, ml, pl, pr, er?.RoughDeg, er is null ? null : er.RoughDeg - rollDeg, spreadDeg, er is not null && mr is not null ? mr.RoughDeg - er.RoughDeg : null, er, view, out missingLeft);
            if (er is null)
                likeness += Absent(Side.Right, mr, pr, pl, el?.RoughDeg, el is null ? null : el.RoughDeg + rollDeg, spreadDeg, el is not null && ml is not null ? ml.RoughDeg - el.RoughDeg : null, el, view, out missingRight);
        }

        var marks = new List<(double, double, double)>();
        double innermost = inner.Count == 0 ? 0 : inner.Max(s => s.Flux);
        foreach (MarkShape? s in new[] { el, ml, er, mr })
            Add(marks, s, zeroMm, beamMm);
        foreach (MarkShape s in inner)
        {
            if (s != el && s != er && Math.Abs(s.CentreYMm - zeroMm.Y) < 5 && s.Flux > 0.05 * innermost)
                marks.Add((s.CentreXMm - zeroMm.X, s.CentreYMm - zeroMm.Y, Math.Max(1.5, 0.3 * Math.Max(s.AlongSdMm, beamMm)) * (s.Blob.Saddle > 0.3 * s.Blob.Peak ? 2 : 1)));
        }

        EdgeRow row = EdgeRow.Fit(marks, distanceMm, y0, priors);
        double rows = -3 * Math.Log(1 + (row.Misfit / 6));
        double clutterLeft = Clutter(left, el, ml, pl, er, row, brightest, beamMm, zeroMm, distanceMm);
        double clutterRight = Clutter(right, er, mr, pr, el, row, brightest, beamMm, zeroMm, distanceMm);
        return new()
        {
            EdgeLeft = el,
            EdgeRight = er,
            MicroLeft = ml,
            MicroRight = mr,
            PrimaryLeft = pl,
            PrimaryRight = pr,
            MissingLeft = missingLeft,
            MissingRight = missingRight,
            Row = row,
            Score = micros + edges + steps + likeness + rows + clutterLeft + clutterRight,
        };
    }

    /// <summary>
    /// Log-likelihood of a side without an edge mark: it is drowned or missed by the beam, or it lies behind the blade or beyond the paper, where
    /// the other side's edge and the primaries say how likely it is to lie there.
    /// </summary>
    private static double Absent(Side side, MarkShape? micro, MarkShape? primary, MarkShape? otherPrimary, double? otherDeg, double? expectedDeg, double spreadDeg, double? step, MarkShape? other, SheetView view, out MissingMark missing)
    {
        const double grid = 0.25;
        double behind = 0;
        double beyond = 0;
        double within = 0;
        for (double deg = 5; deg < 34; deg += grid)
        {
            double p = expectedDeg is { } e ? Math.Exp(Tail((deg - e) / spreadDeg)) / (2.67 * spreadDeg) : Math.Exp(Tail((deg - 15) / 5)) / (2.67 * 5);
            if (otherDeg is { } o)
                p *= NotTooFlat((deg + o) / 2);
            if (micro is not null)
                p *= micro.RoughDeg < deg + 1 ? 0 : Math.Exp(step is { } s ? Tail((micro.RoughDeg - deg - s) / StepLikenessDeg) : Tail((micro.RoughDeg - deg - 5.0) / 2.2));
            if (view.IsHidden(side, deg))
                behind += p * grid;
            else if (deg > view.RimDeg(side))
                beyond += p * grid;
            else if (other is not null && deg < InnerDeg + 6)
                within += Swallowed * p * grid * Math.Min(1, view.OnRow(side, deg) / (0.5 * other.Blob.Peak));
        }

        // Where the primary is lit, the beam meets the bevel before it.
        double gone = LeastAbsent;
        if (primary is not null && otherPrimary is not null && primary.Flux > 0.3 * otherPrimary.Flux)
            gone *= 0.4;
        if (micro is not null)
            gone *= 0.1;
        if (otherDeg is { } alone)
            gone *= 1 / (1 + Math.Exp(-(alone - FlattestAloneDeg) / 0.6));
        missing = behind > Math.Max(within, beyond + gone) ? MissingMark.Hidden : within > beyond + gone ? MissingMark.Swallowed : MissingMark.NotThere;
        return Math.Log(behind + beyond + within + gone);
    }

    /// <summary>
    /// How well the middle of a mark along the edge tells the row, mm. A line beam's marks are as tall as the beam, whatever part of one stands out, and
    /// a mark that leans on a brighter one keeps only the end that stands clear of it.
    /// </summary>
    internal static double AlongUMm(MarkShape s, double beamMm = 0)
    {
        double tall = Math.Max(s.AlongSdMm, beamMm);
        double merged = Math.Max(0, (s.Blob.Saddle / s.Blob.Peak) - 0.3);
        return Math.Sqrt(0.16 + Math.Pow(0.15 * s.AlongSdMm, 2) + Math.Pow(tall > TallMm ? 0.25 * tall : 0, 2)) * (1 + s.Clipped) * (s.AtRim ? 3 : 1) * (1 + (2 * merged));
    }

    /// <summary>Height of a line beam, as a standard deviation, from the marks nearest zero; 0 for a dot.</summary>
    private static double BeamHeight(List<MarkShape> inner)
    {
        double most = inner.Count == 0 ? 0 : inner.Max(s => s.Flux);
        List<MarkShape> bright = [.. inner.Where(s => s.Flux > 0.05 * most)];
        if (bright.Count == 0 || bright.Min(s => s.AlongSdMm) < TallMm)
            return 0;
        return bright.Sum(s => s.Flux * s.AlongSdMm) / bright.Sum(s => s.Flux);
    }

    /// <summary>
    /// Log-probability of a micro-bevel on one side alone. Whoever grinds one grinds both sides: where the other side's would lie in the clear and no light is
    /// there, that tells against it; where it would lie behind the blade, off the paper, too faint, or within another mark's light, it does not.
    /// </summary>
    private static double OneMicro(MarkShape? edge, MarkShape micro, MarkShape? otherEdge, SheetView view)
    {
        if (otherEdge is null)
            return Math.Log(MicroAlone);
        double fromDeg = otherEdge.RoughDeg + (edge is null ? LeastStepDeg : micro.RoughDeg - edge.RoughDeg - StepLikenessDeg);
        double toDeg = otherEdge.RoughDeg + (edge is null ? MostStepDeg : micro.RoughDeg - edge.RoughDeg + StepLikenessDeg);
        double expectedPeak = otherEdge.Blob.Peak * (edge is null ? UsualMicro : micro.Blob.Peak / edge.Blob.Peak);
        Side side = micro.Side == Side.Left ? Side.Right : Side.Left;
        double seen = view.Brightest(side, fromDeg, toDeg) / Math.Max(expectedPeak, 1e-9);
        double explained = double.IsInfinity(seen) ? 1 : seen * seen / ((seen * seen) + (LeastOfMicro * LeastOfMicro));
        return Math.Log(MicroAlone * (UnexplainedMicro + ((1 - UnexplainedMicro) * explained)));
    }

    private static void Add(List<(double, double, double)> marks, MarkShape? s, Point2 zeroMm, double beamMm)
    {
        if (s is not null)
            marks.Add((s.CentreXMm - zeroMm.X, s.CentreYMm - zeroMm.Y, AlongUMm(s, beamMm)));
    }

    /// <summary>The brightest inner mark inside the edge that is not the bare beam's place.</summary>
    private static MarkShape? Primary(List<MarkShape> side, List<MarkShape> inner, Side on, MarkShape? edge, double zeroY) =>
        inner.Concat(side).Where(s => s.Side == on && s != edge && s.RoughDeg is > 0.4 and < 10 && Math.Abs(s.CentreYMm - zeroY) < 6 && (edge is null || (s.OutMm < edge.OutMm - 2 && s.Flux > LeastPrimary * edge.Flux)))
            .MaxBy(s => s.Flux);

    /// <summary>The mean of both sides is free of roll and zero: a bevel so flat is hardly met.</summary>
    private static double NotTooFlat(double meanDeg) => 1 / (1 + Math.Exp(-(meanDeg - FlattestDeg) / 0.5));

    /// <summary>Glare and streaks are wider across than any facet's own mark.</summary>
    private static double TooWide(MarkShape? mark, double distanceMm) =>
        mark is null ? 0 : 2 * Tail(Math.Max(0, mark.AcrossDeg(distanceMm) - WidestDeg) / 0.3);

    private static double EdgePrior(MarkShape? edge, double rollDeg, double brightest, double distanceMm)
    {
        if (edge is null)
            return 0;
        double low = 1 / (1 + Math.Exp(-(edge.RoughDeg + rollDeg - (FlattestDeg - 3)) / 0.5));
        double high = 1 / (1 + Math.Exp((edge.RoughDeg - 30) / 1.5));
        double faint = 1 / (1 + Math.Exp(-(edge.SignalToNoise - 13) / 1.3));
        double share = 1 / (1 + Math.Exp(-Math.Log(Math.Max(edge.Flux, 1e-9) / Math.Max(brightest, 1e-9) / LeastShare) / 0.5));
        return Math.Log((low * high * faint * share) + 1e-9) + TooWide(edge, distanceMm);
    }

    /// <summary>
    /// How far the right edge's mark lies farther out than the left's, and with what spread: by the bevels' own difference and twice the roll.
    /// Where both primaries stand clear of the bare beam they show the roll, and the rest must be small.
    /// </summary>
    private static (double Deg, double SpreadDeg) Roll(MarkShape? pl, MarkShape? pr) =>
        (StandClear(pl), StandClear(pr)) switch
        {
            (true, true) => (pr!.RoughDeg - pl!.RoughDeg, 2.4),
            (true, false) => (-OneSided(pl!), 3.1),
            (false, true) => (OneSided(pr!), 3.1),
            _ => (0, 3.6),
        };

    /// <summary>One primary far out while the other is merged with the bare beam: most of it is roll.</summary>
    private static double OneSided(MarkShape primary) => 0.6 * Math.Max(0, primary.RoughDeg - 1);

    private static bool StandClear(MarkShape? primary) => primary is { RoughDeg: > 1.2 } p && p.Blob.Saddle < 0.5 * p.Blob.Peak && !IsCut(p);

    /// <summary>Partly behind the blade or off the sheet: where the rest of it shows is not where it is.</summary>
    private static bool IsCut(MarkShape mark) => 2 * mark.Ridge.Count(p => p.Cut != RidgeCut.None) > mark.Ridge.Count;

    /// <summary>Both sides' primaries are alike but for the roll, and flat.</summary>
    private static double Primaries(MarkShape? pl, MarkShape? pr)
    {
        if (pl is null || pr is null || IsCut(pl) || IsCut(pr))
            return 0;
        double alike = StandClear(pl) && StandClear(pr) ? Tail((pr.RoughDeg - pl.RoughDeg) / PrimaryLikenessDeg) : 0;
        return alike + Tail(Math.Max(0, ((pl.RoughDeg + pr.RoughDeg) / 2) - SteepestPrimaryDeg) / 0.6);
    }

    /// <summary>
    /// Both primaries lie behind the edge and are lit together: where one side's sends light, the other's hardly sends none, unless it lies behind the blade or
    /// within the light about zero.
    /// </summary>
    private static double LonePrimaryOf(Side side, MarkShape? primary, MarkShape? other, List<MarkShape> inner, SheetView view)
    {
        if (primary is not null || other is null || IsCut(other))
            return 0;
        bool within = inner.Any(s => s != other && s.RoughDeg < 2 && s.Flux > 0.02 * other.Flux) || other.RoughDeg < 1.5;
        bool hidden = view.IsHidden(side, 1) || view.IsHidden(side, 2.5) || view.IsHidden(side, 4);
        return within || hidden ? 0 : Math.Log(LonePrimary);
    }

    /// <summary>A micro-bevel is narrower than its edge and throws less light; clipped marks and marks on a neighbour's flank say little of it.</summary>
    private static double MicroLight(MarkShape? edge, MarkShape? micro)
    {
        if (edge is null || micro is null)
            return 0;
        double ratio = Math.Log(micro.Flux / edge.Flux);
        return Tail((ratio + 1.2) / ((ratio > -1.2 ? 0.7 : 1.4) + Doubt(edge) + Doubt(micro)));
    }

    /// <summary>How far micro-bevels stand above their edges: by some degrees, and by the same on both sides, who ground them in one go.</summary>
    private static double Steps(double? left, double? right)
    {
        if ((left ?? right) is not { } one)
            return 0;
        double step = left is { } l && right is { } r ? (l + r) / 2 : one;
        double alike = left is null || right is null ? 0 : Tail((left.Value - right.Value) / StepLikenessDeg);
        return Tail((step - 5.0) / 2.2) + alike - (Math.Min(left ?? one, right ?? one) < 1.2 ? 4 : 0);
    }

    /// <summary>How little the light of a heap says, in units of its logarithm, when it is clipped or lies mostly below the saddle to a brighter neighbour.</summary>
    private static double Doubt(MarkShape s) => (2.5 * Math.Max(0, (s.Blob.Saddle / s.Blob.Peak) - 0.2)) + (0.6 * s.Clipped);

    private static double Clutter(List<MarkShape> side, MarkShape? edge, MarkShape? micro, MarkShape? primary, MarkShape? other, EdgeRow row, double brightest, double beamMm, Point2 zeroMm, double distanceMm)
    {
        double cost = 0;
        foreach (MarkShape s in side)
        {
            if (s == edge || s == micro || s == primary || s.RoughDeg < InnerDeg)
                continue;
            double x = s.CentreXMm - zeroMm.X;
            double off = (s.CentreYMm - zeroMm.Y - row.YMm(x, distanceMm)) / Math.Sqrt(2 + Math.Pow(0.4 * Math.Max(s.AlongSdMm, beamMm), 2) + Math.Pow(0.05 * x, 2));
            double onRow = Math.Exp(-0.17 * Math.Min(off * off, 100));
            double visible = Math.Clamp((s.SignalToNoise - 8) / 10, 0, 1);
            double relative = edge is not null ? s.Flux / edge.Flux : other is not null ? s.Flux / other.Flux : 1;
            bool beyond = edge is not null && s.OutMm > edge.OutMm;
            double bright = Math.Clamp((beyond ? 6 : 4) + (1.5 * Math.Log(relative + 1e-6)), 0, 9);
            double own = SameArc(s, edge) || SameArc(s, micro) ? 0.15 : 1;
            cost -= own * visible * ((onRow * bright) + 0.3);
        }

        if (primary is not null)
            cost += Tail(Math.Max(0, primary.RoughDeg - SteepestPrimaryDeg - 1.5) / 1.2);
        return cost;
    }

    /// <summary>Another piece of a mark's own arc, cut off by a nick or by noise: it lies at the same tilt.</summary>
    private static bool SameArc(MarkShape s, MarkShape? mark) =>
        mark is not null && Math.Abs(s.FacetRad - mark.FacetRad) < SameArcRad && s.Flux < mark.Flux;

    /// <summary>Log-likelihood of a standardised misfit with a heavy tail (Student, four degrees of freedom).</summary>
    private static double Tail(double t) => -2.5 * Math.Log(1 + (t * t / 4));
}
