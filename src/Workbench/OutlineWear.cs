using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>Two outlines of one piece laid on each other by what is never ground: spine and handle.</summary>
/// <param name="EarlierMm">The earlier outline in its blade frame.</param>
/// <param name="LaterMm">The later one, moved onto it.</param>
/// <param name="LostMm">Along the edge: place, and height lost there.</param>
/// <param name="LostUMm">Standard uncertainty of a height lost; null where neither outline told its own.</param>
/// <param name="FitMm">Root mean square of what is left between the two along spine and handle.</param>
public sealed record OutlineWear(
    IReadOnlyList<Point2> EarlierMm, IReadOnlyList<Point2> LaterMm, IReadOnlyList<Point2> LostMm, double? LostUMm, double FitMm)
{
    /// <summary>A worse fit than this says that it is not the same blade as it was. Chosen, not derived.</summary>
    public const double WorstFitMm = 1.5;

    private const int Stations = 81;

    /// <summary>
    /// Height lost h(x) = y₁(x) − y₂(x): the earlier edge less the later, both in the earlier blade frame (x from the heel along the chord, y outward). The later
    /// outline is moved by the rigid motion that brings its spine and handle nearest to the earlier's (least squares over nearest places, the worst fifth left out).
    /// u = √(u₁² + u₂² + f²) with f the root mean square of that fit. Leaves out: a bend of the blade, a lens that differs between the photos.
    /// </summary>
    /// <param name="earlier">The earlier outline.</param>
    /// <param name="later">The later one.</param>
    /// <param name="why">Where they cannot be compared: why, and what to do.</param>
    public static OutlineWear? Between(OutlineTaken earlier, OutlineTaken later, out Reason? why)
    {
        why = null;
        if (Traced.Of(earlier) is not { } a || Traced.Of(later) is not { } b)
        {
            why = new("outline-not-traced", "An outline was typed, not traced from a photo: photograph the blade on the mat at each visit to compare them.");
            return null;
        }

        Point2[] still = [.. Walk(b.OutlineMm).Where(p => p.Y < -0.25 * b.DepthMm)];
        if (still.Length < 8)
        {
            why = new("outline-too-thin", "Too little of spine and handle is in the outline to lay the two on each other: photograph the whole piece.");
            return null;
        }

        (Motion motion, double fit) = Fit(still, a.OutlineMm);
        if (fit > WorstFitMm)
        {
            why = new("outlines-differ", FormattableString.Invariant(
                $"Spine and handle of the two outlines differ by {fit:0.0} mm: another handle, another piece, or a bent blade. They are not laid on each other."));
            return null;
        }

        Point2[] moved = [.. b.EdgeMm.Select(motion.Apply).OrderBy(p => p.X)];
        Point2[] edge = [.. a.EdgeMm.OrderBy(p => p.X)];
        double from = Math.Max(edge[0].X, moved[0].X), to = Math.Min(edge[^1].X, moved[^1].X);
        if (to - from < 5)
        {
            why = new("edges-apart", "The two edges hardly lie over each other; photograph the blade on the mat again.");
            return null;
        }

        List<Point2> lost = [];
        for (int i = 0; i < Stations; i++)
        {
            double x = from + ((to - from) * i / (Stations - 1));
            lost.Add(new(x, At(edge, x) - At(moved, x)));
        }

        double? u = a.UMm is null && b.UMm is null ? null : Math.Sqrt(((a.UMm ?? 0) * (a.UMm ?? 0)) + ((b.UMm ?? 0) * (b.UMm ?? 0)) + (fit * fit));
        return new(a.OutlineMm, [.. b.OutlineMm.Select(motion.Apply)], lost, u, fit);
    }

    /// <summary>Places along a closed line, no more than a step apart, so that each stretch counts by its length.</summary>
    private static IEnumerable<Point2> Walk(IReadOnlyList<Point2> closed)
    {
        const double stepMm = 2; // chosen, not derived
        for (int i = 0; i < closed.Count; i++)
        {
            (Point2 a, Point2 b) = (closed[i], closed[(i + 1) % closed.Count]);
            int parts = Math.Max(1, (int)Math.Ceiling(Math.Sqrt(Square(a, b)) / stepMm));
            for (int k = 0; k < parts; k++)
                yield return new(a.X + ((b.X - a.X) * k / parts), a.Y + ((b.Y - a.Y) * k / parts));
        }
    }

    private static double At(Point2[] line, double x)
    {
        int i = 1;
        while (i < line.Length - 1 && line[i].X < x)
            i++;
        (Point2 p, Point2 q) = (line[i - 1], line[i]);
        return q.X - p.X < 1e-9 ? q.Y : p.Y + ((q.Y - p.Y) * (x - p.X) / (q.X - p.X));
    }

    private static (Motion Motion, double Fit) Fit(Point2[] points, IReadOnlyList<Point2> onto)
    {
        Motion motion = new(1, 0, 0, 0);
        double fit = double.PositiveInfinity;
        for (int round = 0; round < 60; round++)
        {
            (Point2 From, Point2 To, double Square)[] pairs =
            [
                .. points.Select(p => (From: p, To: Nearest(motion.Apply(p), onto), Moved: motion.Apply(p)))
                    .Select(p => (p.From, p.To, Square: Square(p.Moved, p.To))).OrderBy(p => p.Square).Take(Math.Max(8, points.Length * 4 / 5)),
            ];
            double now = Math.Sqrt(pairs.Average(p => p.Square));
            motion = Motion.Best([.. pairs.Select(p => (p.From, p.To))]);
            if (Math.Abs(fit - now) < 1e-7)
                break;
            fit = now;
        }

        return (motion, fit);
    }

    private static double Square(Point2 a, Point2 b) => ((a.X - b.X) * (a.X - b.X)) + ((a.Y - b.Y) * (a.Y - b.Y));

    private static Point2 Nearest(Point2 p, IReadOnlyList<Point2> closed)
    {
        Point2 best = closed[0];
        double least = double.PositiveInfinity;
        for (int i = 0; i < closed.Count; i++)
        {
            (Point2 a, Point2 b) = (closed[i], closed[(i + 1) % closed.Count]);
            (double dx, double dy) = (b.X - a.X, b.Y - a.Y);
            double length = (dx * dx) + (dy * dy);
            double t = length < 1e-12 ? 0 : Math.Clamp((((p.X - a.X) * dx) + ((p.Y - a.Y) * dy)) / length, 0, 1);
            Point2 foot = new(a.X + (t * dx), a.Y + (t * dy));
            double square = Square(p, foot);
            if (square < least)
                (best, least) = (foot, square);
        }

        return best;
    }

    /// <summary>A turn and a shift in the plane.</summary>
    private readonly record struct Motion(double Cos, double Sin, double X, double Y)
    {
        public Point2 Apply(Point2 p) => new((Cos * p.X) - (Sin * p.Y) + X, (Sin * p.X) + (Cos * p.Y) + Y);

        /// <summary>The rigid motion of least squares: turn by atan2(Σ p×q, Σ p·q) of the places from their means.</summary>
        public static Motion Best((Point2 From, Point2 To)[] pairs)
        {
            (double fx, double fy) = (pairs.Average(p => p.From.X), pairs.Average(p => p.From.Y));
            (double tx, double ty) = (pairs.Average(p => p.To.X), pairs.Average(p => p.To.Y));
            double dot = 0, cross = 0;
            foreach ((Point2 f, Point2 t) in pairs)
            {
                dot += ((f.X - fx) * (t.X - tx)) + ((f.Y - fy) * (t.Y - ty));
                cross += ((f.X - fx) * (t.Y - ty)) - ((f.Y - fy) * (t.X - tx));
            }

            double turn = Math.Atan2(cross, dot);
            (double c, double s) = (Math.Cos(turn), Math.Sin(turn));
            return new(c, s, tx - ((c * fx) - (s * fy)), ty - ((s * fx) + (c * fy)));
        }
    }

    /// <summary>What a traced outline's result holds, in its blade frame.</summary>
    private sealed record Traced(IReadOnlyList<Point2> OutlineMm, IReadOnlyList<Point2> EdgeMm, double DepthMm, double? UMm)
    {
        public static Traced? Of(OutlineTaken taken)
        {
            if (taken.ResultJson is not { Length: > 0 } json || JsonNode.Parse(json) is not JsonObject o)
                return null;
            Point2[] edge = Points(o["edgeMm"]), outline = Points(o["outlineOnMatMm"]), ends = [.. Points(new JsonArray(o["heelOnMatMm"]?.DeepClone(), o["tipOnMatMm"]?.DeepClone()))];
            if (edge.Length < 2 || outline.Length < 8 || ends.Length != 2)
                return null;
            (double dx, double dy) = (ends[1].X - ends[0].X, ends[1].Y - ends[0].Y);
            double chord = Math.Sqrt((dx * dx) + (dy * dy));
            if (chord < 1)
                return null;
            (double ux, double uy) = (dx / chord, dy / chord);
            Point2[] placed = [.. outline.Select(p => new Point2(((p.X - ends[0].X) * ux) + ((p.Y - ends[0].Y) * uy), ((p.Y - ends[0].Y) * ux) - ((p.X - ends[0].X) * uy)))];
            if (Lean(placed) > 0)
                placed = [.. placed.Select(p => new Point2(p.X, -p.Y))]; // the body lies on the side away from y, however the mat is read
            return new(placed, edge, -placed.Min(p => p.Y), o["uMm"] is JsonValue v && v.TryGetValue(out double u) ? u : null);
        }

        /// <summary>On which side of the chord the shape's area lies: Σ (y_i + y_{i+1})(x_i y_{i+1} − x_{i+1} y_i) over its signed area, of the sign of the centroid's y.</summary>
        private static double Lean(Point2[] closed)
        {
            double area = 0, moment = 0;
            for (int i = 0; i < closed.Length; i++)
            {
                (Point2 a, Point2 b) = (closed[i], closed[(i + 1) % closed.Length]);
                double cross = (a.X * b.Y) - (b.X * a.Y);
                area += cross;
                moment += (a.Y + b.Y) * cross;
            }

            return moment / area;
        }

        private static Point2[] Points(JsonNode? list) =>
            [.. (list as JsonArray ?? []).OfType<JsonArray>().Where(p => p.Count == 2).Select(p => new Point2(p[0]!.GetValue<double>(), p[1]!.GetValue<double>()))];
    }
}
