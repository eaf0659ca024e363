namespace Whetwright.Workbench.Demo;

/// <summary>Seeded chance: the same story each time, whatever the day it begins.</summary>
/// <param name="seed">Seed.</param>
#pragma warning disable CA5394 // Nothing here is secret; it must be the same each time.
internal sealed class DemoChance(int seed)
{
    private readonly Random random = new(seed);

    /// <summary>Uniform.</summary>
    public double Between(double from, double to) => from + ((to - from) * random.NextDouble());

    /// <summary>Whole, from and to included.</summary>
    public int Whole(int from, int to) => random.Next(from, to + 1);

    /// <summary>True with this probability.</summary>
    public bool Of(double probability) => random.NextDouble() < probability;

    /// <summary>One of them.</summary>
    public T One<T>(IReadOnlyList<T> of) => of[random.Next(of.Count)];

    /// <summary>Normal, mean 0. Box and Muller's transform.</summary>
    public double Normal(double sd) =>
        sd * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
