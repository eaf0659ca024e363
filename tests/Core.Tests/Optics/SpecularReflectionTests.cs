using CsCheck;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>The law of reflection: Hewitt, Conceptual Physics, 12th ed., ch. 28 (secondary); vector form from ray-tracing notes (secondary).</summary>
public sealed class SpecularReflectionTests
{
    private static readonly Gen<UnitVector3> Directions =
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[-1, 1]).Where((x, y, z) => (x * x) + (y * y) + (z * z) > 0.01)
            .Select((x, y, z) => UnitVector3.From(x, y, z));

    [Fact]
    public void A_mirror_turned_by_forty_five_degrees_turns_the_ray_by_ninety()
    {
        // Hewitt ch. 28, Think and Solve 38.
        UnitVector3 before = SpecularReflection.Reflect(SpecularReflection.Beam, UnitVector3.From(0, 0, -1));
        UnitVector3 after = SpecularReflection.Reflect(SpecularReflection.Beam, UnitVector3.From(1, 0, -1));

        Assert.Equal(90, before.AngleTo(after).Degrees, 1e-9);
    }

    [Theory]
    [InlineData(10, 36.3970)]
    [InlineData(12.5, 46.6308)]
    [InlineData(15, 57.7350)]
    [InlineData(17.5, 70.0208)]
    [InlineData(20, 83.9100)]
    public void On_a_card_a_hundred_millimetres_away_the_mark_lies_at_L_tan_two_beta(double bevel, double x)
    {
        UnitVector3 normal = SpecularReflection.FacetNormal(Side.Right, Angle.FromDegrees(bevel));

        Point2 mark = SpecularReflection.MarkOf(normal, new(Length.FromMillimetres(100)))!.Value;

        Assert.Equal(x, mark.X, 0.0001);
        Assert.Equal(0, mark.Y, 1e-12);
    }

    [Fact]
    public void A_spot_two_millimetres_off_at_five_metres_is_a_mirror_turned_by_eleven_thousandths_of_a_degree()
    {
        // The optical lever: half of atan(2/5000).
        UnitVector3 normal = SpecularReflection.NormalFrom(new(2, 0), new(Length.FromMillimetres(5000)));

        Assert.Equal(0.011459, double.RadiansToDegrees(Math.Atan2(-normal.Z, normal.X)), 1e-6);
    }

    [Fact]
    public void An_oblique_beam_keeps_its_angle_to_the_edge()
    {
        // Edge (0,1,0), d = (0, sin 10°, −cos 10°), n = (cos 15°, 0, sin 15°): r = (0.4924039, 0.1736482, −0.8528685).
        UnitVector3 d = UnitVector3.From(0, Math.Sin(10 * Math.PI / 180), -Math.Cos(10 * Math.PI / 180));
        UnitVector3 n = UnitVector3.From(Math.Cos(15 * Math.PI / 180), 0, Math.Sin(15 * Math.PI / 180));

        UnitVector3 r = SpecularReflection.Reflect(d, n);

        Assert.Equal(0.4924039, r.X, 1e-7);
        Assert.Equal(0.1736482, r.Y, 1e-7);
        Assert.Equal(-0.8528685, r.Z, 1e-7);
    }

    [Fact]
    public void Reflection_keeps_length_and_angle_and_does_not_mind_the_normals_sign_and_twice_is_nothing() =>
        Gen.Select(Directions, Directions).Sample(
            (d, n) =>
            {
                UnitVector3 r = SpecularReflection.Reflect(d, n);
                UnitVector3 other = SpecularReflection.Reflect(d, -n);
                UnitVector3 back = SpecularReflection.Reflect(r, n);
                return Math.Abs(r.AsVector().Norm - 1) < 1e-12
                    && Math.Abs(r.Dot(n) + d.Dot(n)) < 1e-12
                    && (r.AsVector() - other.AsVector()).Norm < 1e-12
                    && (back.AsVector() - d.AsVector()).Norm < 1e-12;
            },
            seed: "0N0XIzNsQ0O2", iter: 500);

    [Fact]
    public void From_mark_to_normal_and_back_is_the_same_place() =>
        Gen.Select(Gen.Double[-200, 200], Gen.Double[-80, 80], Gen.Double[-20, 20], Gen.Double[-20, 20], Gen.Double[50, 300])
            .Where(t => Math.Abs(t.Item1) > 0.1)
            .Sample(
                (x, y, yaw, pitch, distance) =>
                {
                    TargetPlane target = new(Length.FromMillimetres(distance), new(1.5, -2), Angle.FromDegrees(yaw), Angle.FromDegrees(pitch), Angle.FromDegrees(3));
                    Point2 mark = SpecularReflection.MarkOf(SpecularReflection.NormalFrom(new(x, y), target), target)!.Value;
                    return mark.DistanceTo(new(x, y)) < 1e-8;
                },
                seed: "0N0XIzNsQ0O2", iter: 300);

    [Fact]
    public void A_facet_at_forty_five_degrees_or_more_throws_no_light_onto_the_target()
    {
        TargetPlane target = new(Length.FromMillimetres(100));

        Assert.Null(SpecularReflection.MarkOf(SpecularReflection.FacetNormal(Side.Right, Angle.FromDegrees(45)), target));
        Assert.Null(SpecularReflection.MarkOf(SpecularReflection.FacetNormal(Side.Left, Angle.FromDegrees(60)), target));
        Assert.NotNull(SpecularReflection.MarkOf(SpecularReflection.FacetNormal(Side.Left, Angle.FromDegrees(44)), target));
    }

    [Fact]
    public void Yaw_pitch_and_turn_of_the_sheet_go_the_way_the_conventions_say()
    {
        Length hundred = Length.FromMillimetres(100);
        Angle ten = Angle.FromDegrees(10);

        Assert.True(new TargetPlane(hundred, yaw: ten).PointInBeam(new(10, 0)).Z > 100);
        Assert.True(new TargetPlane(hundred, pitch: ten).PointInBeam(new(0, 10)).Z > 100);
        Assert.True(new TargetPlane(hundred, turn: ten).PointInBeam(new(10, 0)).Y > 0);
    }
}
