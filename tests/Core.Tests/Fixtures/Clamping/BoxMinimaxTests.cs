using CsCheck;

using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures.Clamping;

/// <summary>The proof stands on this: for any box and any deviation, the bound is below the gap at every pivot of the box.</summary>
public sealed class BoxMinimaxTests
{
    private static readonly Gen<(int Sample, int Channel, double X, double D, double HalfX, double HalfD, double DeltaDeg)> Boxes =
        Gen.Select(Gen.Int[0, ClampSamples.Names.Length - 1], Gen.Int[0, 3], Gen.Double[-20, 220], Gen.Double[70, 160], Gen.Double[0, 40], Gen.Double[0, 10], Gen.Double[0.05, 4]);

    private static ClampChannel Channel(int index) => index switch
    {
        0 => ClampSamples.Wheel() with { Side = Side.Left },
        1 => ClampSamples.Wheel(80, -20, 18, perSupport: 0.06) with { OffsetPerDistance = -0.04 },
        2 => new("rod", new GuidedRodMap(6), Angle.FromDegrees(17)) { LeastSettingMm = 20, MostSettingMm = 40 },
        _ => new("stone", new BenchStoneMap(3), Angle.FromDegrees(15)) { OffsetPerSupport = 0.02 },
    };

    [Fact]
    public void The_bound_is_below_the_gap_at_every_pivot_of_the_box()
    {
        Random random = new(5);
        int tight = 0;
        Boxes.Sample(
            box =>
            {
                ClampProblem problem = ClampSamples.Problem(ClampSamples.Names[box.Sample], Channel(box.Channel));
                BoxMinimax minimax = new(new ClampModel(problem));
                minimax.Solve(box.X, box.D, box.HalfX, box.HalfD, double.DegreesToRadians(box.DeltaDeg));
                double least = double.PositiveInfinity;
                for (int i = 0; i < 60; i++)
                {
                    double x = box.X + (box.HalfX * ((2 * random.NextDouble()) - 1));
                    double d = box.D + (box.HalfD * ((2 * random.NextDouble()) - 1));
                    least = Math.Min(least, Gap(problem, x, d, box.X, box.D, double.DegreesToRadians(box.DeltaDeg)));
                }

                double atBest = Gap(problem, minimax.BestX, minimax.BestDistance, box.X, box.D, double.DegreesToRadians(box.DeltaDeg));
                if (atBest - minimax.BoundRad < double.DegreesToRadians(0.2))
                    tight++;
                return minimax.BoundRad <= Math.Min(least, atBest) + 1e-12;
            },
            iter: 400,
            threads: 1,
            seed: "0000clampBox");
        Assert.True(tight > 200, $"The bound was tight in {tight} of 400 boxes.");
    }

    /// <summary>max g(target − δ) − min g(target + δ), written out from the closed forms of the settings, in the box's own radians.</summary>
    private static double Gap(ClampProblem problem, double x, double d, double middleX, double middleD, double delta)
    {
        ClampChannel channel = problem.Channels[0];
        double high = channel.LeastSettingMm ?? double.NegativeInfinity;
        double low = channel.MostSettingMm ?? double.PositiveInfinity;
        for (int i = problem.FirstScored; i <= problem.LastScored; i++)
        {
            high = Math.Max(high, Setting(problem, channel, i, x, d, channel.Target.Radians - delta));
            low = Math.Min(low, Setting(problem, channel, i, x, d, channel.Target.Radians + delta));
        }

        int middle = problem.FirstScored + ((problem.LastScored - problem.FirstScored + 1) / 2);
        double slope = (Setting(problem, channel, middle, middleX, middleD, channel.Target.Radians + 1e-6)
            - Setting(problem, channel, middle, middleX, middleD, channel.Target.Radians - 1e-6)) / 2e-6;
        return (high - low) / slope * (1 + (high > low ? 1e-8 : -1e-8));
    }

    private static double Setting(ClampProblem problem, ClampChannel channel, int station, double x, double d, double angle)
    {
        EdgePoint e = problem.Stations[station];
        double z = channel.Side is null ? 0 : problem.Blade.Bend?.AtMm(e.XMm) ?? 0;
        double p = ((e.XMm - x) * e.NormalX) + ((e.YMm + d) * e.NormalY);
        double q = channel.OffsetMm + (channel.OffsetPerSupport * p) + (channel.OffsetPerDistance * d) + z;
        return channel.Map switch
        {
            WheelAndBarMap wheel => Math.Pow(p + (wheel.WheelRadiusMm * Math.Sin(angle)), 2) + Math.Pow(q + (wheel.WheelRadiusMm * Math.Cos(angle)), 2),
            GuidedRodMap rod => (p * Math.Tan(angle)) + (rod.FaceOffsetMm / Math.Cos(angle)) + q,
            BenchStoneMap stone => (p * Math.Sin(angle)) - (stone.SpineThicknessMm / 2 * Math.Cos(angle)) + q,
            _ => throw new InvalidOperationException("No such map."),
        };
    }
}
