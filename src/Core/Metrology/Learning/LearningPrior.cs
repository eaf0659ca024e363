using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Learning;

/// <summary>What is believed of rigs before their log speaks. All of it chosen, not derived; the log soon outweighs it.</summary>
public sealed record LearningPrior
{
    /// <summary>How far a rig may be off as found, standard deviation, degrees.</summary>
    public double RigDeg { get; init; } = 0.5;

    /// <summary>How far a wheel may differ from its rig's mean, degrees.</summary>
    public double WheelDeg { get; init; } = 0.25;

    /// <summary>Drift of the rig from piece to piece, degrees per square root of pieces.</summary>
    public double RigDriftDeg { get; init; } = 0.01;

    /// <summary>Drift of a wheel's own part from piece to piece on it.</summary>
    public double WheelDriftDeg { get; init; } = 0.01;

    /// <summary>Chance of a step (rig knocked, jig slipped, wheel mounted askew) before a piece.</summary>
    public double StepChance { get; init; } = 0.005;

    /// <summary>Size of a step, standard deviation, degrees.</summary>
    public double StepDeg { get; init; } = 1;

    /// <summary>Chance that a reading is wild (another mark taken for the edge's).</summary>
    public double WildChance { get; init; } = 0.02;

    /// <summary>What a wild reading adds, standard deviation, degrees.</summary>
    public double WildDeg { get; init; } = 1.5;

    /// <summary>Scatter from piece to piece beyond the reading's own (clamping, hand), degrees, with what each is worth beforehand.</summary>
    public IReadOnlyList<(double Deg, double Weight)> Scatter { get; init; } = [(0, 0.4), (0.15, 0.25), (0.3, 0.2), (0.6, 0.1), (1, 0.05)];

    /// <summary>The usual one.</summary>
    public static LearningPrior Usual { get; } = new();

    /// <summary>Throws on the first value that cannot be.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Names the field.</exception>
    /// <exception cref="InvalidOperationException">The scatters cannot be.</exception>
    public void Validate()
    {
        Require.Positive(RigDeg);
        Require.Positive(WheelDeg);
        Require.NotNegative(RigDriftDeg);
        Require.NotNegative(WheelDriftDeg);
        Require.Within(StepChance, 0, 0.2);
        Require.Positive(StepDeg);
        Require.Within(WildChance, 0, 0.2);
        Require.Positive(WildDeg);
        if (Scatter.Count == 0 || Scatter.Any(s => !(s.Deg >= 0) || !(s.Weight > 0)))
            throw new InvalidOperationException("Scatter must hold scatters of zero or more with weights above zero.");
    }
}
