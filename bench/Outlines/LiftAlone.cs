using System.Diagnostics;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

internal static class LiftAlone
{
    public static void Run(string root, IReadOnlyList<string> folders, string into)
    {
        Directory.CreateDirectory(into);
        var options = new JsonSerializerOptions { NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.AllowNamedFloatingPointLiterals };
        foreach (string folder in folders)
        {
            var watch = Stopwatch.StartNew();
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
            double z = truth.RootElement.GetProperty("edgeHeight").GetProperty("meanMm").GetDouble();
            using JsonDocument input = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "input.json")));
            double? focal = input.RootElement.TryGetProperty("focal35Mm", out JsonElement f) && f.ValueKind == JsonValueKind.Number ? f.GetDouble() : null;
            BladeTold told = default;
            var photos = new List<object>();
            foreach (string name in new[] { "photo.jpg", "photo2.jpg" })
            {
                using Picture photo = Picture.Read(Path.Combine(folder, name));
                (OutlineView? view, var reason) = OutlineView.Of(photo, mat, focal, "", told);
                if (view is null)
                {
                    Console.WriteLine($"{Path.GetFileName(folder)} {name} {reason!.Code}");
                    break;
                }

                told = new(BladeTold.Facing(view.Edge.Outward), BladeTold.Facing(view.Edge.Heel - view.Edge.Tip));
                object Line(double? at)
                {
                    (Point2[] line, EdgeSections s) = view.Line.LineAt(at is { } v ? KnownHeight.Told(v) : null);
                    return new { at, line = Flat(Contour.Open(line, 1)), s.Misfit, s.DoubtMm, light = s.Light is { } l ? new { l.HeelMm, l.TipMm, l.Sky, l.BevelMm, lamps = l.Lamps.Select(m => new[] { m.Share, m.Lean, m.Along, m.Spread }) } : null };
                }

                double[] at = [z];
                photos.Add(new
                {
                    camera = new[] { view.Camera.PlaceMm.X, view.Camera.PlaceMm.Y, view.Camera.HeightMm },
                    heel = new[] { view.EdgeLine[0].X, view.EdgeLine[0].Y },
                    tip = new[] { view.EdgeLine[^1].X, view.EdgeLine[^1].Y },
                    heelU = view.Seen.HeelUMm,
                    tipU = Math.Min(99, view.Seen.TipUMm),
                    lifted = view.Lifted,
                    places = view.Seen.Places.Select(p => new[] { p.AtMm, Math.Max(-99, p.LogOdds), p.Shape.DepthMm, p.Shape.WidthMm }),
                    lines = new[] { Line(null) }.Concat(at.Select(a => Line(a))),
                });
            }

            if (photos.Count == 2)
                File.WriteAllText(Path.Combine(into, Path.GetFileName(folder) + ".json"), JsonSerializer.Serialize(photos, options));
            Console.WriteLine($"{Path.GetFileName(folder)} {watch.Elapsed.TotalSeconds:0.0} s");
        }
    }

    private static double[][] Flat(IEnumerable<Point2> p) => [.. p.Select(q => new[] { Math.Round(q.X, 4), Math.Round(q.Y, 4) })];
}
