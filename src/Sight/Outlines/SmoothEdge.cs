using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The edge as it would be without chips, in the chord's frame of a first guess: local parabolas with Tukey's weights, and where it ends:
/// at the heel and the tip the outline leaves it and does not come back.
/// </summary>
internal sealed class SmoothEdge
{
    /// <summary>Half the window of a local parabola, mm. Chosen: wider than a chip, narrow against a belly.</summary>
    private const double WindowMm = 9;

    /// <summary>A longer step behind the heel is taken for an edge whose bevel is as bright as the paper. Chosen from trials.</summary>
    private const double LongestRicassoMm = 12;

    /// <summary>An outline that goes out by this within a millimetre has jumped onto a shadow's rim, mm. Chosen.</summary>
    private const double StepOutMm = 0.7;

    private SmoothEdge(Point2 origin, Vector2 x, Vector2 outward, double[] along, double[] raw, double[] smooth, Point2 heel, Point2 tip)
    {
        (Origin, X, Outward, AlongMm, RawMm, SmoothMm, Heel, Tip) = (origin, x, outward, along, raw, smooth, heel, tip);
    }

    public Point2 Origin { get; }

    public Vector2 X { get; }

    public Vector2 Outward { get; }

    /// <summary>Stations along the guessed chord, growing from heel to tip.</summary>
    public double[] AlongMm { get; }

    /// <summary>Outline at the stations, outward.</summary>
    public double[] RawMm { get; }

    /// <summary>Smooth edge at the stations.</summary>
    public double[] SmoothMm { get; }

    public Point2 Heel { get; }

    public Point2 Tip { get; }

    public Point2 Place(double along, double outward) => Origin + (X * along) + (Outward * outward);

    /// <summary>The smooth edge as points from heel to tip.</summary>
    public IEnumerable<Point2> Points()
    {
        double from = (Heel - Origin).Dot(X);
        double to = (Tip - Origin).Dot(X);
        yield return Heel;
        for (int i = 0; i < AlongMm.Length; i++)
        {
            if (AlongMm[i] > from + 0.05 && AlongMm[i] < to - 0.05)
                yield return Place(AlongMm[i], SmoothMm[i]);
        }

        yield return Tip;
    }

    /// <summary>From the outline, points in order from well before the heel to well after the tip, with the indices of both corners.</summary>
    /// <param name="line">The outline.</param>
    /// <param name="heelAt">Index of the heel's corner.</param>
    /// <param name="tipAt">Index of the tip's corner.</param>
    /// <param name="cornered">Whether the heel stands out over a handle or ends the blade: then the edge begins at its corner.</param>
    public static SmoothEdge Of(IReadOnlyList<Point2> line, int heelAt, int tipAt, bool cornered = false)
    {
        Point2 origin = line[heelAt];
        Vector2 x = (line[tipAt] - origin).Normalized();
        Point2 inside = line[heelAt / 2];
        Vector2 outward = new(x.Y, -x.X);
        if ((inside - origin).Dot(outward) > 0 && (line[(tipAt + line.Count) / 2] - line[tipAt]).Dot(outward) > 0)
            outward *= -1;
        var along = new List<double>();
        var raw = new List<double>();
        double last = double.NegativeInfinity;
        for (int i = heelAt; i <= tipAt; i++)
        {
            Vector2 d = line[i] - origin;
            double s = d.Dot(x);
            if (s > last)
            {
                along.Add(s);
                raw.Add(d.Dot(outward));
                last = s;
            }
        }

        double[] a = [.. along];
        double[] r = [.. raw];
        int first = cornered ? 0 : HeelStep(a, r);
        (a, r) = (a[first..], r[first..]);
        double[] s2 = Loess(a, r);
        var edge = new SmoothEdge(origin, x, outward, a, r, s2, origin, line[tipAt]);
        Point2 heel = Corner(edge, line, heelAt, atTip: false, first > 4);
        Point2 tip = Corner(edge, line, tipAt, atTip: true, trimmed: false);
        return new(origin, x, outward, edge.AlongMm, edge.RawMm, s2, heel, tip);
    }

    private static double[] Loess(double[] x, double[] y)
    {
        int n = x.Length;
        bool[] chipped = Chipped(x, y);
        double[] smooth = new double[n];
        int stride = Math.Max(1, (int)Math.Round(1.0 * n / Math.Max(1, x[^1] - x[0]))); // a parabola each millimetre
        var knots = new List<int>();
        for (int i = 0; i < n; i += stride)
            knots.Add(i);
        if (knots[^1] != n - 1)
            knots.Add(n - 1);
        var fits = knots.Select(k => Local(x, y, chipped, x[k])).ToList();
        int at = 0;
        for (int i = 0; i < n; i++)
        {
            while (at < knots.Count - 2 && i > knots[at + 1])
                at++;
            int next = Math.Min(at + 1, knots.Count - 1);
            double t = knots[next] == knots[at] ? 0 : (double)(i - knots[at]) / (knots[next] - knots[at]);
            smooth[i] = ((1 - t) * fits[at].At(x[i])) + (t * fits[next].At(x[i]));
        }

        return smooth;
    }

    private static RobustPolynomial Local(double[] x, double[] y, bool[] chipped, double at)
    {
        // A window that keeps its width at the ends, shifted inward.
        double half = Math.Min(WindowMm, (x[^1] - x[0]) / 2);
        double middle = Math.Clamp(at, x[0] + half, x[^1] - half);
        int from = Array.FindIndex(x, v => v >= middle - half);
        int to = Array.FindLastIndex(x, v => v <= middle + half);
        double[] w = new double[to - from + 1];
        double reach = Math.Max(Math.Abs(at - (middle - half)), Math.Abs(middle + half - at)) + 0.1;
        for (int i = from; i <= to; i++)
        {
            double q = Math.Abs(x[i] - at) / reach;
            w[i - from] = (chipped[i] ? 1e-4 : 1) * Math.Pow(1 - (q * q * q), 3);
        }

        return RobustPolynomial.Fit(x.AsSpan(from, to - from + 1), y.AsSpan(from, to - from + 1), half < WindowMm ? 3 : 2, 0.06, w);
    }

    /// <summary>Stations that lie well inside a wide robust fit: chips, which the local parabolas must not follow.</summary>
    private static bool[] Chipped(double[] x, double[] y)
    {
        bool[] chipped = new bool[x.Length];
        const double half = 20;
        for (double middle = x[0]; middle < x[^1] + half; middle += half / 2)
        {
            double centre = Math.Clamp(middle, Math.Min(x[0] + half, (x[0] + x[^1]) / 2), Math.Max(x[^1] - half, (x[0] + x[^1]) / 2));
            int from = Array.FindIndex(x, v => v >= centre - half);
            int to = Array.FindLastIndex(x, v => v <= centre + half);
            RobustPolynomial fit = RobustPolynomial.Fit(x.AsSpan(from, to - from + 1), y.AsSpan(from, to - from + 1), 3, 0.08);
            for (int i = from; i <= to; i++)
            {
                if (Math.Abs(x[i] - middle) <= (half / 4) + 0.5 && y[i] - fit.At(x[i]) is < -0.22 or > 0.6)
                    chipped[i] = true;
            }
        }

        // A chip has two walls; what is left over at an end is the end's own shape, unless it steps out: then it is a shadow's rim.
        for (int end = 0; end < 2; end++)
        {
            if (StepsOut(x, y, chipped, end == 1))
                continue;
            for (int k = 0; k < x.Length && chipped[end == 0 ? k : x.Length - 1 - k]; k++)
                chipped[end == 0 ? k : x.Length - 1 - k] = false;
        }

        return chipped;
    }

    /// <summary>Whether the stations left out at an end begin with a step outward, half a millimetre within one.</summary>
    private static bool StepsOut(double[] x, double[] y, bool[] chipped, bool atTip)
    {
        int n = x.Length;
        int run = 0;
        while (run < n && chipped[atTip ? n - 1 - run : run])
            run++;
        if (run == 0 || run == n)
            return false;
        int inner = atTip ? n - 1 - run : run;
        int step = atTip ? 1 : -1;
        for (int i = inner; i >= 0 && i < n && Math.Abs(x[i] - x[inner]) < 3; i += step)
        {
            int j = i;
            while (j >= 0 && j < n && Math.Abs(x[j] - x[i]) < 1)
                j += step;
            if (j >= 0 && j < n && y[j] - y[i] > StepOutMm)
                return true;
        }

        return false;
    }

    /// <summary>
    /// Where a heel without a corner begins: the last station from which on, toward the handle, the outline stays a third of a millimetre inside
    /// the edge carried on (an unsharpened length before the handle). 0 where there is none.
    /// </summary>
    private static int HeelStep(double[] x, double[] y)
    {
        const double window = 18;
        double length = x[^1] - x[0];
        if (length < 2.2 * window)
            return 0;
        for (double s = x[0] + Math.Min(0.14 * length, LongestRicassoMm); s > x[0] + 3; s -= 1)
        {
            int at = Array.FindIndex(x, v => v >= s);
            int to = Array.FindLastIndex(x, v => v <= s + window);
            RobustPolynomial fit = RobustPolynomial.Fit(x.AsSpan(at, to - at + 1), y.AsSpan(at, to - at + 1), 1, 0.08);
            double[] before = [.. Enumerable.Range(0, at).Where(i => x[i] < s - 1 && x[i] > x[0] + 0.6).Select(i => y[i] - fit.At(x[i]))];
            double[] near = [.. Enumerable.Range(0, at).Where(i => x[i] < s - 1 && x[i] > s - 5 && x[i] > x[0] + 0.6).Select(i => y[i] - fit.At(x[i]))];
            if (near.Length < 10 || before.Length < 15)
                continue;
            Array.Sort(near);
            Array.Sort(before);
            double bend = Math.Abs(Bend(x, y, at, to)) * 25 / 2; // what curvature alone would take over 5 mm
            if (near[near.Length / 2] < -0.3 - bend && before[(int)(0.9 * before.Length)] < -0.22)
            {
                int i = at;
                while (i > 0 && y[i] - fit.At(x[i]) > -0.15)
                    i--;
                return i;
            }
        }

        return 0;
    }

    private static double Bend(double[] x, double[] y, int from, int to)
    {
        RobustPolynomial fit = RobustPolynomial.Fit(x.AsSpan(from, to - from + 1), y.AsSpan(from, to - from + 1), 2, 0.08);
        return (fit.Slope(x[to]) - fit.Slope(x[from])) / (x[to] - x[from]);
    }

    /// <summary>The same edge with its smooth line moved outward at each station.</summary>
    public SmoothEdge Moved(Func<double, double> outwardAt)
    {
        double[] moved = [.. SmoothMm.Select((v, i) => v + outwardAt(AlongMm[i]))];
        return new(Origin, X, Outward, AlongMm, RawMm, moved,
            Heel + (Outward * outwardAt(AlongMm[0])), Tip + (Outward * outwardAt(AlongMm[^1])));
    }

    /// <summary>Where the edge, carried on, meets the flank that follows it.</summary>
    private static Point2 Corner(SmoothEdge e, IReadOnlyList<Point2> line, int cornerAt, bool atTip, bool trimmed)
    {
        int n = e.AlongMm.Length;
        int end = atTip ? n - 1 : 0;
        Point2 fallback = e.Place(e.AlongMm[end], e.SmoothMm[end]);
        if (trimmed)
            return fallback;
        double spacing = line[1].DistanceTo(line[0]);
        int from = (int)(0.5 / spacing);
        int to = (int)(3.0 / spacing);
        var flank = new List<Point2>();
        for (int k = from; k <= to; k++)
        {
            int i = cornerAt + (atTip ? k : -k);
            if (i >= 0 && i < line.Count)
                flank.Add(line[i]);
        }

        if (flank.Count < 6)
            return fallback;
        Vector2 t = (flank[^1] - flank[0]).Normalized();
        Vector2 across = new(-t.Y, t.X);
        double[] s = [.. flank.Select(p => (p - flank[0]).Dot(t))];
        double[] h = [.. flank.Select(p => (p - flank[0]).Dot(across))];
        RobustPolynomial fit = RobustPolynomial.Fit(s, h, 1, 0.08);

        // The edge near its end, a line too: the last 4 mm but for the corner's own rounding.
        double at = e.AlongMm[end];
        int[] near = [.. Enumerable.Range(0, n).Where(i => Math.Abs(e.AlongMm[i] - at) is > 0.6 and < 4)];
        if (near.Length < 6)
            return fallback;
        RobustPolynomial edge = RobustPolynomial.Fit([.. near.Select(i => e.AlongMm[i])], [.. near.Select(i => e.RawMm[i])], 2, 0.08);
        Point2 q = fallback;
        for (int pass = 0; pass < 8; pass++)
        {
            double a = (q - e.Origin).Dot(e.X);
            Point2 onEdge = e.Place(a, edge.At(a));
            Vector2 slope = (e.X + (e.Outward * edge.Slope(a))).Normalized();
            Vector2 side = (t + (across * fit.Slope(0))).Normalized();
            Point2 onFlank = flank[0] + (across * fit.At(0));
            double cross = slope.Cross(side);
            if (Math.Abs(cross) < 0.2)
                return fallback;
            q = onEdge + (slope * ((onFlank - onEdge).Cross(side) / cross));
        }

        return q.DistanceTo(fallback) < 2.5 ? q : fallback;
    }
}
