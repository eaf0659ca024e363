using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;

namespace Whetwright.Outlines;

/// <summary>A scene's edge without its chips, as a camera sees it on the mat: moved outward from under the camera by the height it lies at.</summary>
/// <param name="SeenMm">Its points, heel to tip.</param>
/// <param name="StationsMm">The same at half a pixel's spacing.</param>
/// <param name="Inward">Normals toward the steel, at the stations.</param>
/// <param name="OutlineMm">The blade's outline, at the edge's mean height.</param>
/// <param name="PixelMm">Size of a pixel at the heel.</param>
/// <param name="At">Where a place of the mat plane's drawing is seen, its share of the way from heel to tip given.</param>
internal sealed record TrueEdge(Point2[] SeenMm, Point2[] StationsMm, Vector2[] Inward, Point2[] OutlineMm, double PixelMm, Func<Point2, double, Point2> At)
{
    private static Point2[] Points(JsonElement e) => [.. e.EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];

    public static TrueEdge Of(JsonElement truth, JsonElement camera, LensMap map)
    {
        double[] place = [.. camera.GetProperty("positionMm").EnumerateArray().Select(v => v.GetDouble())];
        JsonElement height = truth.GetProperty("edgeHeight");
        (double heel, double tip) = (height.GetProperty("atHeelMm").GetDouble(), height.GetProperty("atTipMm").GetDouble());
        Point2 At(Point2 p, double share)
        {
            double z = heel + ((tip - heel) * share);
            return p + ((p - new Point2(place[0], place[1])) * (z / (place[2] - z)));
        }

        Point2[] nominal = Points(truth.GetProperty("edgeNominalMm"));
        Point2[] seen = [.. nominal.Select((p, i) => At(p, (double)i / (nominal.Length - 1)))];
        Point2[] outline = [.. Points(truth.GetProperty("outlineMm")).Select(p => At(p, 0.5))];
        double pixelMm = 1 / map.ToPhoto(seen[0]).DistanceTo(map.ToPhoto(seen[0] + new Vector2(1, 0)));
        Point2[] stations = Contour.Open(seen, 0.5 * pixelMm);
        Vector2 chord = (seen[^1] - seen[0]).Normalized();
        var outward = new Vector2(-chord.Y, chord.X);
        Point2 middle = seen[seen.Length / 2];
        outward *= -Math.Sign(outline.Select(p => (p - middle).Dot(outward)).MaxBy(Math.Abs));
        return new(seen, stations, OutlineView.Inward(stations, outward), outline, pixelMm, At);
    }
}
