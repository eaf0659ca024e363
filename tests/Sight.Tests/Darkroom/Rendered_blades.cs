using System.Text.Json.Nodes;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Mats;

namespace Whetwright.Sight.Tests.Darkroom;

public sealed class Rendered_blades
{
    private const int WidthPx = 640;

    [Fact]
    public void The_same_seed_gives_the_same_bytes_and_the_second_photograph_differs()
    {
        MatPhotographs once = new(MatScene.Generate(Difficulty.Normal, 3), WidthPx);
        MatPhotographs again = new(MatScene.Generate(Difficulty.Normal, 3), WidthPx);
        byte[] first = once.Jpeg();
        Assert.Equal(first, again.Jpeg());
        Assert.NotEqual(first, once.Jpeg(second: true));
    }

    [Fact]
    public void An_outline_is_finite_where_the_spines_last_step_rounds_to_just_before_its_curve()
    {
        MatScene scene = MatScene.Generate(Difficulty.Hard, 55029);

        Assert.All(scene.Shape.Outline, p => Assert.True(double.IsFinite(p.X) && double.IsFinite(p.Y), $"{p.X}, {p.Y}"));
    }

    [Fact]
    public void The_edge_is_seen_where_the_ray_past_it_meets_the_mat()
    {
        for (int seed = 1; seed <= 3; seed++)
        {
            JsonObject truth = new MatPhotographs(MatScene.Generate(Difficulty.Hard, seed), WidthPx).Truth();
            double[] camera = Numbers(truth["camera"]!["positionMm"]!);
            double[] tip = Numbers(truth["tipMm"]!);
            double[] seen = Numbers(truth["seenEdgeMm"]!.AsArray()[^1]!);
            double height = (double)truth["edgeHeight"]!["atTipMm"]!;
            // Camera, tip and the seen place lie on one line: the tip is at the share height/camera height down from it.
            double share = height / camera[2];
            Assert.InRange(tip[0] - (seen[0] + (share * (camera[0] - seen[0]))), -0.001, 0.001);
            Assert.InRange(tip[1] - (seen[1] + (share * (camera[1] - seen[1]))), -0.001, 0.001);
            Assert.True(height > 0);
        }
    }

    [Fact]
    public void A_coin_or_a_pens_ring_lies_clear_of_the_blade()
    {
        int seen = 0;
        for (int seed = 1; seed <= 120; seed++)
        {
            MatScene scene = MatScene.Generate(Difficulty.Normal, seed);
            MatFrame frame = new(scene.Blade);
            IReadOnlyList<Point2> outline = scene.Shape.Outline;
            foreach (Lying lying in scene.About.Where(l => l.Kind is "coin" or "pen"))
            {
                seen++;
                for (int i = 0; i < outline.Count; i++)
                {
                    // Places along each side of the outline, a millimetre apart.
                    Point2 from = outline[i];
                    Vector2 side = outline[(i + 1) % outline.Count] - from;
                    for (double at = 0; at < side.Norm; at++)
                        Assert.True(frame.ToMat(from + (side * (at / side.Norm))).DistanceTo(lying.AtMm) > lying.RadiusMm + 7.5, $"seed {seed}: a {lying.Kind} lies against the blade");
                }
            }
        }

        Assert.True(seen > 20, $"{seen} things about");
    }

    [Fact]
    public void Steel_hides_the_mat_inside_the_outline_and_only_there()
    {
        MatScene scene = MatScene.Generate(Difficulty.Easy, 4);
        MatScene dark = scene with { Blade = scene.Blade with { Finish = Finish.Patina }, Handle = null, About = [], Grid = false };
        MatPhotographs photographs = new(dark, 1200);
        using Mat picture = photographs.Picture();
        MatFrame frame = new(dark.Blade);
        Point2 heel = dark.Shape.NominalEdge[dark.Shape.NominalEdge.Count / 3];
        double Level(double inward)
        {
            Point2 mat = frame.ToMat(new(heel.X, heel.Y + inward));
            Point2 at = photographs.First.See(new(mat.X, mat.Y, 0))!.Value;
            Vec3b pixel = picture.At<Vec3b>((int)Math.Round(at.Y), (int)Math.Round(at.X));
            return (pixel[0] + pixel[1] + pixel[2]) / 3.0;
        }

        double paper = Level(-20);
        Assert.InRange(paper, 110, 254);
        Assert.True(Math.Abs(Level(-4) - paper) < 25, $"four millimetres outside lies paper: {Level(-4)} against {paper}");
        Assert.True(Math.Abs(Level(8) - paper) > 12, $"eight millimetres inside lies steel: {Level(8)} against {paper}");
    }

    [Fact]
    public void Chips_are_as_deep_as_the_truth_says()
    {
        int found = 0;
        for (int seed = 1; seed <= 8; seed++)
        {
            MatScene scene = MatScene.Generate(Difficulty.Normal, seed);
            foreach (Chip chip in scene.Shape.Chips)
            {
                found++;
                double deepest = scene.Shape.Edge.Select((p, i) => (At: i, Depth: p.DistanceTo(scene.Shape.NominalEdge[i])))
                    .Where(p => Math.Abs(Arc(scene.Shape.NominalEdge, p.At) - chip.AtMm) < chip.WidthMm / 2).Max(p => p.Depth);
                Assert.InRange(deepest, chip.DepthMm * 0.8, chip.DepthMm * 1.0001);
            }
        }

        Assert.True(found > 3);
    }

    [Fact]
    public void A_useless_photograph_says_why()
    {
        MatScene scene = MatScene.Generate(Difficulty.Hard, 1);
        JsonObject truth = new MatPhotographs(scene with { Defect = "tip-covered" }, WidthPx).Truth();
        Assert.True((bool)truth["shouldRefuse"]!);
        Assert.Equal("the tip is covered", (string)truth["refuseReasons"]!.AsArray()[0]!);
    }

    private static double Arc(IReadOnlyList<Point2> line, int at) => Enumerable.Range(1, at).Sum(i => line[i - 1].DistanceTo(line[i]));

    private static double[] Numbers(JsonNode array) => [.. array.AsArray().Select(n => (double)n!)];
}
