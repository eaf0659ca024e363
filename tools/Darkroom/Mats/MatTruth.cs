using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;

namespace Whetwright.Darkroom.Mats;

/// <summary>Writes down what is true of a blade on the mat: places in the mat's mm, heights above it.</summary>
internal sealed class MatTruth(MatPhotographs photographs)
{
    private readonly MatScene _scene = photographs.Scene;
    private readonly MatBody _body = photographs.Body;

    public JsonObject Write()
    {
        BladeShape shape = _scene.Shape;
        Point2 heel = shape.NominalEdge[0];
        Point2 tip = shape.NominalEdge[^1];
        double[] heights = [.. shape.Edge.Select(_body.EdgeHeightAt)];
        string[] reasons = _scene.Defect switch
        {
            "oblique" => ["seen too obliquely"],
            "blurred" => ["too blurred"],
            "tip-covered" => ["the tip is covered"],
            "heel-covered" => ["the heel is covered"],
            _ => [],
        };
        var chord = tip - heel;
        double OverChord(Point2 p) => Math.Abs(chord.Cross(p - heel)) / chord.Norm;
        return new()
        {
            ["seed"] = _scene.Seed,
            ["difficulty"] = _scene.Difficulty.ToString().ToLowerInvariant(),
            ["renderer"] = "darkroom 1",
            ["shape"] = shape.Family.ToString().ToLowerInvariant(),
            ["finish"] = _scene.Blade.Finish.ToString().ToLowerInvariant(),
            ["handle"] = _scene.Handle?.Kind ?? "none",
            ["about"] = new JsonArray([.. _scene.About.Select(a => JsonValue.Create(a.Kind)), .. _scene.Blade.Engraved ? [JsonValue.Create("engraving")] : Array.Empty<JsonNode>()]),
            ["lights"] = new JsonArray([.. _scene.Lamps.Select(l => new JsonObject { ["kind"] = l.Kind, ["atMm"] = new JsonArray(l.AtMm.X, l.AtMm.Y, l.AtMm.Z), ["shareOfRoom"] = l.Share })]),
            ["defect"] = _scene.Defect,
            ["shouldRefuse"] = reasons.Length > 0,
            ["refuseReasons"] = new JsonArray([.. reasons.Select(r => JsonValue.Create(r))]),
            ["mayRefuse"] = reasons.Length > 0,
            ["outlineMm"] = Line(shape.Outline),
            ["knifeOutlineMm"] = Line([.. shape.Outline, .. _body.HandleOutline()]),
            ["edgeMm"] = Line(shape.Edge),
            ["edgeNominalMm"] = Line(shape.NominalEdge),
            ["edgeHeightsMm"] = new JsonArray([.. heights.Select(h => JsonValue.Create(Math.Round(h, 4)))]),
            ["heelMm"] = At(heel),
            ["tipMm"] = At(tip),
            ["lengthMm"] = shape.LengthMm,
            ["heightMm"] = shape.HeightMm,
            ["heightOverChordMm"] = shape.Outline.Max(OverChord),
            ["edgeArcMm"] = Arc(shape.NominalEdge),
            ["chips"] = new JsonArray([.. shape.Chips.Select(c => new JsonObject
            {
                ["kind"] = c.Kind,
                ["atMm"] = c.AtMm,
                ["depthMm"] = c.DepthMm,
                ["widthMm"] = c.WidthMm,
                ["placeMm"] = At(PlaceOf(shape, c)),
            })]),
            ["blade"] = new JsonObject
            {
                ["spineMm"] = _scene.Blade.SpineMm,
                ["behindEdgeMm"] = _scene.Blade.BehindEdgeMm,
                ["bevelDeg"] = _scene.Blade.BevelDeg,
                ["roughness"] = _scene.Blade.Roughness,
                ["handleHalfMm"] = _scene.Handle?.HalfThickMm,
            },
            ["edgeHeight"] = new JsonObject
            {
                ["atHeelMm"] = heights[0],
                ["atTipMm"] = heights[^1],
                ["meanMm"] = heights.Average(),
                ["minMm"] = heights.Min(),
                ["maxMm"] = heights.Max(),
            },
            ["seenEdgeMm"] = Seen(photographs.First),
            ["camera"] = CameraOf(photographs.First, _scene.Shot),
            ["photo"] = PhotoOf(photographs.First),
            ["second"] = new JsonObject { ["seenEdgeMm"] = Seen(photographs.Second), ["camera"] = CameraOf(photographs.Second, _scene.SecondShot), ["photo"] = PhotoOf(photographs.Second) },
        };
    }

    private JsonArray Line(IEnumerable<Point2> points) => new([.. points.Select(At)]);

    private JsonArray At(Point2 blade)
    {
        Point2 mat = _body.Frame.ToMat(blade);
        return new(Math.Round(mat.X, 4), Math.Round(mat.Y, 4));
    }

    // Where the ray from the camera past a point of the edge meets the mat.
    private JsonArray Seen(LensCamera camera) => new([.. _scene.Shape.Edge.Select(p =>
    {
        Point2 mat = _body.Frame.ToMat(p);
        double height = _body.EdgeHeightAt(p);
        double stretch = height / (-camera.CentreMm.Z - height);
        return new JsonArray(Math.Round(mat.X + ((mat.X - camera.CentreMm.X) * stretch), 4), Math.Round(mat.Y + ((mat.Y - camera.CentreMm.Y) * stretch), 4));
    })]);

    private JsonObject PhotoOf(LensCamera camera)
    {
        JsonArray Px(Point2 blade)
        {
            Point2 mat = _body.Frame.ToMat(blade);
            Point2 at = camera.See(new(mat.X, mat.Y, -_body.EdgeHeightAt(blade)))!.Value;
            return new(Math.Round(at.X, 3), Math.Round(at.Y, 3));
        }

        return new()
        {
            ["edgePx"] = new JsonArray([.. _scene.Shape.Edge.Select(Px)]),
            ["heelPx"] = Px(_scene.Shape.NominalEdge[0]),
            ["tipPx"] = Px(_scene.Shape.NominalEdge[^1]),
        };
    }

    private JsonObject CameraOf(LensCamera camera, MatShot shot)
    {
        double tilt = double.RadiansToDegrees(Math.Acos(Math.Clamp(camera.Forward.Z, -1, 1)));
        return new()
        {
            ["positionMm"] = new JsonArray(camera.CentreMm.X, camera.CentreMm.Y, -camera.CentreMm.Z),
            ["tiltDeg"] = tilt,
            ["heightMm"] = -camera.CentreMm.Z,
            ["focalPx"] = camera.FocalPx,
            ["focal35Mm"] = shot.F35Mm,
            ["widthPx"] = camera.WidthPx,
            ["heightPx"] = camera.HeightPx,
            ["k1"] = camera.K1,
            ["k2"] = camera.K2,
            ["axes"] = new JsonArray(Axis(camera.Right), Axis(camera.Down), Axis(camera.Forward)),
            ["markersInFrame"] = photographs.FiducialsSeen(camera),
            ["pxPerMmAtBlade"] = camera.FocalPx / -camera.CentreMm.Z,
        };
    }

    // In the mat's frame with heights upward, as positionMm.
    private static JsonArray Axis(Vector3 v) => new(v.X, v.Y, -v.Z);

    private static double Arc(IReadOnlyList<Point2> line) => Enumerable.Range(1, line.Count - 1).Sum(i => line[i - 1].DistanceTo(line[i]));

    private static Point2 PlaceOf(BladeShape shape, Chip chip)
    {
        double left = chip.AtMm;
        for (int i = 1; i < shape.NominalEdge.Count; i++)
        {
            left -= shape.NominalEdge[i - 1].DistanceTo(shape.NominalEdge[i]);
            if (left <= 0)
                return shape.Edge[i];
        }

        return shape.Edge[^1];
    }
}
