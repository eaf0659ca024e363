using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Height lost at a station along the edge.</summary>
/// <param name="AtMm">Along the earlier chord from the heel.</param>
/// <param name="LostMm">Positive where steel is gone.</param>
public readonly record struct HeightLost(double AtMm, double LostMm);

/// <summary>
/// Two outlines of the same piece laid on each other by the spine, which sharpening does not touch, and along it by the spine's own shape and
/// the heel; what is left between the edges is the height lost.
/// </summary>
public sealed record OutlineOverlay
{
    private const int Passes = 25;

    private OutlineOverlay(IReadOnlyList<HeightLost> lost, double spineMisfitMm, double uMm, double turnRad, Vector2 shift) =>
        (Lost, SpineMisfitMm, UMm, TurnRad, ShiftMm) = (lost, spineMisfitMm, uMm, turnRad, shift);

    /// <summary>Height lost every two millimetres.</summary>
    public IReadOnlyList<HeightLost> Lost { get; }

    /// <summary>Root mean square distance of the spines.</summary>
    public double SpineMisfitMm { get; }

    /// <summary>Standard uncertainty of a height lost.</summary>
    public double UMm { get; }

    /// <summary>Turn of the later outline onto the earlier.</summary>
    public double TurnRad { get; }

    /// <summary>Shift of the later outline after the turn.</summary>
    public Vector2 ShiftMm { get; }

    /// <summary>Mean height lost.</summary>
    public double MeanLostMm => Lost.Count == 0 ? 0 : Lost.Average(l => l.LostMm);

    /// <summary>Lays the later outline on the earlier.</summary>
    /// <exception cref="ArgumentException">An outline without an edge of at least 20 mm or without a spine.</exception>
    public static OutlineOverlay Of(OutlineShape earlier, OutlineShape later)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        Check(earlier, nameof(earlier));
        Check(later, nameof(later));
        IReadOnlyList<Point2> fixedSpine = earlier.Spine();
        IReadOnlyList<Point2> spine = later.Spine();
        double turn = 0;
        Vector2 shift = new(0, 0);
        double misfit = 0;
        for (int pass = 0; pass < Passes; pass++)
        {
            double[,] a = new double[3, 3];
            double[] b = new double[3];
            double sum = 0;
            double weights = 0;
            foreach (Point2 raw in spine)
            {
                Point2 p = Move(raw, turn, shift);
                if (Foot(fixedSpine, p) is not (var foot, var normal))
                    continue;
                double r = (p - foot).Dot(normal);
                double scale = pass < 5 ? 4 : 0.6;
                double w = 1 / (1 + (r * r / (scale * scale)));
                double[] j = [(p.X * normal.Y) - (p.Y * normal.X), normal.X, normal.Y];
                Accumulate(a, b, j, r, w);
                sum += w * r * r;
                weights += w;
            }

            // The heel keeps its place along the chord to about a millimetre.
            Point2 heel = Move(later.EdgeMm[0], turn, shift);
            Accumulate(a, b, [-heel.Y, 1, 0], heel.X - earlier.EdgeMm[0].X, 0.02 * Math.Max(1, weights));
            for (int k = 0; k < 3; k++)
                a[k, k] += 1e-9;
            double[,]? inverse = LeastSquares.Invert(a);
            if (inverse is null || weights < 5)
                break;
            double[] step = new double[3];
            for (int k = 0; k < 3; k++)
            {
                for (int m = 0; m < 3; m++)
                    step[k] -= inverse[k, m] * b[m];
            }

            // The step turns about the origin after the present move.
            shift = Turn(shift, step[0]) + new Vector2(step[1], step[2]);
            turn += step[0];
            misfit = Math.Sqrt(sum / Math.Max(1e-9, weights));
        }

        var moved = new OutlineShape([.. later.EdgeMm.Select(p => Move(p, turn, shift))], [], later.UMm);
        var lost = new List<HeightLost>();
        for (double x = 1; x < earlier.LengthMm; x += 2)
        {
            if (earlier.EdgeAt(x) is { } before && moved.EdgeAt(x) is { } after)
                lost.Add(new(x, before - after));
        }

        double u = Math.Sqrt((earlier.UMm * earlier.UMm) + (later.UMm * later.UMm) + (misfit * misfit / 4));
        return new(lost, misfit, u, turn, shift);
    }

    private static void Check(OutlineShape shape, string name)
    {
        if (shape.EdgeMm.Count < 2 || !(shape.LengthMm >= 20))
            throw new ArgumentException("edgeMm must hold an edge of at least 20 mm from heel to tip.", name);
        if (shape.Spine().Count < 5)
            throw new ArgumentException("The outline has no spine to lay it by; trace the blade with its spine in view.", name);
    }

    private static void Accumulate(double[,] a, double[] b, double[] j, double r, double w)
    {
        for (int k = 0; k < 3; k++)
        {
            b[k] += w * j[k] * r;
            for (int m = 0; m < 3; m++)
                a[k, m] += w * j[k] * j[m];
        }
    }

    private static Vector2 Turn(Vector2 v, double by) => new((Math.Cos(by) * v.X) - (Math.Sin(by) * v.Y), (Math.Sin(by) * v.X) + (Math.Cos(by) * v.Y));

    private static Point2 Move(Point2 p, double turn, Vector2 shift)
    {
        Vector2 v = Turn(new(p.X, p.Y), turn) + shift;
        return new(v.X, v.Y);
    }

    private static (Point2 Foot, Vector2 Normal)? Foot(IReadOnlyList<Point2> line, Point2 p)
    {
        double least = double.PositiveInfinity;
        Point2 foot = default;
        Vector2 normal = default;
        int at = -1;
        for (int i = 1; i < line.Count; i++)
        {
            Vector2 d = line[i] - line[i - 1];
            double norm = d.Norm;
            if (norm < 1e-9 || norm > 20)
                continue;
            double u = Math.Clamp((p - line[i - 1]).Dot(d) / (norm * norm), 0, 1);
            Point2 q = line[i - 1] + (d * u);
            double distance = q.DistanceTo(p);
            if (distance < least)
                (least, foot, normal, at) = (distance, q, new(-d.Y / norm, d.X / norm), u is 0 or 1 && (i == 1 || i == line.Count - 1) ? -1 : i);
        }

        return at < 0 ? null : (foot, normal);
    }
}
