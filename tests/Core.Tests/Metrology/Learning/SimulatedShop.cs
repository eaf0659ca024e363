using Whetwright.Core.Fixtures;
using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Learning;

namespace Whetwright.Simulated;

/// <summary>
/// A shop with one rig whose faults are known: it sets by the wheel-and-bar formula, grinds with a hidden bias that drifts and steps, reads with noise,
/// and keeps the log. Invented and seeded.
/// </summary>
internal sealed class SimulatedShop
{
    public required IReadOnlyList<SetGot> Log { get; init; }

    /// <summary>True bias of each wheel after the last piece.</summary>
    public required double[] BiasDeg { get; init; }

    /// <summary>True mean of the rig after the last piece.</summary>
    public required double RigDeg { get; init; }

    /// <summary>Pieces before which a step came.</summary>
    public required IReadOnlyList<int> Steps { get; init; }

    public const double ReadingDeg = 0.3;

    /// <summary>Everything drawn from the prior.</summary>
    public static SimulatedShop Drawn(RandomDraws random, LearningPrior prior, int wheels, int pieces)
    {
        double rig = prior.RigDeg * random.Normal();
        double[] own = [.. Enumerable.Range(0, wheels).Select(_ => prior.WheelDeg * random.Normal())];
        double scatter = Pick(random, prior);
        List<SetGot> log = [];
        List<int> steps = [];
        for (int t = 0; t < pieces; t++)
        {
            int wheel = Math.Min(wheels - 1, (int)(random.Uniform() * wheels));
            if (t > 0)
            {
                rig += prior.RigDriftDeg * random.Normal();
                own[wheel] += prior.WheelDriftDeg * random.Normal();
                if (random.Uniform() < prior.StepChance)
                {
                    steps.Add(t);
                    if (wheels == 1 || random.Uniform() < 0.5)
                        rig += prior.StepDeg * random.Normal();
                    else
                        own[wheel] += prior.StepDeg * random.Normal();
                }
            }

            double wild = random.Uniform() < prior.WildChance ? prior.WildDeg * random.Normal() : 0;
            log.Add(Piece(random, t, wheel, rig + own[wheel] + (scatter * random.Normal()) + wild));
        }

        return new() { Log = log, BiasDeg = [.. own.Select(o => rig + o)], RigDeg = rig, Steps = steps };
    }

    /// <summary>A bias that stays, and perhaps one step of the whole rig before a piece.</summary>
    public static SimulatedShop Told(RandomDraws random, int wheels, int pieces, double biasDeg, int stepBefore = int.MaxValue, double stepDeg = 0)
    {
        List<SetGot> log = [];
        for (int t = 0; t < pieces; t++)
            log.Add(Piece(random, t, t % wheels, biasDeg + (t >= stepBefore ? stepDeg : 0)));
        double end = biasDeg + (pieces > stepBefore ? stepDeg : 0);
        return new() { Log = log, BiasDeg = [.. Enumerable.Repeat(end, wheels)], RigDeg = end, Steps = stepBefore < pieces ? [stepBefore] : [] };
    }

    private static SetGot Piece(RandomDraws random, int t, int wheel, double fault)
    {
        const double radius = 125, support = 140, offset = 8;
        double aimed = double.DegreesToRadians(12 + (8 * random.Uniform()));
        double bar = WheelAndBar.CentreDistanceMm(radius, aimed, support, offset);
        double ground = double.RadiansToDegrees(WheelAndBar.AngleRad(radius, bar, support, offset)) + fault;
        DateTimeOffset when = new DateTimeOffset(2026, 1, 5, 8, 0, 0, TimeSpan.Zero).AddMinutes(40 * t);
        return new(when, "rig", $"wheel {wheel + 1}", double.RadiansToDegrees(aimed), ground + (ReadingDeg * random.Normal()), ReadingDeg);
    }

    private static double Pick(RandomDraws random, LearningPrior prior)
    {
        double at = random.Uniform() * prior.Scatter.Sum(s => s.Weight);
        foreach ((double deg, double weight) in prior.Scatter)
        {
            if ((at -= weight) < 0)
                return deg;
        }

        return prior.Scatter[^1].Deg;
    }
}
