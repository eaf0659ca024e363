using System.Text.Json.Nodes;
using OpenCvSharp;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;

namespace Whetwright.Sight.Tests.Darkroom;

public sealed class Rendered_marks
{
    private const int WidthPx = 480;

    [Fact]
    public void The_same_seed_gives_the_same_bytes_and_another_seed_gives_others()
    {
        byte[] once = new MarkPhotographs(MarkScene.Generate(Difficulty.Normal, 7), WidthPx).Jpeg(PhotoKind.Lit);
        byte[] again = new MarkPhotographs(MarkScene.Generate(Difficulty.Normal, 7), WidthPx).Jpeg(PhotoKind.Lit);
        byte[] other = new MarkPhotographs(MarkScene.Generate(Difficulty.Normal, 8), WidthPx).Jpeg(PhotoKind.Lit);
        Assert.Equal(once, again);
        Assert.NotEqual(once, other);
    }

    [Theory]
    [InlineData(Side.Right, 9.0, 0.0, 0.0)]
    [InlineData(Side.Left, 9.0, 0.0, 0.0)]
    [InlineData(Side.Right, 15.0, 1.5, 0.0)]
    [InlineData(Side.Left, 15.0, 1.5, 3.0)]
    [InlineData(Side.Right, 21.0, -2.0, -4.0)]
    public void A_smooth_facets_traced_light_falls_where_the_law_of_reflection_says(Side side, double bevelDeg, double rollDeg, double pitchDeg)
    {
        SceneLight light = new(Smooth(bevelDeg, rollDeg, pitchDeg));
        FacetLight traced = light.Of(side, "bevel");
        (_, _, Point2 centroid, _) = traced.Map.Measure();
        TargetPlane plane = new(Length.FromMillimetres(80), light.Scene.Target.ZeroMm);
        Point2 expected = SpecularReflection.MarkOf(
            SpecularReflection.FacetNormal(side, Angle.FromDegrees(bevelDeg), Angle.FromDegrees(rollDeg), Angle.FromDegrees(pitchDeg)), plane)!.Value;
        // The facet is 0.1 mm wide and starts at the edge: its light leaves up to 0.04 mm beside the axis.
        Assert.InRange(centroid.DistanceTo(expected), 0, 0.07);
        Assert.InRange(traced.IdealMm!.Value.DistanceTo(expected), 0, 0.07);
    }

    [Fact]
    public void Scratches_across_the_edge_bend_the_mark_into_an_arc_that_opens_toward_the_zero()
    {
        MarkScene smooth = Smooth(15, 0, 0);
        EdgeSide scratched = smooth.Right with { SlopeAcross = 0.12 };
        SceneLight light = new(smooth with { Right = scratched });
        FacetLight bevel = light.Of(Side.Right, "bevel");
        (_, _, Point2 centroid, double[] x) = bevel.Map.Measure();
        Assert.True(centroid.X < bevel.IdealMm!.Value.X - 0.3, "the arc's ends lie nearer the zero than its vertex");
        Assert.InRange(x[2], bevel.IdealMm.Value.X - 0.4, bevel.IdealMm.Value.X + 0.8);
    }

    [Fact]
    public void No_light_is_made_from_nothing()
    {
        for (int seed = 20; seed < 22; seed++)
        {
            SceneLight light = new(MarkScene.Generate(Difficulty.Hard, seed) with { Distractors = [] });
            Assert.InRange(light.BareFraction + light.Facets.Sum(f => f.PowerFraction), 0.01, 1.001);
            Assert.All(light.Facets, f => Assert.InRange(f.Map.Power, 0, f.PowerFraction * 1.0001));
        }
    }

    [Fact]
    public void The_laser_shows_in_the_lit_photograph_and_not_in_the_one_without_it()
    {
        MarkPhotographs photographs = new(MarkScene.Generate(Difficulty.Easy, 5), WidthPx);
        using Mat lit = photographs.Picture(PhotoKind.Lit);
        using Mat off = photographs.Picture(PhotoKind.Off);
        using Mat dark = photographs.Picture(PhotoKind.Dark);
        Point2 mark = photographs.Light.Of(Side.Right, "bevel").Map.Measure().PeakMm;
        Point2 seen = photographs.Camera.See(new(mark.X, mark.Y, 0))!.Value;
        int channel = photographs.Scene.Beam.Colour == "red" ? 2 : 1;
        int Level(Mat picture) => picture.At<Vec3b>((int)Math.Round(seen.Y), (int)Math.Round(seen.X))[channel];
        Assert.True(Level(lit) > Level(off) + 20, $"lit {Level(lit)}, off {Level(off)}");
        Assert.True(Level(dark) > 60, $"dark {Level(dark)}");
        Assert.True(Cv2.Mean(dark).Val1 < Cv2.Mean(lit).Val1);
    }

    [Fact]
    public void Paper_is_neither_black_nor_full_and_ink_is_darker()
    {
        for (int seed = 30; seed < 32; seed++)
        {
            MarkPhotographs photographs = new(MarkScene.Generate(Difficulty.Easy, seed), WidthPx);
            using Mat off = photographs.Picture(PhotoKind.Off);
            byte Green(double x, double y)
            {
                Point2 at = photographs.Camera.See(new(x, y, 0))!.Value;
                return off.At<Vec3b>((int)Math.Round(at.Y), (int)Math.Round(at.X))[1];
            }

            var fiducial = photographs.Scene.Target.Fiducials[0];
            double module = fiducial.ModuleMm;
            byte ink = Green(fiducial.LeftMm + (module / 2), fiducial.TopMm + (3 * module));
            byte paper = Green(fiducial.LeftMm + (3 * module), fiducial.BottomMm + 5);
            Assert.InRange(paper, 70, 250);
            Assert.True(ink < paper - 40, $"ink {ink}, paper {paper}");
        }
    }

    [Fact]
    public void A_pixels_ray_comes_back_to_its_pixel_through_the_bent_lens()
    {
        MarkPhotographs photographs = new(MarkScene.Generate(Difficulty.Hard, 3), 1600);
        Vector3 ray = photographs.Camera.RayThrough(120, 1100);
        Point2 back = photographs.Camera.See(photographs.Camera.CentreMm + (ray * 300))!.Value;
        Assert.InRange(back.DistanceTo(new(120, 1100)), 0, 0.01);
    }

    [Fact]
    public void The_truth_agrees_with_itself()
    {
        for (int seed = 40; seed < 42; seed++)
        {
            MarkScene scene = MarkScene.Generate(Difficulty.Normal, seed);
            JsonObject truth = new MarkPhotographs(scene, WidthPx).Truth();
            JsonNode report = truth["report"]!;
            double right = (double)report["edge_bevel_deg"]!["R"]!;
            double left = (double)report["edge_bevel_deg"]!["L"]!;
            double roll = (double)report["roll_deg"]!;
            Assert.Equal(right + left, (double)report["included_deg"]!, 9);
            Assert.Equal(right + roll, (double)report["edge_bevel_as_read_deg"]!["R"]!, 9);
            Assert.Equal(left - roll, (double)report["edge_bevel_as_read_deg"]!["L"]!, 9);
            Assert.Equal(left, (double)truth["turned"]!["report"]!["edge_bevel_deg"]!["R"]!, 9);
            bool clear = (string)report["visibility"]!["R"]! == "clear" && (string)report["visibility"]!["L"]! == "clear";
            Assert.Equal(!clear, (bool)report["may_refuse_included"]!);
            Assert.True((bool)report["may_refuse_included"]! || !(bool)report["should_refuse_included"]!, "what must be refused may be refused");
        }
    }

    [Fact]
    public void A_beam_that_passes_beside_the_edge_must_be_refused_with_that_reason()
    {
        MarkScene scene = MarkScene.Generate(Difficulty.Easy, 2);
        JsonNode report = new MarkPhotographs(scene with { Pose = scene.Pose with { OffsetMm = 8 } }, WidthPx).Truth()["report"]!;
        Assert.True((bool)report["should_refuse_included"]!);
        Assert.Contains("the beam misses this side", (string)report["visibility"]!["R"]!, StringComparison.Ordinal);
    }

    private static MarkScene Smooth(double bevelDeg, double rollDeg, double pitchDeg)
    {
        MarkScene scene = MarkScene.Generate(Difficulty.Easy, 1);
        EdgeSide side = scene.Right with
        {
            BevelDeg = bevelDeg, CurvatureDeg = 0, BevelWidthMm = 0.1, MicroDeg = null, MicroWidthMm = null, SlopeAcross = 1e-4, SlopeAlong = 1e-4, SkewDeg = 0, PrimaryDeg = 4,
        };
        return scene with
        {
            Right = side,
            Left = side,
            Pose = scene.Pose with
            {
                RollDeg = rollDeg, PitchDeg = pitchDeg, TwistDeg = 0, OffsetMm = 0, ApexRadiusUm = 0.1, LandUm = 0, NominalMm = 80, TrueMm = 80, SheetYawDeg = 0, SheetPitchDeg = 0,
                SheetRotDeg = 0, ZeroOffsetMm = new(0, 0),
            },
            Beam = scene.Beam with { DivergenceMrad = 0 },
            Nicks = [],
            Distractors = [],
        };
    }
}
