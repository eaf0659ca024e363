using MathNet.Numerics.RootFinding;

using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>
/// The closed forms against a rigid blade, a bar and a wheel in space, brought into contact by a root finder. The bodies are built from their own
/// dimensions and turned by rotation matrices; none of the formulas under test is used. Axis of the wheel and bar along y.
/// </summary>
public sealed class WheelAndBarContactTests
{
    private static readonly Vector3 Axis = new(0, 0, 0);

    [Theory]
    [InlineData(Side.Left, BarSeat.Through, 11)]
    [InlineData(Side.Right, BarSeat.Through, 12)]
    [InlineData(Side.Left, BarSeat.Rests, 13)]
    [InlineData(Side.Right, BarSeat.Rests, 14)]
    public void The_angle_is_that_of_a_rigid_blade_in_contact_for_200_random_rigs(Side side, BarSeat seat, int seed)
    {
        Random random = new(seed);
        double worst = 0;
        for (int i = 0; i < 200; i++)
        {
            (double radius, double p, double c, double s, double rb, double wanted) = Rig(random);
            double q = WheelAndBar.OffsetMm(seat, side, c, s, rb);
            double distance = WheelAndBar.CentreDistanceMm(radius, wanted, p, q);
            double measured = Contact(radius, distance, side, seat, c, s, rb, edge: new(p, 0, 0), back: new(-1, 0, 0), left: new(0, 0, 1));
            worst = Math.Max(worst, Math.Abs(double.RadiansToDegrees(measured - wanted)));
            worst = Math.Max(worst, Math.Abs(double.RadiansToDegrees(WheelAndBar.AngleRad(radius, distance, p, q) - wanted)));
        }

        Assert.True(worst < 1e-5, $"{worst}°");
    }

    [Theory]
    [InlineData(Side.Left, Side.Left, BarSeat.Through, 21)]
    [InlineData(Side.Right, Side.Left, BarSeat.Through, 22)]
    [InlineData(Side.Left, Side.Right, BarSeat.Rests, 23)]
    [InlineData(Side.Right, Side.Right, BarSeat.Rests, 24)]
    public void A_flank_on_a_fixed_jaw_tilts_the_blade_as_the_offset_gain_says(Side side, Side jawSide, BarSeat seat, int seed)
    {
        Random random = new(seed);
        for (int i = 0; i < 200; i++)
        {
            (double radius, double p, double c, double s, double rb, double wanted) = Rig(random);
            double tilt = double.DegreesToRadians(0.5 + (4 * random.NextDouble()));
            double jaw = p * (0.5 + (0.3 * random.NextDouble()));
            double protrusion = p - (jaw * Math.Cos(tilt));

            // Built from the holder: its plane is z = 0 with the bar at x = 0, the jaw's front at x = jaw. A wedge whose flank on the jaw's side
            // lies along the holder's plane thins toward the edge, so its middle plane nears that side there.
            double toLeft = (jawSide == Side.Left ? 1 : -1) * Math.Sin(tilt);
            Vector3 outward = new(Math.Cos(tilt), 0, toLeft);
            Vector3 edge = new Vector3(jaw, 0, 0) + (outward * protrusion);
            double gain = Grip.OffsetGainMm(p, protrusion, tilt) * Grip.Sign(side, jawSide);
            Assert.Equal(Math.Abs(gain), Grip.OffsetGainFromJawMm(jaw, tilt), 1e-9);

            // The seat's own offset is square to the holder's plane; seen from the mid-plane it is longer and its foot moves.
            double seatQ = WheelAndBar.OffsetMm(seat, side, c, s, rb);
            double sign = side == Side.Left ? -1 : 1;
            double z = sign * seatQ;
            Vector3 left = new(-toLeft, 0, Math.Cos(tilt));
            Vector3 fromEdge = new Vector3(0, 0, z) - edge;
            double exactP = -fromEdge.Dot(outward);
            double exactQ = sign * fromEdge.Dot(left);
            Assert.Equal(seatQ * Math.Cos(tilt) + gain, exactQ, 1e-9);
            double distance = WheelAndBar.CentreDistanceMm(radius, wanted, exactP, exactQ);
            double measured = Contact(radius, distance, side, seat, c, s, rb, edge, outward * -1, left);
            Assert.Equal(0, double.RadiansToDegrees(measured - wanted), 1e-5);
        }
    }

    [Fact]
    public void A_fixed_jaw_makes_the_sides_differ_by_degrees_and_the_shim_squares_it()
    {
        double tilt = double.DegreesToRadians(2);
        double gain = Grip.OffsetGainMm(140, 40, tilt);
        double distance = WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(15), 140, 0);
        double left = WheelAndBar.AngleRad(125, distance, 140, gain * Grip.Sign(Side.Left, Side.Left));
        double right = WheelAndBar.AngleRad(125, distance, 140, gain * Grip.Sign(Side.Right, Side.Left));
        Assert.InRange(double.RadiansToDegrees(left - right), 2, 4);
        Assert.Equal(15 * Math.Tan(tilt), Grip.ShimMm(15, tilt), 1e-12);
    }

    private static (double Radius, double P, double C, double S, double Rb, double Wanted) Rig(Random random) => (
        60 + (90 * random.NextDouble()),
        90 + (90 * random.NextDouble()),
        (16 * random.NextDouble()) - 8,
        3 + (7 * random.NextDouble()),
        4 + (5 * random.NextDouble()),
        double.DegreesToRadians(5 + (30 * random.NextDouble())));

    /// <summary>α of the body in contact, by scanning the turn of the holder on its bar. The body's frame: holder plane z = 0, z to the blade's left, bar's foot at x = 0.</summary>
    private static double Contact(
        double radius, double distance, Side side, BarSeat seat, double c, double s, double rb, Vector3 edge, Vector3 back, Vector3 left)
    {
        Vector3 bar = new(distance, 0, 0);
        Vector3 outwardGround = side == Side.Left ? left : left * -1;

        // Where the bar's centre is in the body: in the hole, or where a round bar touches the holder's face on the ground side, found by sliding it up to the face.
        double middle = c;
        double towardWheel = side == Side.Left ? 1 : -1;
        double z = seat == BarSeat.Through
            ? middle
            : middle + (towardWheel * Brent.FindRoot(gap => (gap - s) - rb, 0, 100, 1e-13, 200));
        Vector3 held = new(0, 0, z);

        Vector3 Placed(Vector3 body, double turn) => bar + TurnAboutY(body - held, turn);
        double Gap(double turn)
        {
            Vector3 e = Placed(edge, turn);
            Vector3 tangent = TurnAboutY(new(0, 1, 0), turn);
            return (e - Axis).Cross(tangent).Norm - radius;
        }

        const int steps = 720;
        for (int i = 0; i < steps; i++)
        {
            double from = -Math.PI + (2 * Math.PI * i / steps);
            double to = -Math.PI + (2 * Math.PI * (i + 1) / steps);
            if (Gap(from) * Gap(to) > 0)
                continue;
            double turn = Brent.FindRoot(Gap, from, to, 1e-14, 300);
            Vector3 e = Placed(edge, turn);
            Vector3 radial = e * (1 / e.Norm);
            if (TurnAboutY(outwardGround, turn).Dot(radial) > 0)
                continue; // the other side would face the wheel
            return Math.Atan2(TurnAboutY(back, turn).Dot(radial), -TurnAboutY(outwardGround, turn).Dot(radial));
        }

        throw new InvalidOperationException("no contact");
    }

    private static Vector3 TurnAboutY(Vector3 v, double turn)
    {
        (double sin, double cos) = Math.SinCos(turn);
        return new((cos * v.X) + (sin * v.Z), v.Y, (-sin * v.X) + (cos * v.Z));
    }
}
