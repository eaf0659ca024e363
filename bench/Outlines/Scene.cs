using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>A scene of known truth, and what the tracer makes of it.</summary>
internal static class Scene
{
    private static double[] Pair(JsonElement e) => [e[0].GetDouble(), e[1].GetDouble()];

    private static List<Point2> Points(JsonElement e) => [.. e.EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];

    public static MatSheet Mat(string root)
    {
        string path = Path.Combine(root, "mat.json");
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(path));
        double[] size = Pair(json.RootElement.GetProperty("sizeMm"));
        return new()
        {
            Paper = json.RootElement.GetProperty("paper").GetString()!,
            SizeMm = new(size[0], size[1]),
            Fiducials = [.. json.RootElement.GetProperty("fiducials").EnumerateArray().Select(f =>
                new SheetFiducial(f.GetProperty("id").GetInt32(), [.. Points(f.GetProperty("cornersMm"))]))],
        };
    }

    public static IEnumerable<Row> Run(string root, string folder, string? pictures = null, bool two = false)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
        using JsonDocument input = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "input.json")));
        JsonElement t = truth.RootElement;
        MatSheet mat = File.Exists(Path.Combine(folder, "mat.json")) ? Mat(folder) : Mat(root);
        double? focal = Focal(input);
        using Picture photo = Picture.Read(Path.Combine(folder, "photo.jpg"));
        string second = Directory.GetFiles(folder, "photo*2*.jpg").Concat(Directory.GetFiles(folder, "*second*.jpg")).FirstOrDefault() ?? "";
        string name = Path.GetFileName(folder);
        var lies = new BladeTold(Spine: SpineMm(input) is { } spine ? Length.FromMillimetres(spine) : null, OnFlank: !WithoutSpine && input.RootElement.TryGetProperty("rests", out JsonElement rests) && rests.GetString() is { } word ? word == "on its flank" : null);
        double z = input.RootElement.TryGetProperty("edgeHeightMm", out JsonElement told) && told.ValueKind == JsonValueKind.Number
            ? told.GetDouble() : Math.Round(t.GetProperty("edgeHeight").GetProperty("meanMm").GetDouble(), 1);
        if (pictures is not null)
        {
            Directory.CreateDirectory(pictures);
            TracedOutline shown = OutlineTracer.Trace(photo, null, mat, Length.FromMillimetres(z), focal, lies);
            Show.Write(Path.Combine(pictures, name + ".png"), photo, mat, shown, t);
            yield return Judge(name, "told", shown, t, Points(t.GetProperty("edgeMm")));
            yield break;
        }

        if (!two)
        {
            yield return Judge(name, "seen", OutlineTracer.Trace(photo, null, mat, null, focal, lies), t, Points(t.GetProperty("seenEdgeMm")));
            yield return Judge(name, "told", OutlineTracer.Trace(photo, null, mat, Length.FromMillimetres(z), focal, lies), t, Points(t.GetProperty("edgeMm")));
        }

        if (second.Length > 0)
        {
            using Picture other = Picture.Read(second);
            yield return Judge(name, "two", OutlineTracer.Trace(photo, other, mat, null, focal, lies), t, Points(t.GetProperty("edgeMm")));
        }
    }

    /// <summary>The spine's thickness as it is told, if it is.</summary>
    public static double? SpineMm(string folder)
    {
        using JsonDocument input = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "input.json")));
        return SpineMm(input);
    }

    /// <summary>The camera's 35 mm equivalent focal length as a person would tell it.</summary>
    public static double? Focal(JsonDocument input) => input.RootElement.TryGetProperty("focal35Mm", out JsonElement f) && f.ValueKind == JsonValueKind.Number ? f.GetDouble() : null;

    private static double? SpineMm(JsonDocument input) => !WithoutSpine && input.RootElement.TryGetProperty("spineMm", out JsonElement spine) ? spine.GetDouble() : null;

    /// <summary>The spine's thickness is not told (`--without-spine`).</summary>
    public static bool WithoutSpine { get; set; }

    /// <summary>What tells ends and sides, nothing traced.</summary>
    public static string Cues(string root, string folder)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
        using Picture photo = Picture.Read(Path.Combine(folder, "photo.jpg"));
        return $"{Path.GetFileName(folder)} {Show.Cues(photo, File.Exists(Path.Combine(folder, "mat.json")) ? Mat(folder) : Mat(root), truth.RootElement)}";
    }

    private static Row Judge(string name, string how, TracedOutline o, JsonElement t, List<Point2> edge)
    {
        bool refuse = t.TryGetProperty("shouldRefuse", out JsonElement s) && s.GetBoolean();
        double[] z = [t.GetProperty("edgeHeight").GetProperty("meanMm").GetDouble(), o.EdgeHeightMm, o.EdgeHeightUMm];
        if (o.Outcome == TraceOutcome.Refused)
            return new(name, how, true, refuse, o.Reasons[0].Code, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, default, z);
        IReadOnlyList<Point2> got = how == "seen" ? o.EdgeAsSeenMm : o.EdgeOnMatMm;
        double[] d = [.. edge.Select(p => Signed(got, p, o))];
        double length = t.GetProperty("lengthMm").GetDouble();
        (Point2 heel, Point2 tip) = (edge[0], edge[^1]);
        (Point2 gotHeel, Point2 gotTip) = how == "seen" ? (got[0], got[^1]) : (o.HeelOnMatMm, o.TipOnMatMm);
        var chips = t.GetProperty("chips").EnumerateArray().Select(c => (At: c.GetProperty("atMm").GetDouble(), Depth: c.GetProperty("depthMm").GetDouble(), Width: c.GetProperty("widthMm").GetDouble())).ToList();

        // By their places on the mat: a heel that is off moves every distance from it, and is judged by itself.
        Vector2 chord = (tip - heel).Normalized();
        double At(TracedChip g) => (g.PlaceOnMatMm - heel).Dot(chord);
        int found = chips.Count(c => c.Depth >= 0.5 && o.Chips.Any(g => Math.Abs(At(g) - c.At) < Math.Max(1.5, c.Width)));
        int invented = o.Chips.Count(g => !chips.Any(c => Math.Abs(At(g) - c.At) < Math.Max(2, c.Width)));
        string note = string.Join(' ', o.Chips.Select(g => $"[{At(g):0.0} {g.DepthMm:0.00}x{g.WidthMm:0.0}]")) + " / "
            + string.Join(' ', chips.Select(c => $"[{c.At:0.0} {c.Depth:0.00}x{c.Width:0.0}]"));
        return new(name, how, false, refuse, note, Math.Sqrt(d.Average(v => v * v)), d.Order().ElementAt(d.Length / 2), o.LengthMm - length, gotHeel.DistanceTo(heel), gotTip.DistanceTo(tip),
            chips.Count(c => c.Depth >= 0.5), found, invented, o.UMm, o.HeightMm - t.GetProperty("heightMm").GetDouble(), o.HeightUMm,
            (o.LengthBudget.HeelMm, o.LengthBudget.TipMm, o.Budget.ShadowMm), z);
    }

    private static double Signed(IReadOnlyList<Point2> line, Point2 p, TracedOutline o)
    {
        double best = double.PositiveInfinity;
        double signed = 0;
        Vector2 inward = Inward(o);
        for (int i = 1; i < line.Count; i++)
        {
            Vector2 d = line[i] - line[i - 1];
            double u = Math.Clamp((p - line[i - 1]).Dot(d) / Math.Max(1e-12, d.Dot(d)), 0, 1);
            Vector2 r = line[i - 1] + (d * u) - p;
            if (r.Norm < best)
                (best, signed) = (r.Norm, Math.Sign(r.Dot(inward)) * r.Norm);
        }

        return signed;
    }

    private static Vector2 Inward(TracedOutline o)
    {
        Vector2 x = (o.TipOnMatMm - o.HeelOnMatMm).Normalized();
        Vector2 y = new(-x.Y, x.X);
        Point2 centre = new(o.OutlineOnMatMm.Average(p => p.X), o.OutlineOnMatMm.Average(p => p.Y));
        return (centre - o.HeelOnMatMm).Dot(y) > 0 ? y : y * -1;
    }
}
