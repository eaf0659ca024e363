using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>Makes the polygons of a section out of its two sides.</summary>
internal static class SectionDrawing
{
    private const int ArcChords = 24;

    public static SectionOutline Draw(SideProfile left, SideProfile right) => new(
        Polygon(left, right, profile => Curve(profile, profile.LandHeightMm, profile.TopMm, profile.OldHalfMm)),
        Polygon(left, right, profile => Curve(profile, profile.StartMm, profile.TopMm, profile.LeftHalfMm)),
        Removed(left, -1),
        Removed(right, 1));

    private static List<Point2> Polygon(SideProfile left, SideProfile right, Func<SideProfile, List<Point2>> curve)
    {
        List<Point2> points = [.. curve(left).Select(p => new Point2(-p.X, p.Y)).Reverse()];
        foreach (Point2 p in curve(right))
            AddIfNew(points, p);
        return points;
    }

    private static List<IReadOnlyList<Point2>> Removed(SideProfile profile, int sign)
    {
        var polygons = new List<IReadOnlyList<Point2>>();
        foreach (Stretch cut in profile.Cuts)
        {
            List<Point2> points = Curve(profile, cut.FromMm, cut.ToMm, profile.NewHalfMm);
            double bottom = cut.FromMm;
            // The first cut takes the tip under the new apex with it.
            if (cut.FromMm <= profile.StartMm && profile.RecessionMm > profile.LandHeightMm)
            {
                bottom = profile.LandHeightMm;
                points.Insert(0, new Point2(0, bottom));
            }
            foreach (Point2 p in Enumerable.Reverse(Curve(profile, bottom, cut.ToMm, profile.OldHalfMm)))
                AddIfNew(points, p);
            while (points.Count > 1 && points[0].DistanceTo(points[^1]) < 1e-12)
                points.RemoveAt(points.Count - 1);
            if (points.Count >= 3)
                polygons.Add([.. points.Select(p => new Point2(sign * p.X, p.Y))]);
        }
        return polygons;
    }

    private static List<Point2> Curve(SideProfile profile, double from, double to, Func<double, double> half)
    {
        var heights = new SortedSet<double> { from, to };
        foreach (double y in profile.Crossings.Append(profile.ShoulderMm).Append(profile.StartMm))
        {
            if (y > from && y < to)
                heights.Add(y);
        }
        if (!profile.Old.IsFlat || !profile.New.IsFlat)
        {
            double[] stops = [.. heights];
            for (int i = 0; i + 1 < stops.Length; i++)
            {
                for (int k = 1; k < ArcChords; k++)
                    heights.Add(stops[i] + ((stops[i + 1] - stops[i]) * k / ArcChords));
            }
        }
        var points = new List<Point2>();
        foreach (double y in heights)
            AddIfNew(points, new Point2(half(y), y));
        return points;
    }

    private static void AddIfNew(List<Point2> points, Point2 p)
    {
        if (points.Count == 0 || points[^1].DistanceTo(p) > 1e-12)
            points.Add(p);
    }
}
