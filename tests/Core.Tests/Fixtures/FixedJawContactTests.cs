using CsCheck;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>The leaning blade in space against the closed form, where that must hold and where it cannot.</summary>
public sealed class FixedJawContactTests
{
    private const double R = 123.8, J = 46, Back = 80;

    private static double Exact(double leanDeg, double psiDeg, double along, double p, double d)
    {
        (double sin, double cos) = Math.SinCos(double.DegreesToRadians(psiDeg));
        double lean = double.DegreesToRadians(leanDeg);
        Point2 edge = new((along * cos) - (p * sin), (along * sin) + (p * cos) - Back);
        return FixedJawContact.AngleRad(R, d, new(0, -Back), J * Math.Sin(lean), lean, 0, edge, new(cos, sin));
    }

    [Fact]
    public void With_the_tangent_along_the_jaw_or_without_a_lean_it_is_the_closed_form() =>
        (from lean in Gen.Double[-4, 4]
         from psi in Gen.Double[-20, 20]
         from straight in Gen.Bool
         from along in Gen.Double[-80, 80]
         from p in Gen.Double[70, 95]
         from alpha in Gen.Double[9, 20]
         select (Lean: straight ? lean : 0, Psi: straight ? 0 : psi, along, p, alpha)).Sample(
            x =>
            {
                double q = J * Math.Sin(double.DegreesToRadians(x.Lean));
                double angle = double.DegreesToRadians(x.alpha);
                double d = WheelAndBar.CentreDistanceMm(R, angle, x.p, q);
                Assert.Equal(angle, Exact(x.Lean, x.Psi, x.along, x.p, d), 1e-9);
            },
            iter: 200,
            seed: "0000Kp2mUO25");

    [Fact]
    public void On_the_belly_the_lean_moves_the_two_sides_apart_by_tenths_of_a_degree()
    {
        double q = J * Math.Sin(double.DegreesToRadians(2.2));
        double left = WheelAndBar.CentreDistanceMm(R, double.DegreesToRadians(14), 82, -q);
        double right = WheelAndBar.CentreDistanceMm(R, double.DegreesToRadians(14), 82, q);
        double onJaw = double.RadiansToDegrees(Exact(-2.2, -7, 20, 82, left)) - 14;
        double free = double.RadiansToDegrees(Exact(2.2, -7, 20, 82, right)) - 14;
        Assert.InRange(free, 0.05, 0.6);
        Assert.InRange(onJaw, -0.6, -0.05);
    }
}
