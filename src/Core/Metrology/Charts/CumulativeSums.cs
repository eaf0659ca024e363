using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Charts;

/// <summary>Cumulative sums beyond a slack, up and down: they find a small shift that single values hide. Source: [montgomery]; [nist-handbook] 6.3.2.3.</summary>
/// <param name="Up">S⁺ after each value, in the values' unit.</param>
/// <param name="Down">S⁻ after each value, counted positive.</param>
/// <param name="Target">What the values should be.</param>
/// <param name="Slack">k, in the values' unit.</param>
/// <param name="Limit">h, in the values' unit.</param>
/// <param name="Signals">Indices at which a sum first passed the limit (it starts again from 0 after each).</param>
public sealed record CumulativeSums(
    IReadOnlyList<double> Up, IReadOnlyList<double> Down, double Target, double Slack, double Limit, IReadOnlyList<int> Signals)
{
    /// <summary>Half a standard deviation: best for shifts of one (usual practice, [montgomery]).</summary>
    public const double UsualSlack = 0.5;

    /// <summary>Five standard deviations: a false signal in about 465 values ([montgomery], from memory; simulated in the tests).</summary>
    public const double UsualLimit = 5;

    /// <summary>S⁺ = max(0, S⁺ + x − target − k), S⁻ = max(0, S⁻ + target − k − x).</summary>
    /// <param name="values">In order of time.</param>
    /// <param name="target">What they should be.</param>
    /// <param name="slack">k, zero or more, in their unit.</param>
    /// <param name="limit">h, above zero, in their unit.</param>
    /// <param name="startAgain">Whether both sums begin again from 0 after a signal.</param>
    public static CumulativeSums Of(IReadOnlyList<double> values, double target, double slack, double limit, bool startAgain = true)
    {
        Require.NotNegative(slack);
        Require.Positive(limit);
        double[] up = new double[values.Count], down = new double[values.Count];
        List<int> signals = [];
        double high = 0, low = 0;
        bool beyond = false;
        for (int i = 0; i < values.Count; i++)
        {
            up[i] = high = Math.Max(0, high + values[i] - target - slack);
            down[i] = low = Math.Max(0, low + target - slack - values[i]);
            bool now = high > limit || low > limit;
            if (now && !beyond)
                signals.Add(i);
            beyond = now && !startAgain;
            if (now && startAgain)
                (high, low) = (0, 0);
        }

        return new(up, down, target, slack, limit, signals);
    }
}
