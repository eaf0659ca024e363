using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>A blade's shape as kept in the book: the smooth edge and the closed outline of the blade alone, both in the blade frame.</summary>
/// <param name="EdgeMm">Heel to tip, x growing.</param>
/// <param name="BladeOutlineMm">Closed; edge first, then round by the spine back to the heel.</param>
/// <param name="UMm">Standard uncertainty of a place.</param>
public sealed record OutlineShape(IReadOnlyList<Point2> EdgeMm, IReadOnlyList<Point2> BladeOutlineMm, double UMm)
{
    /// <summary>Of a traced outline.</summary>
    /// <exception cref="ArgumentException">The tracing was refused.</exception>
    public static OutlineShape Of(TracedOutline traced)
    {
        ArgumentNullException.ThrowIfNull(traced);
        return traced.Outcome == TraceOutcome.Traced
            ? new(traced.EdgeMm, traced.BladeOutlineMm, traced.UMm)
            : throw new ArgumentException("The tracing was refused; there is no outline to compare.", nameof(traced));
    }

    /// <summary>Of an outline kept on the mat, handle and all: turned into the blade frame and cut at the heel as the tracer does.</summary>
    public static OutlineShape OnMat(IReadOnlyList<Point2> edgeMm, IReadOnlyList<Point2> outlineOnMatMm, Point2 heel, Point2 tip, double uMm)
    {
        ArgumentNullException.ThrowIfNull(edgeMm);
        ArgumentNullException.ThrowIfNull(outlineOnMatMm);
        // The blade lies on the inner side of its edge: outward is away from the middle of the outline.
        Point2 middle = new(outlineOnMatMm.Average(p => p.X), outlineOnMatMm.Average(p => p.Y));
        var frame = new BladeFrame(heel, tip, heel - middle);
        Point2[] edge = [.. edgeMm];
        return new(edge, BladeOnly.Cut([.. outlineOnMatMm.Select(frame.ToBlade)], edge), uMm);
    }

    /// <summary>Heel to tip.</summary>
    public double LengthMm => EdgeMm[^1].X - EdgeMm[0].X;

    /// <summary>Outward place of the edge at x, or null beyond its ends.</summary>
    internal double? EdgeAt(double x)
    {
        for (int i = 1; i < EdgeMm.Count; i++)
        {
            if (EdgeMm[i - 1].X <= x && EdgeMm[i].X >= x && EdgeMm[i].X > EdgeMm[i - 1].X)
            {
                double t = (x - EdgeMm[i - 1].X) / (EdgeMm[i].X - EdgeMm[i - 1].X);
                return EdgeMm[i - 1].Y + (t * (EdgeMm[i].Y - EdgeMm[i - 1].Y));
            }
        }

        return null;
    }

    /// <summary>Points of the spine: the outline's lower side, clear of heel and tip.</summary>
    internal IReadOnlyList<Point2> Spine()
    {
        double length = LengthMm;
        var spine = new List<Point2>();
        for (int i = EdgeMm.Count; i < BladeOutlineMm.Count; i++)
        {
            Point2 p = BladeOutlineMm[i];
            if (p.X > 0.04 * length && p.X < 0.97 * length && EdgeAt(p.X) is { } edge && p.Y < edge - 3)
                spine.Add(p);
        }

        return spine;
    }
}
