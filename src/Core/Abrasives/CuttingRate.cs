using Whetwright.Core.Metrology;

namespace Whetwright.Core.Abrasives;

/// <summary>
/// V, the cross-section area that one pass takes off one side, mm²: constant at constant hand force. Known as a log-normal: a labelled guess until the
/// shop's own visits replace it. ln V of a visit scatters normally about the abrasive's own; both mean and scatter are learnt (conjugate normal–gamma
/// update: Gelman et al., Bayesian Data Analysis, ch. 3.3, from memory).
/// </summary>
/// <param name="LogMean">Mean of ln V.</param>
/// <param name="Weight">Visits that the mean is worth, above 0.</param>
/// <param name="Freedom">Degrees of freedom of the scatter, above 0.</param>
/// <param name="LogScatter">Standard deviation of ln V from visit to visit.</param>
/// <param name="Visits">Visits learnt from.</param>
public sealed record CuttingRate(double LogMean, double Weight, double Freedom, double LogScatter, int Visits)
{
    /// <summary>Visits that a guess is worth (chosen, not derived): its mean is uncertain by 0.7 in ln V, a factor of two.</summary>
    public const double GuessWeight = 0.25;

    /// <summary>0.35 in ln V from visit to visit: hand, steel and wear of the surface (chosen, not derived).</summary>
    public const double GuessScatter = 0.35;

    /// <summary>Degrees of freedom that the guessed scatter is worth (chosen, not derived).</summary>
    public const double GuessFreedom = 4;

    /// <summary>A guess, labelled as one until visits come in.</summary>
    /// <param name="areaPerPassMm2">mm² per pass per side, above 0.</param>
    public static CuttingRate Guess(double areaPerPassMm2) =>
        areaPerPassMm2 > 0 && double.IsFinite(areaPerPassMm2)
            ? new(Math.Log(areaPerPassMm2), GuessWeight, GuessFreedom, GuessScatter, 0)
            : throw new ArgumentOutOfRangeException(nameof(areaPerPassMm2), areaPerPassMm2, "Must be above 0 mm².");

    /// <summary>True until a visit has been learnt.</summary>
    public bool IsGuess => Visits == 0;

    /// <summary>Median of V, mm² per pass per side.</summary>
    public double AreaPerPassMm2 => Math.Exp(LogMean);

    /// <summary>Learns from one visit.</summary>
    /// <param name="areaMm2">Area taken off one side, from the geometry before and after, above 0.</param>
    /// <param name="passes">Passes over that side, 1 or more.</param>
    public CuttingRate Learn(double areaMm2, int passes)
    {
        if (!(areaMm2 > 0) || !double.IsFinite(areaMm2))
            throw new ArgumentOutOfRangeException(nameof(areaMm2), areaMm2, "Must be above 0 mm².");
        ArgumentOutOfRangeException.ThrowIfLessThan(passes, 1);
        double y = Math.Log(areaMm2 / passes);
        double weight = Weight + 1, mean = ((Weight * LogMean) + y) / weight, freedom = Freedom + 1;
        double squares = (Freedom * LogScatter * LogScatter) + (Weight / weight * (y - LogMean) * (y - LogMean));
        return new(mean, weight, freedom, Math.Sqrt(squares / freedom), Visits + 1);
    }

    /// <summary>Interval that holds V of the next visit with this probability: Student's t about ln V, scale s·√(1 + 1/weight).</summary>
    /// <param name="share">Between 0 and 1.</param>
    public (double FromMm2, double ToMm2) NextVisit(double share = 0.95)
    {
        double half = StudentT.CoverageFactor(share, Freedom) * LogScatter * Math.Sqrt(1 + (1 / Weight));
        return (Math.Exp(LogMean - half), Math.Exp(LogMean + half));
    }

    /// <summary>In words: a guess, or how many visits it was learnt from.</summary>
    public string Origin => Visits switch { 0 => "a guess", 1 => "learnt from 1 visit", _ => FormattableString.Invariant($"learnt from {Visits} visits") };
}
