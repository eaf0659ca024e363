using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Learning;

/// <summary>What one thing's history says of an amount that is always above zero: days between visits, millimetres lost at one.</summary>
/// <param name="Thing">Which piece.</param>
/// <param name="Kind">What kind it is: pieces of a kind lean on each other.</param>
/// <param name="Amounts">The amounts, above zero.</param>
public sealed record AmountHistory(string Thing, string Kind, IReadOnlyList<double> Amounts);

/// <summary>What is believed before any history. Chosen, not derived.</summary>
/// <param name="Median">Median amount.</param>
/// <param name="MedianU">Its uncertainty, as a standard deviation of the logarithm.</param>
/// <param name="Between">Standard deviation of the logarithm between pieces of a kind.</param>
/// <param name="Within">Standard deviation of the logarithm from time to time of one piece.</param>
public sealed record AmountPrior(double Median, double MedianU, double Between, double Within)
{
    /// <summary>Values that the two scatters are worth beforehand (chosen, not derived).</summary>
    public const double Worth = 6;

    /// <summary>Days between visits: 150, within a factor of two; pieces differ by a factor of 1.6, one piece's visits by 1.4.</summary>
    public static AmountPrior Days { get; } = new(150, 0.7, 0.5, 0.35);

    /// <summary>Height lost at a visit: 0.06 mm, within a factor of two.</summary>
    public static AmountPrior LossMm { get; } = new(0.06, 0.7, 0.5, 0.5);
}

/// <summary>The next amount to expect.</summary>
/// <param name="Median">Half of the time it is less.</param>
/// <param name="From">Lower end of the interval that holds it with 95 %.</param>
/// <param name="To">Upper end.</param>
/// <param name="Own">Amounts of its own history.</param>
/// <param name="OfKind">Amounts of all pieces of its kind, its own included.</param>
/// <param name="OwnShare">How far its own history decides, 0 to 1; the rest is its kind's.</param>
public sealed record UsualAmount(double Median, double From, double To, int Own, int OfKind, double OwnShare)
{
    /// <summary>True where nothing was learnt: the number is the guess.</summary>
    public bool IsGuess => OfKind == 0;
}

/// <summary>
/// Usual amounts of a shop's pieces: logarithms scatter normally about each piece's own mean, those about the kind's, the kinds' about a stated guess. Scatters pooled
/// over the shop by analysis of variance, with the guess worth a few values; means by normal updates ([gelman] ch. 5). The service interval is the days between visits.
/// </summary>
public sealed class UsualAmounts
{
    private readonly AmountPrior _prior;
    private readonly Dictionary<(string Kind, string Thing), double[]> _logs;

    private UsualAmounts(AmountPrior prior, Dictionary<(string Kind, string Thing), double[]> logs)
    {
        (_prior, _logs) = (prior, logs);
        double within = 0, freedom = 0;
        foreach (double[] own in logs.Values.Where(v => v.Length > 1))
        {
            double mean = own.Average();
            within += own.Sum(y => (y - mean) * (y - mean));
            freedom += own.Length - 1;
        }

        double variance = ((AmountPrior.Worth * prior.Within * prior.Within) + within) / (AmountPrior.Worth + freedom);
        double between = AmountPrior.Worth * prior.Between * prior.Between, weight = AmountPrior.Worth;
        foreach (IGrouping<string, KeyValuePair<(string Kind, string Thing), double[]>> kind in logs.GroupBy(p => p.Key.Kind, StringComparer.Ordinal))
        {
            double[][] pieces = [.. kind.Select(p => p.Value)];
            if (pieces.Length < 2)
                continue;
            double mean = pieces.Average(p => p.Average());
            // Var(mean of a piece) = between + within/n; kept as it is, so that what is below zero by chance can cancel over the kinds.
            between += pieces.Sum(p => (p.Average() - mean) * (p.Average() - mean)) - (variance * (pieces.Length - 1) * pieces.Average(p => 1.0 / p.Length));
            weight += pieces.Length - 1;
        }

        (Within, Freedom) = (Math.Sqrt(variance), AmountPrior.Worth + freedom);
        Between = Math.Sqrt(Math.Max(0.01 * prior.Between * prior.Between, between / weight));
    }

    /// <summary>Scatter of the logarithm from time to time of one piece.</summary>
    public double Within { get; }

    /// <summary>Scatter of the logarithm between pieces of a kind.</summary>
    public double Between { get; }

    /// <summary>Values that <see cref="Within"/> rests on.</summary>
    public double Freedom { get; }

    /// <summary>Learns from all histories of the shop.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An amount not above zero.</exception>
    public static UsualAmounts Learn(IEnumerable<AmountHistory> histories, AmountPrior prior) => new(
        prior,
        histories.Where(h => h.Amounts.Count > 0).GroupBy(h => (h.Kind, h.Thing))
            .ToDictionary(g => g.Key, g => g.SelectMany(h => h.Amounts).Select(a => Math.Log(Require.Positive(a, "amount"))).ToArray()));

    /// <summary>What to expect next of a piece, whether it has a history or not.</summary>
    public UsualAmount Next(string thing, string kind)
    {
        double within = Within * Within, between = Between * Between;
        double weight = 1 / (_prior.MedianU * _prior.MedianU), sum = weight * Math.Log(_prior.Median);
        int ofKind = 0;
        double[] own = [];
        foreach (((string k, string t), double[] logs) in _logs)
        {
            if (!string.Equals(k, kind, StringComparison.Ordinal))
                continue;
            ofKind += logs.Length;
            if (string.Equals(t, thing, StringComparison.Ordinal))
            {
                own = logs;
                continue;
            }

            // The others of its kind, each mean uncertain by its own scatter and the scatter between pieces.
            double w = 1 / (between + (within / logs.Length));
            (weight, sum) = (weight + w, sum + (w * logs.Average()));
        }

        double kindMean = sum / weight, before = between + (1 / weight);
        double share = own.Length > 0 ? before / (before + (within / own.Length)) : 0;
        double mean = own.Length > 0 ? kindMean + (share * (own.Average() - kindMean)) : kindMean;
        double half = StudentT.CoverageFactor(0.95, Freedom) * Math.Sqrt(((1 - share) * before) + within);
        return new(Math.Exp(mean), Math.Exp(mean - half), Math.Exp(mean + half), own.Length, ofKind, share);
    }
}
