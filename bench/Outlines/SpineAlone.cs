using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>The spine alone: the blade as the program finds it, its side from the truth; how far the outline lies outside the spine as seen and, parallax taken out, as it is.</summary>
internal static class SpineAlone
{
    public static void Run(string root, IReadOnlyList<string> folders, string? kept)
    {
        var sums = new SortedDictionary<string, List<double>>();
        foreach (string folder in folders)
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            One(root, folder, truth.RootElement, kept, sums);
        }

        foreach ((string name, List<double> v) in sums)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-10} median {At(v, 0.5):0.00}, |median| {At([.. v.Select(Math.Abs)], 0.5):0.00}, |p90| {At([.. v.Select(Math.Abs)], 0.9):0.00}, {v.Count(e => Math.Abs(e) <= 0.2)}/{v.Count(e => Math.Abs(e) <= 0.5)} of {v.Count} within 0.2/0.5"));
    }

    private static double At(List<double> v, double q) => v.Count == 0 ? double.NaN : v.Order().ElementAt(Math.Min(v.Count - 1, (int)(q * v.Count)));

    private static List<Point2> Points(JsonElement e) => [.. e.EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];

    private static void One(string root, string folder, JsonElement truth, string? kept, SortedDictionary<string, List<double>> sums)
    {
        string what = Path.GetFileName(folder);
        MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
        using Picture photo = Picture.Read(Path.Combine(folder, "photo.jpg"));
        IReadOnlyList<SheetFiducial> fiducials = OutlineView.Printed(mat);
        if (SheetFinder.Find(photo, fiducials).Sheet is not { } sheet || MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, null) is not { } stood)
            return;
        double[] place = [.. truth.GetProperty("camera").GetProperty("positionMm").EnumerateArray().Select(v => v.GetDouble())];
        JsonElement height = truth.GetProperty("edgeHeight");
        (double zHeel, double zTip) = (height.GetProperty("atHeelMm").GetDouble(), height.GetProperty("atTipMm").GetDouble());
        var foot = new Point2(place[0], place[1]);
        Point2 As(Point2 p, double z) => p + ((p - foot) * (z / (place[2] - z)));
        List<Point2> nominal = Points(truth.GetProperty("edgeNominalMm"));
        List<Point2> seen = [.. nominal.Select((p, i) => As(p, zHeel + ((zTip - zHeel) * i / (nominal.Count - 1))))];
        PhotoSampler sampler = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        double blur = Sharpness.Of(sampler, sheet).SigmaPx;
        KnownHeight known = KnownHeight.Told(Math.Round((zHeel + zTip) / 2, 1));
        if (Found.Of(photo, sheet, mat, sampler, stood, blur, known, seen, kept is null ? null : Path.Combine(kept, what + ".json")) is not { } found)
        {
            Console.WriteLine($"{what,-15} not found");
            return;
        }

        Point2[] inOrder = found.InOrder;
        sampler = sampler.With(RuledInk.Around(sampler, sheet.Map, inOrder));
        if (inOrder[found.HeelAt].DistanceTo(seen[0]) > 6 || inOrder[found.TipAt].DistanceTo(seen[^1]) > 6)
        {
            Console.WriteLine($"{what,-15} rough ends off");
            return;
        }

        // The spine's true rims.
        JsonElement steel = truth.GetProperty("blade");
        (double spine, double behind, double bevelDeg) = (steel.GetProperty("spineMm").GetDouble(), steel.GetProperty("behindEdgeMm").GetDouble(), steel.GetProperty("bevelDeg").GetDouble());
        double bevel = behind / (2 * Math.Tan(double.DegreesToRadians(bevelDeg)));
        double tall = truth.GetProperty("heightMm").GetDouble();
        Vector2 x = (nominal[^1] - nominal[0]).Normalized();
        double length = nominal[0].DistanceTo(nominal[^1]);
        List<Point2> outline = Points(truth.GetProperty("outlineMm"));
        List<Point2> back = outline[nominal.Count..];
        Vector2 y = new(-x.Y, x.X);
        if ((back[^1] - nominal[0]).Dot(y) > 0)
            y *= -1;
        var stations = new List<(double Along, Point2 Place, Vector2 Out)>();
        List<Point2> line = [nominal[^1], .. back];
        for (int i = 1; i < line.Count; i++)
        {
            double d = line[i].DistanceTo(line[i - 1]);
            Vector2 t = (line[i] - line[i - 1]).Normalized();
            Vector2 n = new(-t.Y, t.X);
            if (n.Dot(y) > 0)
                n *= -1;
            for (double s = 0.5; s < d; s += d < 2 ? 2 : 1)
            {
                Point2 p = line[i - 1] + (t * s);
                stations.Add(((p - nominal[0]).Dot(x), p, n));
            }
        }

        SmoothEdge edge = SmoothEdge.Of(inOrder, found.HeelAt, found.TipAt, found.Cornered);
        Array.Reverse(inOrder, 0, Contour.SignedArea(inOrder) < 0 ? inOrder.Length : 0);
        var closed = new RefinedOutline(inOrder, [], [], [], found.PixelMm);
        EdgeLight? light = found.Light.Length == 0 ? null : EdgeLight.FromRow(found.Light);
        var clock = System.Diagnostics.Stopwatch.StartNew();
        (Point2[] barePoints, double doubt, EdgeLight? lit) = new LitSpine(sampler, sheet.Map, blur, stood, closed, edge, found.HasHandle).Of(light);
        double seconds = clock.Elapsed.TotalSeconds;
        var rims = new SpineRims(known.HeelMm, known.TipMm, found.HasHandle);
        double sumView = 0;
        var raw = new List<double>();
        var banded = new List<double>();
        var corrected = new List<double>();
        foreach ((double along, Point2 p, Vector2 outward) in stations.Where(s => s.Along > 5 && s.Along < length - 8))
        {
            double share = along / length;
            double from = nominal.Min(e => e.DistanceTo(p));
            double full = spine * (1 - (share * 0.5));
            double thick = Math.Min(full, behind + ((full - behind) * (from - bevel) / Math.Max(5, (0.8 * tall) - bevel)));
            double mid = zHeel + ((zTip - zHeel) * share);
            (Point2 low, Point2 high) = (As(p, Math.Max(0, mid - (thick / 2))), As(p, mid + (thick / 2)));
            double view = (p - foot).Dot(outward) / place[2];
            Point2 rim = view > 0 ? high : low;
            sumView += view / stations.Count;
            if (Cross(inOrder, rim, outward) is not { } a || Cross(barePoints, rim, outward) is not { } b)
                continue;
            raw.Add(a);
            banded.Add(b);
            corrected.Add(b + (rim - p).Dot(outward) + (stood.Correct(rim, rims.SeenAt(share, stood.Parallax(rim, 1).Dot(outward))) - rim).Dot(outward));
        }

        if (raw.Count < 10)
            return;
        void Put(string name, double v)
        {
            if (!sums.TryGetValue(name, out List<double>? list))
                sums[name] = list = [];
            list.Add(v);
        }

        (double r, double g, double c) = (At(raw, 0.5), At(banded, 0.5), At(corrected, 0.5));
        Put("path", r);
        Put("banded", g);
        Put("corrected", c);
        Put("parallax", c - g);
        string lamps = string.Create(CultureInfo.InvariantCulture, $"doubt {doubt:0.00} {seconds:0.00}s ") + (lit is null ? "unlit" : string.Create(CultureInfo.InvariantCulture, $"z {lit.HeelMm:0.0}/{lit.TipMm:0.0} sky {lit.Sky:0.00} wall {lit.BevelMm:0.00} ") + string.Join(' ', lit.Lamps.Select(v => string.Create(CultureInfo.InvariantCulture, $"[{v.Share:0.00} {v.Lean:0.00} {v.Along:0.00}]")))) + " edge " + (light is null ? "" : string.Create(CultureInfo.InvariantCulture, $"sky {light.Sky:0.00} ") + string.Join(' ', light.Lamps.Select(v => string.Create(CultureInfo.InvariantCulture, $"[{v.Share:0.00} {v.Lean:0.00} {v.Along:0.00}]"))));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-15} path {r,5:0.00} ({At(raw, 0.1),5:0.00} {At(raw, 0.9),5:0.00}) banded {g,5:0.00} ({At(banded, 0.1),5:0.00} {At(banded, 0.9),5:0.00}) corrected {c,5:0.00} view {sumView,5:0.00} px {found.PixelMm:0.00} blur {blur:0.00} z {zHeel:0.0}/{zTip:0.0} spine {spine:0.0} {truth.GetProperty("finish").GetString(),-8} {truth.GetProperty("handle").GetString(),-5} {truth.GetProperty("shape").GetString(),-8} {lamps}"));
    }

    /// <summary>How far outside a place the outline is crossed along a direction: the nearest crossing; null beyond 6 mm.</summary>
    private static double? Cross(Point2[] closed, Point2 p, Vector2 along)
    {
        double? best = null;
        for (int i = 0; i < closed.Length; i++)
        {
            Vector2 a = closed[i] - p;
            Vector2 b = closed[(i + 1) % closed.Length] - p;
            double ca = along.Cross(a);
            double cb = along.Cross(b);
            if (ca * cb > 0 || ca == cb)
                continue;
            double at = along.Dot(a) + ((along.Dot(b) - along.Dot(a)) * ca / (ca - cb));
            if (Math.Abs(at) < 6 && (best is not { } v || Math.Abs(at) < Math.Abs(v)))
                best = at;
        }

        return best;
    }
}
