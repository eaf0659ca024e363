using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>What an outline of an edge must be before a curve is laid through it.</summary>
public static class EdgeOutline
{
    /// <summary>A loop shorter than this is scatter of dense points, not a crossing, mm (chosen, not derived).</summary>
    public const double ShortestLoopMm = 3;

    /// <summary>What is wrong with the outline, each naming the field <c>edgeMm</c> and the point's index from 0; empty where nothing is.</summary>
    public static IReadOnlyList<Reason> Refusals(IReadOnlyList<Point2> pointsMm)
    {
        ArgumentNullException.ThrowIfNull(pointsMm);
        if (pointsMm.Count < 2)
        {
            return [Refuse("edge-too-few", $"edgeMm has {pointsMm.Count} point{(pointsMm.Count == 1 ? "" : "s")}; give at least two, from heel to tip.")];
        }

        List<Reason> reasons = [];
        for (int i = 0; i < pointsMm.Count && reasons.Count < 5; i++)
        {
            Point2 p = pointsMm[i];
            if (!double.IsFinite(p.X) || !double.IsFinite(p.Y))
                reasons.Add(Refuse("edge-not-a-number", $"edgeMm[{i}] is [{p.X}, {p.Y}]; both must be finite numbers of millimetres."));
            else if (Math.Abs(p.X - pointsMm[0].X) > EdgeCurve.LongestMm || Math.Abs(p.Y - pointsMm[0].Y) > EdgeCurve.LongestMm)
                reasons.Add(Refuse("edge-too-large", $"edgeMm[{i}] is [{p.X}, {p.Y}], more than {EdgeCurve.LongestMm} mm from the heel; look for a slipped comma or another unit."));
            else if (i > 0 && p == pointsMm[i - 1])
                reasons.Add(Refuse("edge-repeated-point", $"edgeMm[{i}] repeats the point before it, [{p.X}, {p.Y}]; leave one of them out."));
        }

        if (reasons.Count > 0)
            return reasons;
        Point2 heel = pointsMm[0];
        Point2 tip = pointsMm[^1];
        double chord = heel.DistanceTo(tip);
        if (chord < EdgeCurve.ShortestMm)
        {
            return [Refuse("edge-closed", $"edgeMm ends {chord:0.###} mm from where it began; it must run once from heel to tip, at least {EdgeCurve.ShortestMm} mm apart.")];
        }

        if (tip.X <= heel.X)
        {
            return [Refuse("edge-backwards", $"edgeMm runs from x = {heel.X} to x = {tip.X}; x must grow from heel to tip. Turn the list round, or mirror x.")];
        }

        double length = 0;
        for (int i = 1; i < pointsMm.Count; i++)
            length += pointsMm[i].DistanceTo(pointsMm[i - 1]);
        if (Crossing(pointsMm) is var (first, second))
        {
            return [Refuse("edge-crosses-itself", $"edgeMm crosses itself: the stretch after point {first} meets the stretch after point {second}. Put the points in order from heel to tip.")];
        }

        return length > 10 * chord
            ? [Refuse("edge-wanders", $"edgeMm is {length:0.#} mm long but its ends are only {chord:0.#} mm apart; put the points in order from heel to tip.")]
            : [];
    }

    private static Reason Refuse(string code, FormattableString text) => new(code, text.ToString(CultureInfo.InvariantCulture));

    /// <summary>The first pair of stretches that meet, apart from short loops; null where none do.</summary>
    private static (int First, int Second)? Crossing(IReadOnlyList<Point2> points)
    {
        int n = points.Count;
        double[] along = new double[n];
        for (int i = 1; i < n; i++)
            along[i] = along[i - 1] + points[i].DistanceTo(points[i - 1]);
        for (int i = 0; i < n - 1; i++)
        {
            double loX = Math.Min(points[i].X, points[i + 1].X);
            double hiX = Math.Max(points[i].X, points[i + 1].X);
            for (int k = i + 2; k < n - 1; k++)
            {
                if (Math.Max(points[k].X, points[k + 1].X) < loX || Math.Min(points[k].X, points[k + 1].X) > hiX)
                    continue;
                if (along[k] - along[i + 1] >= ShortestLoopMm && Meet(points[i], points[i + 1], points[k], points[k + 1]))
                    return (i, k);
            }
        }

        return null;
    }

    private static bool Meet(Point2 a, Point2 b, Point2 c, Point2 d)
    {
        double abc = (b - a).Cross(c - a);
        double abd = (b - a).Cross(d - a);
        double cda = (d - c).Cross(a - c);
        double cdb = (d - c).Cross(b - c);
        return abc * abd <= 0 && cda * cdb <= 0 && !(abc == 0 && abd == 0 && !Overlap(a, b, c, d));
    }

    private static bool Overlap(Point2 a, Point2 b, Point2 c, Point2 d) =>
        Math.Max(Math.Min(a.X, b.X), Math.Min(c.X, d.X)) <= Math.Min(Math.Max(a.X, b.X), Math.Max(c.X, d.X))
        && Math.Max(Math.Min(a.Y, b.Y), Math.Min(c.Y, d.Y)) <= Math.Min(Math.Max(a.Y, b.Y), Math.Max(c.Y, d.Y));
}
