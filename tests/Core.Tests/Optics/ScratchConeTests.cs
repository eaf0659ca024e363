using CsCheck;
using Whetwright.Core.Metrology;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Arcs of scattered light and the specular point on them. Cone about a line: ray-tracing notes (secondary), derived.</summary>
public sealed class ScratchConeTests
{
    private static readonly TargetPlane Target = new(Length.FromMillimetres(120));
    private static readonly UnitVector3 Edge = SpecularReflection.EdgeDirection(Angle.Zero);

    [Fact]
    public void With_scratches_square_to_the_edge_the_reading_is_the_arcs_extreme_on_the_reading_row()
    {
        IReadOnlyList<Point2> arc = Arc(Side.Right, 15, skew: 0, spread: 40, points: 201);

        double extreme = arc.Max(p => p.X);
        Assert.Equal(120 * Math.Tan(30 * Math.PI / 180), extreme, 1e-6);
        Assert.Equal(0, arc.MaxBy(p => p.X).Y, 1e-6);
        Assert.True(arc.Average(p => p.X) < extreme - 3, "the centroid would read too little");
    }

    [Fact]
    public void Every_scattered_ray_keeps_the_beams_angle_to_the_scratches() =>
        Gen.Select(Gen.Double[5, 22], Gen.Double[-40, 40], Gen.Double[-60, 60]).Sample(
            (bevel, skew, turn) =>
            {
                UnitVector3 n = SpecularReflection.FacetNormal(Side.Right, Angle.FromDegrees(bevel));
                UnitVector3 s = ScratchCone.ScratchDirection(n, Edge, Angle.FromDegrees(skew));
                UnitVector3 r = ScratchCone.ScatteredRay(n, s, Angle.FromDegrees(turn));
                return Math.Abs(s.Dot(n)) < 1e-12 && Math.Abs(r.Dot(s) - SpecularReflection.Beam.Dot(s)) < 1e-12;
            },
            seed: "0N0XIzNsQ0O2", iter: 300);

    [Fact]
    public void The_fit_gives_bevel_and_skew_back_from_an_exact_arc_on_either_side() =>
        Gen.Select(Gen.Double[5, 21], Gen.Double[-35, 35], Gen.Double[-3, 3], Gen.Double[-4, 4], Gen.Bool).Sample(
            (bevel, skew, roll, pitch, isRight) =>
            {
                Side side = isRight ? Side.Right : Side.Left;
                UnitVector3 e = SpecularReflection.EdgeDirection(Angle.FromDegrees(pitch));
                UnitVector3 n = SpecularReflection.FacetNormal(side, Angle.FromDegrees(bevel), Angle.FromDegrees(roll), Angle.FromDegrees(pitch));
                ArcPoint[] arc = [.. ScratchCone.Arc(n, e, Angle.FromDegrees(skew), Target, Angle.FromDegrees(25), 41).Select(p => new ArcPoint(p, 0.1))];
                ScratchConeReading fit = ScratchConeFit.Fit(arc, Target, new(MeasuredAngle.FromDegrees(pitch, 0), Angle.Zero)).Reading!;
                double asRead = bevel + ((isRight ? 1 : -1) * roll);
                return Math.Abs(fit.AsRead.Value.Degrees - asRead) < 1e-7 && Math.Abs(fit.Skew.Value.Degrees - skew) < 1e-6
                    && fit.AtMm.DistanceTo(SpecularReflection.MarkOf(n, Target)!.Value) < 1e-6;
            },
            seed: "0N0XIzNsQ0O2", iter: 200);

    [Fact]
    public void With_skewed_scratches_the_arcs_extreme_reads_wrong_and_the_fit_right()
    {
        IReadOnlyList<Point2> arc = Arc(Side.Right, 15, skew: 20, spread: 40, points: 201);
        double Read(double x) => 0.5 * double.RadiansToDegrees(Math.Atan2(x, 120));

        ScratchConeReading fit = ScratchConeFit.Fit([.. arc.Select(p => new ArcPoint(p, 0.1))], Target).Reading!;

        Assert.True(Math.Abs(Read(arc.Max(p => p.X)) - 15) > 0.3);
        Assert.Equal(15, fit.AsRead.Value.Degrees, 1e-6);
    }

    [Fact]
    public void Noisy_arcs_are_read_as_well_as_the_stated_uncertainty_says()
    {
        RandomDraws random = new(11);
        double[] z = new double[300];
        for (int i = 0; i < z.Length; i++)
        {
            ArcPoint[] arc = [.. Arc(Side.Left, 14, skew: 8, spread: 20, points: 40).Select(p =>
                new ArcPoint(new(p.X + (0.2 * random.Normal()), p.Y + (0.2 * random.Normal())), 0.2))];
            ScratchConeReading fit = ScratchConeFit.Fit(arc, Target).Reading!;
            z[i] = (fit.AsRead.Value.Degrees - 14) / fit.AsRead.StandardUncertainty.Degrees;
        }

        Assert.InRange(Math.Sqrt(z.Average(v => v * v)), 0.85, 1.1);
    }

    [Fact]
    public void Doubt_about_pitch_and_lean_of_the_edge_enters_the_uncertainty()
    {
        ArcPoint[] arc = [.. Arc(Side.Right, 15, skew: 20, spread: 25, points: 41).Select(p => new ArcPoint(p, 0.1))];

        double sure = ScratchConeFit.Fit(arc, Target).Reading!.AsRead.StandardUncertainty.Degrees;
        double unsure = ScratchConeFit.Fit(arc, Target, new(MeasuredAngle.FromDegrees(0, 1), Angle.FromDegrees(1))).Reading!.AsRead.StandardUncertainty.Degrees;

        Assert.True(unsure > 2 * sure, $"{unsure} against {sure}");
    }

    [Fact]
    public void What_was_known_of_the_skew_steadies_an_arc_that_lies_to_one_side_of_its_vertex()
    {
        ArcPoint[] arc = [.. Arc(Side.Right, 15, skew: 5, spread: 25, points: 61).Skip(50).Select(p => new ArcPoint(p, 0.2))];

        double free = ScratchConeFit.Fit(arc, Target).Reading!.AsRead.StandardUncertainty.Degrees;
        double known = ScratchConeFit.Fit(arc, Target, skewPrior: MeasuredAngle.FromDegrees(5, 0.1)).Reading!.AsRead.StandardUncertainty.Degrees;

        Assert.True(known < 0.9 * free, $"{known} against {free}");
    }

    [Fact]
    public void Scratches_along_the_edge_leave_a_streak_without_a_vertex_and_the_fit_says_so()
    {
        ArcPoint[] arc = [.. Arc(Side.Right, 15, skew: 88, spread: 8, points: 41).Select(p => new ArcPoint(p, 0.1))];

        ConeFitResult fit = ScratchConeFit.Fit(arc, Target);

        Assert.Null(fit.Reading);
        Assert.Equal("streak-without-vertex", fit.Refusal!.Code);
    }

    [Fact]
    public void Two_points_make_no_arc() => Assert.Throws<ArgumentException>(
        () => ScratchConeFit.Fit([new(new(50, 0), 0.1), new(new(50, 1), 0.1)], Target));

    private static IReadOnlyList<Point2> Arc(Side side, double bevel, double skew, double spread, int points) => ScratchCone.Arc(
        SpecularReflection.FacetNormal(side, Angle.FromDegrees(bevel)), Edge, Angle.FromDegrees(skew), Target, Angle.FromDegrees(spread), points);
}
