using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// How the thing on the mat lies: its long axis, its width along it, the handle or tang at one end, and so the heel's end. In a frame of its own:
/// s along the axis, growing from heel end to tip end, t across it.
/// </summary>
internal sealed partial class BladeLie
{
    /// <summary>How far apart its stations are.</summary>
    public const double StationMm = 0.5;

    /// <summary>The heel's end is at least this much wider than the tip's. Chosen: a cleaver's ends differ by less.</summary>
    private const double LeastTaper = 1.3;

    /// <summary>A handle broader than the blade begins with a step outward of this much within so far, mm; an edge's own bow has none, an outline that jumps to a shadow's rim a smaller one. Chosen: 2.0 on a handle, 0.9 on a rim.</summary>
    private const double LeastReachStepMm = 1.3, StepOverMm = 4;

    private BladeLie(Point2 origin, Vector2 axis, double[] low, double[] high, double endMm)
    {
        (Origin, Axis, Across, Low, High, EndMm) = (origin, axis, new(-axis.Y, axis.X), low, high, endMm);
    }

    public Point2 Origin { get; }

    /// <summary>Unit vector from heel end to tip end.</summary>
    public Vector2 Axis { get; }

    public Vector2 Across { get; }

    /// <summary>Least t of the outline at each station.</summary>
    public double[] Low { get; }

    /// <summary>Largest t.</summary>
    public double[] High { get; }

    /// <summary>Length of the whole thing along the axis.</summary>
    public double EndMm { get; }

    /// <summary>Where the blade begins, s; 0 without handle.</summary>
    public double BladeFromMm { get; private init; }

    /// <summary>How far the outline falls back behind the heel on the low and on the high side, mm; both 0 without handle.</summary>
    public (double Low, double High) DropMm { get; private init; }

    public bool HasHandle => BladeFromMm > 0;

    /// <summary>Width at the heel's end over that at the tip's, a little inside both.</summary>
    public double Taper { get; private init; }

    /// <summary>Whether it can be told which end is the heel's.</summary>
    public bool EndsKnown => HasHandle || Taper >= LeastTaper || Told;

    /// <summary>Whether a person told the heel's end.</summary>
    public bool Told { get; private init; }

    /// <summary>Width of the handle or tang in the middle of its stations; 0 without one.</summary>
    public double HandleWidthMm
    {
        get
        {
            double[] width = [.. Enumerable.Range(0, Math.Min(Low.Length, (int)(BladeFromMm / StationMm))).Select(i => High[i] - Low[i]).Order()];
            return width.Length == 0 ? 0 : width[width.Length / 2];
        }
    }

    /// <summary>Whether handle and blade were told by the neck between them.</summary>
    public bool Necked { get; private init; }

    /// <summary>Whether the handle was told by its tone alone: the outline shows no step.</summary>
    public bool ByTone { get; private init; }

    /// <summary>Largest width of the blade.</summary>
    public double WidthMm { get; private init; }

    /// <summary>
    /// How far something round at an end reaches out over the blade's own sides carried on, mm: nothing for a blade, which narrows or keeps its
    /// width there; more where a thing lies over or against the end.
    /// </summary>
    public double Overreach(bool atTip) => Reach(atTip) is { Round: true } round ? round.OverMm : 0;

    private (double OverMm, double ToMm, bool Round, double StepMm) Reach(bool atTip)
    {
        int first = (int)(BladeFromMm / StationMm);
        int n = Low.Length - first;
        if (n < 40)
            return (0, 0, false, 0);
        double most = 0;
        double step = 0;
        int inner = int.MaxValue;
        int[] zone = atTip ? [.. Enumerable.Range(first + (int)(0.68 * n), (int)(0.32 * n))] : [.. Near(first, n)];
        foreach (double[] side in new[] { High, Low })
        {
            double sign = ReferenceEquals(side, High) ? 1 : -1;
            (double a, double b) = atTip ? (0.42, 0.66) : (0.36, 0.6);
            if (!atTip && !HasHandle)
                (a, b) = (0.55, 0.75);
            int[] middle = [.. Enumerable.Range(first + (int)(a * n), (int)((b - a) * n))];
            RobustPolynomial line = RobustPolynomial.Fit([.. middle.Select(i => i * StationMm)], [.. middle.Select(i => sign * side[i])], 1, 0.3);
            double Over(int i) => (sign * side[i]) - line.At(i * StationMm);
            int wide = zone.Count(i => Over(i) > 1);
            if (wide * StationMm <= 6)
                continue;
            most = Math.Max(most, zone.Max(Over));
            int from = Enumerable.Range(first, (int)(0.55 * n)).LastOrDefault(i => Over(i) > 1);
            inner = Math.Min(inner, from);
            int about = (int)(StepOverMm / 2 / StationMm);
            step = Math.Max(step, Over(Math.Max(0, from - about)) - Over(Math.Min(Low.Length - 1, from + about)));
        }

        // Round: narrow at its very end against its widest; a handle's end is blunt.
        double widest = zone.Length == 0 ? 1 : zone.Max(Width);
        int atEnd = atTip ? Low.Length - 1 - (int)(3 / StationMm) : (int)(3 / StationMm);
        bool round = HasHandle && !atTip ? true : Width(atEnd) < 0.64 * widest;
        return (most, most > 0 ? inner * StationMm : 0, round, step);
    }

    // Behind a slanting heel the handle is still beside the blade's first stations.
    private IEnumerable<int> Near(int first, int n)
    {
        int from = HasHandle ? (int)(((0.15 * WidthMm) + 4) / StationMm) : 0;
        return Enumerable.Range(first + from, Math.Max(0, (int)(0.34 * n) - from));
    }

    /// <summary>Where the tip lies between the straight lines that both sides leave the heel's end on: 0 on the low side's, 1 on the high side's.</summary>
    public double TipShare { get; private init; } = 0.5;

    /// <summary>How far from the heel's end each side departs from its straight line, as a share of the blade.</summary>
    public (double Low, double High) Departs { get; private init; } = (0.5, 0.5);

    private BladeLie WithCurves()
    {
        int first = (int)(BladeFromMm / StationMm);
        int n = Low.Length - first;
        if (n < 40)
            return this;
        RobustPolynomial[] lines = new RobustPolynomial[2];
        double[] departs = [1, 1];
        for (int k = 0; k < 2; k++)
        {
            double[] side = k == 0 ? Low : High;
            double sign = k == 0 ? 1 : -1;
            int[] start = [.. Enumerable.Range(first + (int)(0.1 * n), (int)(0.25 * n))];
            RobustPolynomial line = lines[k] = RobustPolynomial.Fit([.. start.Select(i => i * StationMm)], [.. start.Select(i => side[i])], 1, 0.3);
            // For good: a chip, or steel lost to the paper, comes back to the line.
            int at = 1 + Enumerable.Range(first + (int)(0.2 * n), (int)(0.8 * n)).LastOrDefault(i => sign * (side[i] - line.At(i * StationMm)) <= (0.03 * WidthMm) + 0.3, first + (int)(0.2 * n));
            departs[k] = (double)(at - first) / n;
        }

        int end = Low.Length - 2;
        double s = end * StationMm;
        double span = lines[1].At(s) - lines[0].At(s);
        double share = span < 1 ? 0.5 : (((Low[end] + High[end]) / 2) - lines[0].At(s)) / span;
        return new(Origin, Axis, Low, High, EndMm) { BladeFromMm = BladeFromMm, DropMm = DropMm, Taper = Taper, Told = Told, Necked = Necked, ByTone = ByTone, WidthMm = WidthMm, TipShare = share, Departs = (departs[0], departs[1]) };
    }

    /// <summary>Least and largest t of the outline at a station.</summary>
    public (double Low, double High) At(double s)
    {
        int i = Math.Clamp((int)(s / StationMm), 0, Low.Length - 1);
        return (Low[i], High[i]);
    }

    public (double S, double T) Of(Point2 p) => ((p - Origin).Dot(Axis), (p - Origin).Dot(Across));

    /// <summary>Of a closed outline; the end with the handle, else the wider one, is the heel's.</summary>
    /// <param name="outline">The outline.</param>
    /// <param name="heelToward">About where the heel's end lies from the tip's, where a person told it; then only that end is looked at for a handle.</param>
    /// <param name="lightAt">The photo's light at a place on the mat, where there is a photo.</param>
    /// <param name="onFlank">Whether the blade was told to lie on its flank: a handle as wide as the blade would lift it.</param>
    public static BladeLie Of(Point2[] outline, Vector2? heelToward = null, Func<Point2, double>? lightAt = null, bool onFlank = false)
    {
        Vector2 axis = LongAxis(outline);
        if (heelToward is { } told)
            axis = axis.Dot(told) > 0 ? axis * -1 : axis;
        BladeLie one = Profile(outline, axis);
        BladeLie[] ends = heelToward is null ? [one, Profile(outline, axis * -1)] : [one];
        (BladeLie end, (double At, double Low, double High, double Score) step) = ends.Select(e => (e, e.Handle())).MaxBy(e => e.Item2.Score);
        if (ByNeck(ends, step.Score > 0 ? (end, step.At, step.Score) : null) is { } necked)
            return necked;
        if (step.Score > 0)
            return end.With(step.At, (step.Low, step.High));

        // No step: a handle may be as wide as the blade, or wider, and then reaches out over the blade's sides.
        foreach (BladeLie fat in onFlank ? [] : ends)
        {
            if (fat.Reach(atTip: false) is { Round: false, OverMm: > 1.5, StepMm: > LeastReachStepMm } reach && reach.ToMm > ShortestGripMm && fat.Gripped(reach.ToMm) && fat.Slender(reach.ToMm))
                return fat.With(reach.ToMm, (0, 0));
        }

        foreach (BladeLie even in onFlank ? [] : ends)
        {
            if (lightAt is not null && even.GripByTone(lightAt) is { } grip)
                return even.With(grip, (0, 0), byTone: true);
        }

        if (heelToward is not null)
            return one.With(0, (0, 0), told: true);
        double taper = one.EndWidth() / Math.Max(0.1, ends[1].EndWidth());
        return ends[taper >= 1 ? 0 : 1].With(0, (0, 0), Math.Max(taper, 1 / Math.Max(0.01, taper)));
    }

    private BladeLie With(double fromMm, (double Low, double High) dropMm, double taper = 1, bool told = false, bool necked = false, bool byTone = false) =>
        new BladeLie(Origin, Axis, Low, High, EndMm) { BladeFromMm = fromMm, DropMm = dropMm, Taper = taper, Told = told, Necked = necked, ByTone = byTone, WidthMm = Widest(fromMm) }.WithCurves();

    private double Width(int i) => High[i] - Low[i];

    private double Widest(double from)
    {
        double[] w = [.. Enumerable.Range(0, Low.Length).Where(i => (i + 0.5) * StationMm > from).Select(Width).Order()];
        return w.Length == 0 ? 0 : w[(int)(0.98 * (w.Length - 1))];
    }

    // A little inside the end: further than a heel's slant, nearer than a blunt tip's full width.
    private double EndWidth()
    {
        double inside = (0.1 * Widest(0)) + 2;
        return Width(Math.Clamp((int)(inside / StationMm), 0, Low.Length - 1));
    }

    private static double Quantile(double[] v, int from, int to, double q)
    {
        from = Math.Clamp(from, 0, v.Length - 1);
        to = Math.Clamp(to, from, v.Length - 1);
        double[] part = v[from..(to + 1)];
        Array.Sort(part);
        return part[(int)(q * (part.Length - 1))];
    }

    private static BladeLie Profile(Point2[] outline, Vector2 axis)
    {
        Vector2 across = new(-axis.Y, axis.X);
        Point2 zero = new(0, 0);
        double first = outline.Min(p => (p - zero).Dot(axis));
        double last = outline.Max(p => (p - zero).Dot(axis));
        Point2 origin = zero + (axis * first);
        int n = Math.Max(4, (int)((last - first) / StationMm));
        double[] low = new double[n];
        double[] high = new double[n];
        Array.Fill(low, double.MaxValue);
        Array.Fill(high, double.MinValue);
        for (int k = 0; k < outline.Length; k++)
        {
            Vector2 a = outline[k] - origin;
            Vector2 b = outline[(k + 1) % outline.Length] - origin;
            (double sa, double sb) = (a.Dot(axis), b.Dot(axis));
            (double ta, double tb) = (a.Dot(across), b.Dot(across));
            int from = (int)Math.Ceiling((Math.Min(sa, sb) / StationMm) - 0.5);
            int to = (int)Math.Floor((Math.Max(sa, sb) / StationMm) - 0.5);
            for (int i = Math.Max(0, from); i <= Math.Min(n - 1, to); i++)
            {
                double s = (i + 0.5) * StationMm;
                double t = Math.Abs(sb - sa) < 1e-9 ? ta : ta + ((tb - ta) * (s - sa) / (sb - sa));
                low[i] = Math.Min(low[i], t);
                high[i] = Math.Max(high[i], t);
            }
        }

        for (int i = 0; i < n; i++)
        {
            if (low[i] == double.MaxValue)
                (low[i], high[i]) = i > 0 ? (low[i - 1], high[i - 1]) : (0, 0);
        }

        return new(origin, axis, low, high, last - first);
    }

    /// <summary>Direction of the narrowest strip that holds the outline: the long axis, whatever bends the ends.</summary>
    private static Vector2 LongAxis(Point2[] p)
    {
        double best = double.PositiveInfinity;
        Vector2 axis = new(1, 0);
        for (double deg = 0; deg < 180; deg += 0.5)
        {
            (double s, double c) = Math.SinCos(double.DegreesToRadians(deg));
            double low = double.MaxValue;
            double high = double.MinValue;
            for (int i = 0; i < p.Length; i += 4)
            {
                double t = (-s * p[i].X) + (c * p[i].Y);
                (low, high) = (Math.Min(low, t), Math.Max(high, t));
            }

            if (high - low < best)
                (best, axis) = (high - low, new(c, s));
        }

        return axis;
    }
}
