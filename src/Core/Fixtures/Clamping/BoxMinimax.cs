namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// For a box of pivots and a deviation δ: the least t such that some pivot of the box has
/// g(target − δ) at any station at most t above g(target + δ) at any other, with g replaced by its tangent plane at the box's middle; and, from the
/// stations that decide it, a bound on the true t that holds for the whole box. t above zero proves that no clamp in the box reaches δ.
/// </summary>
/// <remarks>
/// The linear problem min t, t ≥ aᵢ(J) + bₖ(J), J in the box, is solved by the dual simplex with a basis of three, priced over all pairs.
/// Any multipliers of a dual feasible basis give a valid bound, so stopping early is safe. The bound is taken from the exact quadratic
/// Σλ(gᵢ − gₖ) with the Hessian's worst case over the box; rounding (below 1e-12 of the numbers) is covered by
/// <see cref="RoundingRad"/>. t is in radians: each channel is divided by its own dg/dα.
/// </remarks>
internal sealed class BoxMinimax
{
    /// <summary>What a proof must clear, rad: about a thousand times the rounding of its numbers (chosen, not derived).</summary>
    public const double RoundingRad = 1e-10;

    private const int MostSteps = 60;

    private readonly ClampModel model;
    private readonly int rows;
    private readonly Plane[][] upper, lower;
    private readonly Row[] basis = new Row[3];
    private readonly double[] multiplier = new double[3];

    public BoxMinimax(ClampModel model)
    {
        this.model = model;
        rows = model.Count + 1;
        upper = [.. model.Channels.Select(_ => new Plane[rows])];
        lower = [.. model.Channels.Select(_ => new Plane[rows])];
    }

    /// <summary>Where the linear problem has its solution.</summary>
    public double BestX { get; private set; }

    /// <summary>Where the linear problem has its solution.</summary>
    public double BestDistance { get; private set; }

    /// <summary>The linear problem's t, rad.</summary>
    public double LinearRad { get; private set; }

    /// <summary>Lower bound of t over the box, rad.</summary>
    public double BoundRad { get; private set; }

    public void Solve(double x, double distance, double halfX, double halfDistance, double deltaRad)
    {
        Linearise(x, distance, deltaRad);
        Start(halfX, halfDistance);
        double dx = 0;
        double dy = 0;
        double t = 0;
        for (int step = 0; step < MostSteps; step++)
        {
            if (!Vertex(out dx, out dy, out t))
                break;
            if (!Worst(dx, dy, t, halfX, halfDistance, out Row entering) || !Exchange(entering))
                break;
        }

        LinearRad = t;
        BestX = x + Math.Clamp(dx, -halfX, halfX);
        BestDistance = distance + Math.Clamp(dy, -halfDistance, halfDistance);
        BoundRad = Certify(halfX, halfDistance);
    }

    private void Linearise(double x, double distance, double deltaRad)
    {
        for (int c = 0; c < model.Channels.Length; c++)
        {
            ClampModel.Line channel = model.Channels[c];
            (MapCoefficients[] low, MapCoefficients[] high) = model.Levels(channel, deltaRad);
            double k2 = channel.Map.Square;
            int middle = model.Count / 2;
            double pm = model.SupportAt(middle, x, distance);
            double qm = channel.Offset[middle] + (channel.PerSupport * pm) + (channel.PerDistance * distance);
            double slope = channel.Map.Slope(channel.TargetRad, pm, qm);
            double scale = 1 / (slope > 1e-3 ? slope : 1e-3);
            for (int i = 0; i < model.Count; i++)
            {
                double nx = model.NormalX(i);
                double ny = model.NormalY(i);
                double p = model.SupportAt(i, x, distance);
                double q = channel.Offset[i] + (channel.PerSupport * p) + (channel.PerDistance * distance);
                double square = k2 * ((p * p) + (q * q));
                int w = model.WeightOf(i);
                upper[c][i] = Plane.Of(square, low[w], k2, p, q, nx, ny, channel, scale);
                lower[c][i] = Plane.Of(square, high[w], k2, p, q, nx, ny, channel, -scale);
            }

            upper[c][model.Count] = new(double.IsInfinity(channel.LeastG) ? double.NegativeInfinity : channel.LeastG * scale, 0, 0, 0, 0, 0);
            lower[c][model.Count] = new(double.IsInfinity(channel.MostG) ? double.NegativeInfinity : -channel.MostG * scale, 0, 0, 0, 0, 0);
        }
    }

    /// <summary>A dual feasible start: the worst pair at the middle, held by the two faces its slope points from.</summary>
    private void Start(double halfX, double halfDistance)
    {
        Row pair = default;
        double worst = double.NegativeInfinity;
        for (int c = 0; c < upper.Length; c++)
        {
            Pair(c, 0, 0, out int i, out int k, out double value);
            if (value > worst)
            {
                worst = value;
                pair = PairRow(c, i, k);
            }
        }

        basis[0] = pair;
        basis[1] = pair.X <= 0 ? new(1, 0, 0, -halfX, -1, 0, 0) : new(-1, 0, 0, -halfX, -1, 0, 0);
        basis[2] = pair.Y <= 0 ? new(0, 1, 0, -halfDistance, -1, 0, 0) : new(0, -1, 0, -halfDistance, -1, 0, 0);
        multiplier[0] = 1;
        multiplier[1] = Math.Abs(pair.X);
        multiplier[2] = Math.Abs(pair.Y);
    }

    private void Pair(int channel, double dx, double dy, out int i, out int k, out double value)
    {
        double high = double.NegativeInfinity;
        double low = double.NegativeInfinity;
        i = 0;
        k = 0;
        Plane[] a = upper[channel];
        Plane[] b = lower[channel];
        for (int s = 0; s < rows; s++)
        {
            double up = a[s].Value + (a[s].X * dx) + (a[s].Y * dy);
            if (up > high)
                (high, i) = (up, s);
            double down = b[s].Value + (b[s].X * dx) + (b[s].Y * dy);
            if (down > low)
                (low, k) = (down, s);
        }

        value = high + low;
    }

    private Row PairRow(int channel, int i, int k)
    {
        ref Plane a = ref upper[channel][i];
        ref Plane b = ref lower[channel][k];
        return new(-(a.X + b.X), -(a.Y + b.Y), 1, a.Value + b.Value, channel, i, k);
    }

    private bool Vertex(out double dx, out double dy, out double t) =>
        Solve3(
            basis[0].X, basis[0].Y, basis[0].T, basis[0].Right,
            basis[1].X, basis[1].Y, basis[1].T, basis[1].Right,
            basis[2].X, basis[2].Y, basis[2].T, basis[2].Right,
            out dx, out dy, out t);

    private bool Worst(double dx, double dy, double t, double halfX, double halfDistance, out Row entering)
    {
        double worst = 1e-13;
        entering = default;
        bool any = false;
        for (int c = 0; c < upper.Length; c++)
        {
            Pair(c, dx, dy, out int i, out int k, out double value);
            if (value - t > worst)
            {
                worst = value - t;
                entering = PairRow(c, i, k);
                any = true;
            }
        }

        if (any)
            return true;
        double face = 1e-11;
        if (Math.Abs(dx) - halfX > face)
        {
            face = Math.Abs(dx) - halfX;
            entering = new(dx < 0 ? 1 : -1, 0, 0, -halfX, -1, 0, 0);
            any = true;
        }

        if (Math.Abs(dy) - halfDistance > face)
        {
            entering = new(0, dy < 0 ? 1 : -1, 0, -halfDistance, -1, 0, 0);
            any = true;
        }

        return any;
    }

    private bool Exchange(Row entering)
    {
        // entering = Σ d·basis: the transposed system.
        if (!Solve3(
            basis[0].X, basis[1].X, basis[2].X, entering.X,
            basis[0].Y, basis[1].Y, basis[2].Y, entering.Y,
            basis[0].T, basis[1].T, basis[2].T, entering.T,
            out double d0, out double d1, out double d2))
        {
            return false;
        }

        Span<double> d = [d0, d1, d2];
        int leaving = -1;
        double ratio = double.PositiveInfinity;
        for (int r = 0; r < 3; r++)
        {
            if (d[r] > 1e-12 && multiplier[r] / d[r] < ratio)
                (ratio, leaving) = (multiplier[r] / d[r], r);
        }

        if (leaving < 0)
            return false;
        for (int r = 0; r < 3; r++)
            multiplier[r] = Math.Max(multiplier[r] - (ratio * d[r]), 0);
        basis[leaving] = entering;
        multiplier[leaving] = ratio;
        return true;
    }

    private double Certify(double halfX, double halfDistance)
    {
        double total = 0;
        Plane sum = default;
        for (int r = 0; r < 3; r++)
        {
            if (basis[r].Channel < 0 || !(multiplier[r] > 0))
                continue;
            total += multiplier[r];
            sum = sum.Plus(upper[basis[r].Channel][basis[r].I], multiplier[r]).Plus(lower[basis[r].Channel][basis[r].K], multiplier[r]);
        }

        if (!(total > 0))
            return double.NegativeInfinity;
        double curved = (Math.Min(sum.Xx, 0) * halfX * halfX) + (Math.Min(sum.Yy, 0) * halfDistance * halfDistance)
            - (2 * Math.Abs(sum.Xy) * halfX * halfDistance);
        return (sum.Value - (Math.Abs(sum.X) * halfX) - (Math.Abs(sum.Y) * halfDistance) + (0.5 * curved)) / total;
    }

    private static bool Solve3(
        double a, double b, double c, double r,
        double d, double e, double f, double s,
        double g, double h, double i, double u,
        out double x, out double y, out double z)
    {
        double m1 = (e * i) - (f * h);
        double m2 = (f * g) - (d * i);
        double m3 = (d * h) - (e * g);
        double det = (a * m1) + (b * m2) + (c * m3);
        if (det == 0 || !double.IsFinite(det))
        {
            (x, y, z) = (0, 0, 0);
            return false;
        }

        x = ((r * m1) + (b * ((f * u) - (s * i))) + (c * ((s * h) - (e * u)))) / det;
        y = ((a * ((s * i) - (f * u))) + (r * m2) + (c * ((d * u) - (s * g)))) / det;
        z = ((a * ((e * u) - (s * h))) + (b * ((s * g) - (d * u))) + (r * m3)) / det;
        return double.IsFinite(x) && double.IsFinite(y) && double.IsFinite(z);
    }

    /// <summary>x·X + y·Y + t·T ≥ Right; a pair of stations of a channel, or a face of the box (channel −1).</summary>
    private readonly record struct Row(double X, double Y, double T, double Right, int Channel, int I, int K);

    /// <summary>Value, slope and Hessian at the middle of the box.</summary>
    private readonly record struct Plane(double Value, double X, double Y, double Xx, double Xy, double Yy)
    {
        public static Plane Of(
            double square, MapCoefficients level, double k2, double p, double q, double nx, double ny, ClampModel.Line channel, double scale)
        {
            double byQ = (2 * k2 * q) + level.C;
            double byP = (2 * k2 * p) + level.A + (channel.PerSupport * byQ);
            double qx = -channel.PerSupport * nx;
            double qy = (channel.PerSupport * ny) + channel.PerDistance;
            double twice = 2 * k2 * scale;
            return new(
                (square + (level.A * p) + level.B + (level.C * q)) * scale,
                -byP * nx * scale,
                ((byP * ny) + (byQ * channel.PerDistance)) * scale,
                twice * ((nx * nx) + (qx * qx)),
                twice * ((qx * qy) - (nx * ny)),
                twice * ((ny * ny) + (qy * qy)));
        }

        public Plane Plus(in Plane other, double times) => new(
            Value + (other.Value * times),
            X + (other.X * times),
            Y + (other.Y * times),
            Xx + (other.Xx * times),
            Xy + (other.Xy * times),
            Yy + (other.Yy * times));
    }
}
