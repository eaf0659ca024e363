using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>Penalised cubic B-splines for x(u) and y(u) on one banded normal matrix.</summary>
internal sealed class EdgeSpline
{
    private const int Band = 3;

    /// <summary>With a smaller part of the points left over than this, the curve is taken to go through each, and rounding would rule the score.</summary>
    private const double LeastFree = 1e-3;

    private readonly Point2[] points;
    private readonly double[] u;
    private readonly double step;
    private readonly int spans;
    private readonly int size;
    private readonly int[] firstOf;
    private readonly double[,] basis;
    private readonly double[,] gram;
    private readonly double[,] penalty;
    private readonly double[] rightX, rightY;
    private double[] coefX = [];
    private double[] coefY = [];

    public EdgeSpline(Point2[] points, double[] u)
    {
        this.points = points;
        this.u = u;
        int n = points.Length;
        double total = u[^1];
        double closest = double.PositiveInfinity;
        for (int i = 1; i < n; i++)
            closest = Math.Min(closest, u[i] - u[i - 1]);
        spans = Math.Clamp((int)Math.Ceiling(total / Math.Max(closest, 1e-9)), Math.Max(8, n - 1), Math.Max(24, 2 * n));
        step = total / spans;
        size = spans + Band;
        firstOf = new int[n];
        basis = new double[n, Band + 1];
        gram = new double[size, Band + 1];
        rightX = new double[size];
        rightY = new double[size];
        Span<double> b = stackalloc double[Band + 1];
        for (int i = 0; i < n; i++)
        {
            firstOf[i] = Evaluate(u[i], b);
            for (int a = 0; a <= Band; a++)
            {
                basis[i, a] = b[a];
                rightX[firstOf[i] + a] += b[a] * points[i].X;
                rightY[firstOf[i] + a] += b[a] * points[i].Y;
                for (int c = 0; a + c <= Band; c++)
                    gram[firstOf[i] + a, c] += b[a] * b[a + c];
            }
        }

        penalty = new double[size, Band + 1];
        double[] difference = [-1, 3, -3, 1];
        for (int row = 0; row + Band < size; row++)
        {
            for (int a = 0; a <= Band; a++)
            {
                for (int c = 0; a + c <= Band; c++)
                    penalty[row + a, c] += difference[a] * difference[a + c];
            }
        }
    }

    /// <summary>Residual standard deviation square to the edge, freed of the parameters spent, mm.</summary>
    public double NoiseMm { get; private set; }

    /// <summary>True where the curve goes through each point but for rounding: no residual is left to judge it by.</summary>
    public bool GoesThroughEach { get; private set; }

    /// <summary>n Σr²/(n − f)², f the parameters spent.</summary>
    public double CrossValidation { get; private set; }

    /// <summary>Length of edge per parameter spent, mm.</summary>
    public double SmoothedOverMm { get; private set; }

    public void Solve(double weight)
    {
        double[,] matrix = new double[size, Band + 1];
        for (int i = 0; i < size; i++)
        {
            for (int a = 0; a <= Band; a++)
                matrix[i, a] = gram[i, a] + (weight * penalty[i, a]);
            matrix[i, 0] += 1e-13;
        }

        BandedCholesky factor = BandedCholesky.Of(matrix);
        coefX = factor.Solve(rightX);
        coefY = factor.Solve(rightY);
        double[,] inverse = factor.InverseBand();
        int n = points.Length;
        double spent = 0;
        double squares = 0;
        for (int i = 0; i < n; i++)
        {
            for (int a = 0; a <= Band; a++)
            {
                spent += basis[i, a] * basis[i, a] * inverse[firstOf[i] + a, 0];
                for (int c = 1; a + c <= Band; c++)
                    spent += 2 * basis[i, a] * basis[i, a + c] * inverse[firstOf[i] + a, c];
            }

            (Point2 at, Vector2 slope) = Curve(u[i]);
            double miss = (points[i] - at).Cross(slope) / Math.Max(slope.Norm, 1e-12);
            squares += miss * miss;
        }

        double free = n - spent;
        GoesThroughEach = free < LeastFree * n;
        NoiseMm = GoesThroughEach ? 0 : Math.Sqrt(squares / free);
        CrossValidation = GoesThroughEach ? double.PositiveInfinity : n * squares / (free * free);
        SmoothedOverMm = u[^1] / spent;
    }

    /// <summary>Moves each point's parameter to the foot of its perpendicular on the curve, then measures it anew by arc length from the first.</summary>
    public void Reproject(double[] parameters)
    {
        for (int i = 1; i < points.Length - 1; i++)
        {
            (Point2 at, Vector2 slope) = Curve(parameters[i]);
            double shift = (points[i] - at).Dot(slope) / Math.Max(slope.Dot(slope), 1e-12);
            double room = 0.45 * Math.Min(parameters[i] - parameters[i - 1], parameters[i + 1] - parameters[i]);
            parameters[i] += Math.Clamp(shift, -Math.Max(room, 0), Math.Max(room, 0));
        }
    }

    public List<EdgeSegment> Segments()
    {
        List<EdgeSegment> segments = new(spans);
        for (int k = 0; k < spans; k++)
            segments.Add(CubicSegment.FromPowers(Powers(coefX, k), Powers(coefY, k)));
        return segments;
    }

    private static double[] Powers(double[] c, int k) =>
    [
        (c[k] + (4 * c[k + 1]) + c[k + 2]) / 6,
        (c[k + 2] - c[k]) / 2,
        (c[k] - (2 * c[k + 1]) + c[k + 2]) / 2,
        (c[k + 3] - c[k] + (3 * (c[k + 1] - c[k + 2]))) / 6,
    ];

    private int Evaluate(double at, Span<double> values)
    {
        int k = Math.Clamp((int)(at / step), 0, spans - 1);
        double t = (at / step) - k;
        double r = 1 - t;
        values[0] = r * r * r / 6;
        values[1] = ((3 * t * t * t) - (6 * t * t) + 4) / 6;
        values[2] = ((3 * r * r * r) - (6 * r * r) + 4) / 6;
        values[3] = t * t * t / 6;
        return k;
    }

    private (Point2 At, Vector2 Slope) Curve(double at)
    {
        int k = Math.Clamp((int)(at / step), 0, spans - 1);
        double t = (at / step) - k;
        double[] x = Powers(coefX, k);
        double[] y = Powers(coefY, k);
        return (new(x[0] + (t * (x[1] + (t * (x[2] + (t * x[3]))))), y[0] + (t * (y[1] + (t * (y[2] + (t * y[3])))))),
            new((x[1] + (t * ((2 * x[2]) + (3 * t * x[3])))) / step, (y[1] + (t * ((2 * y[2]) + (3 * t * y[3])))) / step));
    }
}
