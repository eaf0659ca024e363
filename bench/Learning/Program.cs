using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Simulated;

// Simulated shops against what the learning says of them. Usage: [--shops 1000] [--seed 1]
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int shops = Option("--shops", 1000), seed = Option("--seed", 1);
Console.WriteLine($"{shops} shops each, seed {seed}, reading noise {SimulatedShop.ReadingDeg}°");
foreach (int wheels in (int[])[1, 3])
{
    Calibration(wheels);
    Biased(wheels);
    Unbiased(wheels);
    Stepped(wheels);
}

return;

void Calibration(int wheels)
{
    RandomDraws random = new(seed);
    int[] bias = new int[20], rig = new int[20];
    int inside = 0, all = 0, steps = 0, found = 0, alarms = 0;
    double squared = 0;
    for (int shop = 0; shop < shops; shop++)
    {
        SimulatedShop truth = SimulatedShop.Drawn(random, LearningPrior.Usual, wheels, 20 + (int)(81 * random.Uniform()));
        LearntRig learnt = BiasLearning.Learn(truth.Log)[0];
        foreach (LearntWheel wheel in learnt.Wheels)
        {
            double actual = truth.BiasDeg[int.Parse(wheel.Wheel[6..], CultureInfo.InvariantCulture) - 1];
            inside += actual >= wheel.Interval.FromDeg && actual <= wheel.Interval.ToDeg ? 1 : 0;
            all++;
            squared += (actual - wheel.BiasDeg) * (actual - wheel.BiasDeg) / (wheel.UDeg * wheel.UDeg);
        }

        LearntWheel one = learnt.Wheels[0];
        double at = truth.BiasDeg[int.Parse(one.Wheel[6..], CultureInfo.InvariantCulture) - 1];
        bias[Rank.Of(one.CumulativeAt(at), random)]++;
        rig[Rank.Of(learnt.CumulativeAt(truth.RigDeg), random)]++;
        steps += truth.Steps.Count;
        alarms += learnt.Steps.Count;
        found += learnt.Steps.Count(s => truth.Steps.Any(t => Math.Abs(t - s.At) <= 3));
    }

    Console.WriteLine($"wheels {wheels}: calibration, shops drawn from the prior, 20 to 100 pieces");
    Console.WriteLine($"  true bias inside its 95 % interval: {100.0 * inside / all:0.0} % of {all} wheels; error over u, rms {Math.Sqrt(squared / all):0.000}");
    Console.WriteLine($"  ranks of the bias among 99 draws, 20 bins: {string.Join(' ', bias)}; chi-square {Rank.ChiSquare(bias):0.0} (19 degrees of freedom; 95 % below 30.1)");
    Console.WriteLine($"  ranks of the rig's mean: {string.Join(' ', rig)}; chi-square {Rank.ChiSquare(rig):0.0}");
    Console.WriteLine($"  steps of any size {steps}, noticed {alarms}, of which within 3 pieces of a true one {found}");
}

void Biased(int wheels)
{
    RandomDraws random = new(seed + 1000);
    int proposed = 0;
    for (int shop = 0; shop < shops; shop++)
    {
        // Ten pieces on the wheel that is looked at.
        LearntRig learnt = BiasLearning.Learn(SimulatedShop.Told(random, wheels, 10 * wheels, shop % 2 == 0 ? 0.5 : -0.5).Log)[0];
        HashSet<int> first = [.. Enumerable.Range(0, 10 * wheels).Where(i => i % wheels == 0)];
        proposed += learnt.Trace.Any(t => first.Contains(t.At) && t.Clear) ? 1 : 0;
    }

    Console.WriteLine($"wheels {wheels}: a bias of 0.5° proposed within 10 pieces on a wheel in {100.0 * proposed / shops:0.0} % of shops");
}

void Unbiased(int wheels)
{
    RandomDraws random = new(seed + 2000);
    int proposed = 0, alarms = 0;
    for (int shop = 0; shop < shops; shop++)
    {
        LearntRig learnt = BiasLearning.Learn(SimulatedShop.Told(random, wheels, 100, 0).Log)[0];
        proposed += learnt.Trace.Any(t => t.Clear) ? 1 : 0;
        alarms += learnt.Steps.Count;
    }

    Console.WriteLine($"wheels {wheels}: over 100 unbiased pieces a correction is proposed in {100.0 * proposed / shops:0.0} % of shops; false steps {(double)alarms / shops:0.000} per 100 pieces");
}

void Stepped(int wheels)
{
    RandomDraws random = new(seed + 3000);
    int[] within = new int[11];
    int named = 0, inside = 0, found = 0;
    for (int shop = 0; shop < shops; shop++)
    {
        const int before = 30;
        double size = shop % 2 == 0 ? 0.8 : -0.8;
        LearntRig learnt = BiasLearning.Learn(SimulatedShop.Told(random, wheels, before + 10, 0.2 * random.Normal(), before, size).Log)[0];
        if (learnt.Steps.FirstOrDefault(s => s.NoticedAt >= before) is not { } step)
            continue;
        for (int n = step.NoticedAt - before + 1; n <= 10; n++)
            within[n]++;
        found++;
        named += step.Of is StepOf.Rig or StepOf.RigOrWheel ? 1 : 0;
        inside += Math.Abs(step.SizeDeg - size) <= 1.96 * step.SizeUDeg ? 1 : 0;
    }

    Console.WriteLine($"wheels {wheels}: a step of 0.8° of the rig noticed within 3, 5, 10 pieces in {100.0 * within[3] / shops:0.0}, {100.0 * within[5] / shops:0.0}, {100.0 * within[10] / shops:0.0} % of shops; not called the wheel's in {100.0 * named / found:0.0} %, size inside its 95 % in {100.0 * inside / found:0.0} %");
}

int Option(string name, int usual)
{
    int at = Array.IndexOf(args, name);
    return at >= 0 ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : usual;
}
