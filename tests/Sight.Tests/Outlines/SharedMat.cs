using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Photographs of blades on a mat, of known truth, that lie beside the repository; tests that need them skip visibly where they are absent.</summary>
internal sealed record SharedMat(string Folder, JsonElement Truth, JsonElement Input)
{
    private static readonly Dictionary<(string, bool), TracedOutline> s_traced = [];

    public static SharedMat Open(string name)
    {
        string? root = Root();
        Assert.SkipWhen(root is null, "The shared photographs of blades on a mat are not beside the repository.");
        string folder = Path.Combine(root!, name);
        JsonElement Read(string file) => JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, file))).RootElement;
        return new(folder, Read("truth.json"), Read("input.json"));
    }

    public IReadOnlyList<Point2> SeenEdge => Points(Truth.GetProperty("seenEdgeMm"));

    public IReadOnlyList<Point2> Edge => Points(Truth.GetProperty("edgeMm"));

    public double EdgeHeightMm => Truth.GetProperty("edgeHeight").GetProperty("meanMm").GetDouble();

    public IReadOnlyList<(Point2 PlaceMm, double DepthMm)> Chips =>
        [.. Truth.GetProperty("chips").EnumerateArray().Select(c => (Place(c.GetProperty("placeMm")), c.GetProperty("depthMm").GetDouble()))];

    public TracedOutline Trace(bool tellHeight)
    {
        lock (s_traced)
        {
            if (s_traced.TryGetValue((Folder, tellHeight), out TracedOutline? known))
                return known;
            using Picture photo = Picture.Read(Path.Combine(Folder, "photo.jpg"));
            Length? height = tellHeight ? Length.FromMillimetres(EdgeHeightMm) : null;
            TracedOutline traced = OutlineTracer.Trace(photo, null, Mat(Root()!), height, Input.GetProperty("focal35Mm").GetDouble());
            s_traced[(Folder, tellHeight)] = traced;
            return traced;
        }
    }

    /// <summary>With the spine's thickness told, and no height.</summary>
    public TracedOutline TraceBySpine()
    {
        using Picture photo = Picture.Read(Path.Combine(Folder, "photo.jpg"));
        return OutlineTracer.Trace(photo, null, Mat(Root()!), null, Input.GetProperty("focal35Mm").GetDouble(), new BladeTold(Spine: Length.FromMillimetres(Input.GetProperty("spineMm").GetDouble()), OnFlank: Input.GetProperty("rests").GetString() == "on its flank"));
    }

    /// <summary>The sheet as it is found in the photo.</summary>
    public FoundSheet Sheet(Picture photo) => SheetFinder.Find(photo, OutlineView.Printed(Mat(Root()!))).Sheet!;

    /// <summary>Root mean square distance of the truth's points from a traced line.</summary>
    public static double Rms(IReadOnlyList<Point2> truth, IReadOnlyList<Point2> line) => Math.Sqrt(truth.Average(p => Math.Pow(Distance(line, p), 2)));

    private static double Distance(IReadOnlyList<Point2> line, Point2 p)
    {
        double best = double.PositiveInfinity;
        for (int i = 1; i < line.Count; i++)
        {
            Vector2 d = line[i] - line[i - 1];
            double u = Math.Clamp((p - line[i - 1]).Dot(d) / Math.Max(1e-12, d.Dot(d)), 0, 1);
            best = Math.Min(best, (line[i - 1] + (d * u)).DistanceTo(p));
        }

        return best;
    }

    private static string? Root()
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            string mats = Path.Combine(d.FullName, "shared", "mats");
            if (File.Exists(Path.Combine(mats, "mat.json")))
                return mats;
        }

        return null;
    }

    private static MatSheet Mat(string root)
    {
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(Path.Combine(root, "mat.json")));
        JsonElement e = json.RootElement;
        return new()
        {
            Paper = e.GetProperty("paper").GetString()!,
            SizeMm = new(e.GetProperty("sizeMm")[0].GetDouble(), e.GetProperty("sizeMm")[1].GetDouble()),
            Fiducials = [.. e.GetProperty("fiducials").EnumerateArray().Select(f => new SheetFiducial(f.GetProperty("id").GetInt32(), [.. Points(f.GetProperty("cornersMm"))]))],
        };
    }

    private static List<Point2> Points(JsonElement e) => [.. e.EnumerateArray().Select(Place)];

    private static Point2 Place(JsonElement e) => new(e[0].GetDouble(), e[1].GetDouble());
}
