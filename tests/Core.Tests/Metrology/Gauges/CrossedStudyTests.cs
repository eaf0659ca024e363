using System.Globalization;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Metrology.Gauges;

/// <summary>Against the worked example of AIAG Measurement Systems Analysis, 4th ed. 2010, ch. III-B; half of the last printed digit.</summary>
public sealed class CrossedStudyTests
{
    private static readonly GaugeMeasurement[] Printed =
    [
        .. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Data", "gauge_crossed_msa.csv")).Skip(1).Select(line => line.Split(','))
            .Select(cells => new GaugeMeasurement(cells[0], cells[1], cells[2], double.Parse(cells[3], NumberStyles.Float, CultureInfo.InvariantCulture))),
    ];

    [Theory]
    [InlineData("part", 88.3619, 9, 9.81799, 492.291)]
    [InlineData("operator", 3.1673, 2, 1.58363, 79.406)]
    [InlineData("part × operator", 0.3590, 18, 0.01994, 0.434)]
    [InlineData("repeatability", 2.7589, 60, 0.04598, null)]
    [InlineData("total", 94.6471, 89, null, null)]
    public void The_table_is_the_printed_one(string source, double sum, int degrees, double? mean, double? f)
    {
        VarianceLine line = Study(Printed).Anova.Single(line => line.Source == source);

        Assert.Equal(sum, line.SumOfSquares, 5e-5);
        Assert.Equal(degrees, line.DegreesOfFreedom);
        Assert.Equal(mean is null, line.MeanSquare is null);
        if (mean is not null)
            Assert.Equal(mean.Value, line.MeanSquare!.Value, 5e-6);
        if (f is not null)
            Assert.Equal(f.Value, line.F!.Value, 5e-4);
    }

    [Fact]
    public void The_interaction_shows_nothing_and_is_pooled()
    {
        CrossedStudy study = Study(Printed);

        Assert.Equal(0.974, study.Anova.Single(line => line.Source == "part × operator").P!.Value, 5e-4);
        Assert.True(study.InteractionPooled);
        Assert.True(study.Balanced);
    }

    [Theory]
    [InlineData("repeatability", 0.03997, 3.39, 18.42)]
    [InlineData("reproducibility", 0.05146, 4.37, 20.90)]
    [InlineData("gauge", 0.09143, 7.76, 27.86)]
    [InlineData("part", 1.08645, 92.24, 96.04)]
    public void Components_and_shares_are_the_printed_ones(string source, double variance, double contribution, double studyVariation)
    {
        VarianceShare share = Study(Printed).Shares.Single(share => share.Source == source);

        Assert.Equal(variance, share.Variance, 5e-6 + 5e-6);
        Assert.Equal(contribution, share.PercentContribution, 5e-3 + 1e-9);
        Assert.Equal(studyVariation, share.PercentStudyVariation, 5e-3 + 1e-9);
    }

    [Fact]
    public void Distinct_categories_are_the_printed_ones() => Assert.Equal(4.861, Study(Printed).DistinctCategories, 5e-4);

    [Fact]
    public void Without_some_measurements_the_study_says_so_and_stays_near_the_full_one()
    {
        CrossedStudy study = Study([.. Printed.Where((_, at) => at % 11 != 3)]);

        Assert.False(study.Balanced);
        Assert.Equal(1.0864, study.Shares.Single(share => share.Source == "part").Variance, 0.12);
        Assert.Equal(0.0914, study.Shares.Single(share => share.Source == "gauge").Variance, 0.02);
    }

    [Fact]
    public void Unbalanced_studies_give_the_true_components_on_average()
    {
        Random random = new(411);
        double[] sums = new double[3];
        const int studies = 400;
        for (int study = 0; study < studies; study++)
        {
            double[] parts = [.. Enumerable.Range(0, 8).Select(_ => 2 * Gaussian(random))];
            double[] operators = [.. Enumerable.Range(0, 4).Select(_ => 1.5 * Gaussian(random))];
            double[,] cells = new double[8, 4];
            List<GaugeMeasurement> measurements = [];
            for (int part = 0; part < 8; part++)
            {
                for (int op = 0; op < 4; op++)
                {
                    cells[part, op] = Gaussian(random);
                    for (int trial = 0; trial < 1 + random.Next(4); trial++)
                        measurements.Add(new($"{part}", $"{op}", $"{trial}", parts[part] + operators[op] + cells[part, op] + (0.7 * Gaussian(random))));
                }
            }

            CrossedStudy done = Study(measurements);
            sums[0] += done.Shares.Single(share => share.Source == "part").Variance;
            sums[1] += done.Shares.Single(share => share.Source == "reproducibility").Variance;
            sums[2] += done.Shares.Single(share => share.Source == "repeatability").Variance;
        }

        Assert.Equal(4.0, sums[0] / studies, 0.4);
        Assert.Equal(3.25, sums[1] / studies, 0.4);
        Assert.Equal(0.49, sums[2] / studies, 0.05);
    }

    [Fact]
    public void A_study_that_cannot_tell_is_refused_with_what_to_do()
    {
        Assert.Null(CrossedStudy.Analyse([new("1", "A", "1", 1), new("2", "A", "1", 2)], out Reason? reason));
        Assert.Equal("too-few-operators", reason!.Code);
        Assert.Null(CrossedStudy.Analyse([new("1", "A", "1", 1), new("1", "B", "1", 2)], out reason));
        Assert.Equal("too-few-parts", reason!.Code);
        Assert.Null(CrossedStudy.Analyse([new("1", "A", "1", 1), new("1", "B", "1", 2), new("2", "A", "1", 3), new("2", "B", "1", 5)], out reason));
        Assert.Equal("no-repeats", reason!.Code);
        Assert.Null(CrossedStudy.Analyse([new("1", "A", "1", double.NaN), new("2", "B", "1", 2)], out reason));
        Assert.Equal("bad-value", reason!.Code);
    }

    private static CrossedStudy Study(IReadOnlyList<GaugeMeasurement> measurements) =>
        CrossedStudy.Analyse(measurements, out Reason? reason) ?? throw new InvalidOperationException(reason!.Text);

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
