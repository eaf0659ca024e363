using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Gauges;

/// <summary>One line of an analysis of variance.</summary>
/// <param name="Source"><c>part</c>, <c>operator</c>, <c>part × operator</c>, <c>repeatability</c> or <c>total</c>.</param>
/// <param name="SumOfSquares">Sequential: what this source explains beyond those above it.</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom.</param>
/// <param name="MeanSquare">Sum over degrees of freedom; null for the total.</param>
/// <param name="F">Ratio to its denominator (part and operator: the interaction, or the pooled rest); null where there is none.</param>
/// <param name="P">Chance of such an F without any effect.</param>
public sealed record VarianceLine(string Source, double SumOfSquares, int DegreesOfFreedom, double? MeanSquare, double? F, double? P);

/// <summary>What one source adds to the spread of measurements.</summary>
/// <param name="Source"><c>repeatability</c>, <c>reproducibility</c>, <c>operator</c>, <c>part × operator</c>, <c>gauge</c>, <c>part</c> or <c>total</c>.</param>
/// <param name="Variance">Variance component, never below zero.</param>
/// <param name="PercentContribution">Share of the total variance, %.</param>
/// <param name="PercentStudyVariation">Share of the total standard deviation, %; these do not add up to 100.</param>
public sealed record VarianceShare(string Source, double Variance, double PercentContribution, double PercentStudyVariation)
{
    /// <summary>Standard deviation.</summary>
    public double StandardDeviation => Math.Sqrt(Variance);
}

/// <summary>A crossed gauge study, worked out by analysis of variance.</summary>
/// <param name="Anova">The table with the interaction in it.</param>
/// <param name="InteractionPooled">Whether the interaction showed too little to be kept apart (p above <see cref="PoolingThreshold"/>).</param>
/// <param name="Shares">Variance components and shares, from the pooled model where pooled.</param>
/// <param name="DistinctCategories">1.41 · sd(part) / sd(gauge), not rounded down.</param>
/// <param name="Balanced">Whether every operator measured every part equally often; otherwise the components are estimates by fitted constants and the F of part and operator are approximate.</param>
/// <remarks>
/// Source: [aiag-msa] ch. III-B. Components: sequential sums of squares set equal to their expectations, which for balanced studies are the textbook
/// formulas and for unbalanced ones Henderson's method of fitting constants ([henderson]).
/// </remarks>
public sealed record CrossedStudy(
    IReadOnlyList<VarianceLine> Anova,
    bool InteractionPooled,
    IReadOnlyList<VarianceShare> Shares,
    double DistinctCategories,
    bool Balanced)
{
    /// <summary>Above this p the interaction is pooled with repeatability: 0.25, the custom of [aiag-msa].</summary>
    public const double PoolingThreshold = 0.25;

    /// <summary>Works out a study, or gives the reason why it cannot be.</summary>
    public static CrossedStudy? Analyse(IReadOnlyList<GaugeMeasurement> measurements, out Reason? reason)
    {
        reason = Problem(measurements);
        if (reason is not null)
            return null;

        FittedConstants full = FittedConstants.Of(measurements, withInteraction: true);
        FittedBlock interaction = full.Interaction!;
        double? p = full.Residual.DegreesOfFreedom > 0 && interaction.DegreesOfFreedom > 0
            ? Distributions.FUpperTail(interaction.MeanSquare / full.Residual.MeanSquare, interaction.DegreesOfFreedom, full.Residual.DegreesOfFreedom)
            : null;
        if (full.Residual.DegreesOfFreedom == 0)
        {
            reason = new("no-repeats", "No operator measured a part more than once: repeatability cannot be told from the interaction. Repeat at least some measurements.");
            return null;
        }

        bool pooled = interaction.DegreesOfFreedom == 0 || p > PoolingThreshold;
        FittedConstants used = pooled ? FittedConstants.Of(measurements, withInteraction: false) : full;
        VarianceShare[] shares = SharesOf(used);
        double gauge = shares.Single(share => share.Source == "gauge").StandardDeviation;
        double part = shares.Single(share => share.Source == "part").StandardDeviation;
        return new CrossedStudy(TableOf(full, p), pooled, shares, gauge > 0 ? 1.41 * part / gauge : double.PositiveInfinity, full.Balanced);
    }

    /// <summary>How the components came to be.</summary>
    public IReadOnlyList<Derivation> Explain() =>
    [
        .. Shares.Where(s => s.Source != "total").Select(share => new Derivation(
            $"standard deviation of {share.Source}", share.StandardDeviation, "1", Formula(share.Source), Balanced ? "[aiag-msa] ch. III-B" : "[henderson]",
            [.. Anova.Where(l => l.MeanSquare is not null).Select(l => new DerivationInput("MS", $"mean square of {l.Source}, {l.DegreesOfFreedom} degrees of freedom", l.MeanSquare!.Value, "1"))],
            "metrology.crossed-study/1")),
    ];

    private string Formula(string source) => source switch
    {
        "repeatability" => InteractionPooled ? "√((SS of repeatability + SS of part × operator)/(their degrees of freedom))" : "√MS of repeatability",
        "gauge" => "√(repeatability² + reproducibility²)",
        "reproducibility" => "√(operator² + (part × operator)²)",
        _ => "mean squares set equal to their expectations and solved, not below 0",
    };

    private static VarianceLine[] TableOf(FittedConstants full, double? pInteraction)
    {
        FittedBlock below = full.Interaction!.DegreesOfFreedom > 0 ? full.Interaction : full.Residual;
        VarianceLine Line(string source, FittedBlock block)
        {
            double f = block.MeanSquare / below.MeanSquare;
            return new(source, block.SumOfSquares, block.DegreesOfFreedom, block.MeanSquare, f, Distributions.FUpperTail(f, block.DegreesOfFreedom, below.DegreesOfFreedom));
        }

        FittedBlock interaction = full.Interaction;
        FittedBlock residual = full.Residual;
        return
        [
            Line("part", full.Part),
            Line("operator", full.Operator),
            new("part × operator", interaction.SumOfSquares, interaction.DegreesOfFreedom, interaction.DegreesOfFreedom > 0 ? interaction.MeanSquare : null,
                pInteraction is null ? null : interaction.MeanSquare / residual.MeanSquare, pInteraction),
            new("repeatability", residual.SumOfSquares, residual.DegreesOfFreedom, residual.MeanSquare, null, null),
            new("total", full.TotalSumOfSquares, full.TotalDegreesOfFreedom, null, null, null),
        ];
    }

    private static VarianceShare[] SharesOf(FittedConstants fit)
    {
        double repeatability = fit.Residual.MeanSquare;
        double interaction = fit.Interaction is { DegreesOfFreedom: > 0 } block
            ? Math.Max(0, (block.SumOfSquares - (block.DegreesOfFreedom * repeatability)) / block.InteractionTrace)
            : 0;
        double operators = Math.Max(0, (fit.Operator.SumOfSquares - (fit.Operator.DegreesOfFreedom * repeatability) - (fit.Operator.InteractionTrace * interaction))
            / fit.Operator.OperatorTrace);
        double parts = Math.Max(0, (fit.Part.SumOfSquares - (fit.Part.DegreesOfFreedom * repeatability) - (fit.Part.InteractionTrace * interaction)
            - (fit.Part.OperatorTrace * operators)) / fit.Part.PartTrace);
        double reproducibility = operators + interaction;
        double gauge = repeatability + reproducibility;
        double total = gauge + parts;

        VarianceShare Share(string source, double variance) =>
            new(source, variance, total > 0 ? 100 * variance / total : 0, total > 0 ? 100 * Math.Sqrt(variance / total) : 0);

        return
        [
            Share("repeatability", repeatability), Share("reproducibility", reproducibility), Share("operator", operators),
            Share("part × operator", interaction), Share("gauge", gauge), Share("part", parts), Share("total", total),
        ];
    }

    private static Reason? Problem(IReadOnlyList<GaugeMeasurement> measurements)
    {
        foreach (GaugeMeasurement measurement in measurements)
        {
            if (!double.IsFinite(measurement.Value))
                return new("bad-value", $"value of part '{measurement.Part}', operator '{measurement.Operator}', trial '{measurement.Trial}' is not a finite number.");
        }

        int parts = measurements.Select(measurement => measurement.Part).Distinct(StringComparer.Ordinal).Count();
        int operators = measurements.Select(measurement => measurement.Operator).Distinct(StringComparer.Ordinal).Count();
        if (parts < 2)
            return new("too-few-parts", $"The study has {parts} part(s): at least two are needed, ten are usual.");
        if (operators < 2)
            return new("too-few-operators", $"The study has {operators} operator(s): at least two are needed to tell people apart.");
        return null;
    }
}
