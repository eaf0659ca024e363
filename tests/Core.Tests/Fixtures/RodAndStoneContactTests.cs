using MathNet.Numerics.RootFinding;

using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>Guided rod and bench stone against bodies in space brought into contact by a root finder; 200 random cases each, both sides.</summary>
public sealed class RodAndStoneContactTests
{
    [Theory]
    [InlineData(1, 31)]
    [InlineData(-1, 32)]
    public void A_guided_rod_lies_on_the_edge_at_the_angle_of_the_formula(int side, int seed)
    {
        Random random = new(seed);
        for (int i = 0; i < 200; i++)
        {
            double p = 60 + (100 * random.NextDouble());
            double h = 15 + (80 * random.NextDouble());
            double t = (24 * random.NextDouble()) - 12;

            // Blade's middle plane z = 0, edge along y through the origin, the pivot over (−p, 0). The other side is the mirror image.
            Vector3 pivot = new(-p, 0, side * h);
            double Miss(double lean)
            {
                Vector3 rod = new(Math.Cos(lean), 0, -side * Math.Sin(lean));
                Vector3 towardBlade = new Vector3(0, side, 0).Cross(rod) * -1;
                if (towardBlade.Z * side > 0)
                    towardBlade *= -1;
                return (new Vector3(0, 0, 0) - (pivot + (towardBlade * t))).Dot(towardBlade);
            }

            double lean = Brent.FindRoot(Miss, -0.6, 1.4, 1e-14, 300);
            Assert.Equal(double.RadiansToDegrees(lean), double.RadiansToDegrees(GuidedRod.AngleRad(h, p, t)), 1e-5);
        }
    }

    [Theory]
    [InlineData(1, 41)]
    [InlineData(-1, 42)]
    public void A_blade_propped_on_a_stone_lies_at_the_angle_of_the_formula(int side, int seed)
    {
        Random random = new(seed);
        for (int i = 0; i < 200; i++)
        {
            double w = 20 + (40 * random.NextDouble());
            double spine = 0.5 + (4 * random.NextDouble());
            double lift = 1 + (10 * random.NextDouble());

            // The stone is z = 0, the edge the y axis. The body leans back by a; its lower corner is half a spine off the middle plane on the ground side.
            double Height(double lean, double half)
            {
                Vector3 along = new(-Math.Cos(lean), 0, Math.Sin(lean));
                Vector3 groundSide = new Vector3(0, side, 0).Cross(along);
                if (groundSide.Z > 0)
                    groundSide *= -1;
                return ((along * w) + (groundSide * half)).Z;
            }

            double corner = Brent.FindRoot(a => Height(a, spine / 2) - lift, 0, 1.5, 1e-14, 300);
            double middle = Brent.FindRoot(a => Height(a, 0) - lift, 0, 1.5, 1e-14, 300);
            Assert.Equal(double.RadiansToDegrees(corner), double.RadiansToDegrees(BenchStone.AngleFromStackRad(lift, w, spine)), 1e-5);
            Assert.Equal(double.RadiansToDegrees(middle), double.RadiansToDegrees(BenchStone.AngleFromMidPlaneLiftRad(lift, w)), 1e-5);
        }
    }

    /// <summary>Five-inch sine bar. Sources: 15°: Machinery's Handbook (memory); 18° and 27°: secondary pages; 30°: exact; 23°41′: US Army TC 9-524, Appendix C (secondary page); 34°25′: Handbook of Machining and Metalworking Calculations, ch. 4 (secondary page).</summary>
    [Theory]
    [InlineData(15, 0, 1.29410, 5e-6)]
    [InlineData(18, 0, 1.545, 5e-4)]
    [InlineData(23, 41, 2.0084, 5e-5)]
    [InlineData(27, 0, 2.270, 5e-4)]
    [InlineData(30, 0, 2.5, 1e-12)]
    [InlineData(34, 25, 2.826, 5e-4)]
    public void The_lift_agrees_with_printed_sine_bar_figures(int degrees, int minutes, double inches, double within)
    {
        double angle = double.DegreesToRadians(degrees + (minutes / 60.0));
        Assert.Equal(inches, BenchStone.MidPlaneLiftMm(angle, 5 * 25.4) / 25.4, within);
    }

    [Fact]
    public void A_wedge_rises_by_the_tangent_and_a_thick_spine_cannot_lie_flatter_than_its_own_corner()
    {
        Assert.Equal(100, BenchStone.WedgeRiseMm(Math.PI / 4, 100), 1e-9);
        double smallest = BenchStone.SmallestAngleRad(40, 3);
        Assert.Equal(0, BenchStone.StackMm(smallest, 40, 3), 1e-12);
        Assert.True(BenchStone.StackMm(smallest - 0.01, 40, 3) < 0);
    }

    [Fact]
    public void The_coin_stack_is_the_nearest_of_all_that_can_be_piled()
    {
        double[] coins = [1.67, 2.33, 1.95];
        CoinStack stack = CoinStack.Nearest(7.9, coins, 5);
        double best = double.PositiveInfinity;
        for (int a = 0; a <= 5; a++)
        {
            for (int b = 0; a + b <= 5; b++)
            {
                for (int c = a + b == 0 ? 1 : 0; a + b + c <= 5; c++)
                    best = Math.Min(best, Math.Abs((a * coins[0]) + (b * coins[1]) + (c * coins[2]) - 7.9));
            }
        }

        Assert.InRange(Math.Abs(stack.MissMm), best, best + 1e-3);
        Assert.Equal(stack.HeightMm, stack.CountOfEach.Select((n, i) => n * coins[i]).Sum(), 1e-12);
    }
}
