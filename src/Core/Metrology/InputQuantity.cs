namespace Whetwright.Core.Metrology;

/// <summary>How the possible values of an input are spread.</summary>
public enum InputDistribution
{
    /// <summary>Normal.</summary>
    Normal = 0,

    /// <summary>Rectangular, such as a resolution: half-width √3·u.</summary>
    Rectangular = 1,

    /// <summary>Triangular: half-width √6·u.</summary>
    Triangular = 2,

    /// <summary>Scaled and shifted Student's t with the input's degrees of freedom, as JCGM 101 6.4.9 asks for means of few readings.</summary>
    StudentT = 3,
}

/// <summary>One input of a measurement model.</summary>
/// <param name="Symbol">As in the model's formula.</param>
/// <param name="Name">What it is; budgets show it.</param>
/// <param name="Value">Best estimate.</param>
/// <param name="Uncertainty">Standard uncertainty, zero or more.</param>
/// <param name="Unit">Unit of both.</param>
public sealed record InputQuantity(string Symbol, string Name, double Value, double Uncertainty, string Unit)
{
    /// <summary>Degrees of freedom of the uncertainty; infinite where it is taken as known.</summary>
    public double DegreesOfFreedom { get; init; } = double.PositiveInfinity;

    /// <summary>Distribution for Monte Carlo; for StudentT, <see cref="Uncertainty"/> is s/√n, the scale, as in JCGM 101 6.4.9.</summary>
    public InputDistribution Distribution { get; init; }

    /// <summary>True for a default that nobody measured.</summary>
    public bool IsDefault { get; init; }
}
