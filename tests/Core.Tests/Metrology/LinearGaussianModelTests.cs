using MathNet.Numerics.LinearAlgebra;
using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>The weighted linear solve with priors, against an independent library's algebra.</summary>
public sealed class LinearGaussianModelTests
{
    private static readonly IReadOnlyList<BudgetShare> Unit = [new("reading", 1)];

    [Fact]
    public void Values_and_covariance_agree_with_normal_equations_solved_by_another_library()
    {
        RandomDraws random = new(7);
        for (int round = 0; round < 50; round++)
        {
            Unknown[] unknowns = [.. Enumerable.Range(0, 4).Select(i => new Unknown($"x{i}", random.Normal(), 0.5 + random.Uniform(), "prior"))];
            LinearObservation[] data = [.. Enumerable.Range(0, 6).Select(_ => new LinearObservation(
                [random.Normal(), random.Normal(), random.Normal(), random.Normal()], random.Normal(), [new("noise", 0.2 + random.Uniform())]))];

            LinearGaussianSolution solved = LinearGaussianModel.Solve(unknowns, data);

            Matrix<double> information = Matrix<double>.Build.DenseOfDiagonalArray([.. unknowns.Select(u => 1 / (u.PriorUncertainty * u.PriorUncertainty))]);
            Vector<double> right = Vector<double>.Build.DenseOfArray([.. unknowns.Select(u => u.PriorMean / (u.PriorUncertainty * u.PriorUncertainty))]);
            foreach (LinearObservation o in data)
            {
                Vector<double> a = Vector<double>.Build.DenseOfArray(o.Row);
                information += a.OuterProduct(a) / o.Variance;
                right += a * o.Value / o.Variance;
            }

            Vector<double> expected = information.Solve(right);
            Matrix<double> covariance = information.Inverse();
            for (int i = 0; i < 4; i++)
            {
                Assert.Equal(expected[i], solved.Values[i], 1e-10);
                Assert.Equal(covariance[i, (i + 1) % 4], solved.Covariance(i, (i + 1) % 4), 1e-10);
            }
        }
    }

    [Fact]
    public void The_budget_adds_up_to_the_variance()
    {
        Unknown[] unknowns = [new("a", 0, 1, "prior a"), new("b", 0, double.PositiveInfinity, "b")];
        LinearObservation[] data =
        [
            new([1, 1], 2, [new("resolution", 0.3), new("repeat", 0.4)]), new([0, 1], 1, Unit), new([1, -1], 0, Unit),
        ];

        LinearGaussianSolution solved = LinearGaussianModel.Solve(unknowns, data);
        double[] weights = [1, 2];

        double total = solved.BudgetOf(weights).Sum(b => b.Uncertainty * b.Uncertainty);
        Assert.Equal(solved.UncertaintyOf(weights), Math.Sqrt(total), 1e-12);
        Assert.Contains(solved.BudgetOf(weights), b => b.Source == "resolution");
    }

    [Fact]
    public void A_difference_that_no_observation_tells_is_named_as_not_identified_while_the_sum_is()
    {
        Unknown[] unknowns = [new("a", 0, double.PositiveInfinity, "a"), new("b", 0, double.PositiveInfinity, "b")];

        LinearGaussianSolution solved = LinearGaussianModel.Solve(unknowns, [new([1, 1], 30, Unit), new([1, 1], 31, Unit)]);

        Assert.Equal(1, solved.UnidentifiedDirections);
        Assert.True(solved.IsIdentified([1, 1]));
        Assert.False(solved.IsIdentified([1, -1]));
        Assert.Equal(30.5, solved.ValueOf([1, 1]), 1e-9);
        Assert.True(double.IsPositiveInfinity(solved.UncertaintyOf([1, 0])));
        Assert.Equal(["a", "b"], solved.PriorDominated());
    }

    [Fact]
    public void A_prior_that_the_data_hardly_touch_is_named()
    {
        Unknown[] unknowns = [new("told", 0, 1, "p"), new("untold", 0, 1, "p")];

        LinearGaussianSolution solved = LinearGaussianModel.Solve(unknowns, [new([1, 0.01], 1, [new("n", 0.1)])]);

        Assert.Equal(["untold"], solved.PriorDominated());
    }

    [Fact]
    public void What_further_observations_would_be_worth_equals_a_solve_with_them()
    {
        Unknown[] unknowns = [new("a", 0, 2, "p"), new("b", 0, 3, "p")];
        LinearObservation first = new([1, 0.5], 1, Unit);
        LinearObservation[] more = [new([0.2, 1], 0, [new("n", 0.5)]), new([1, -1], 0, [new("n", 0.7)])];
        double[] weights = [1, 1];

        double predicted = LinearGaussianModel.Solve(unknowns, [first]).UncertaintyAfter(
            weights, new([more[0].Row, more[1].Row], new double[,] { { 0.25, 0 }, { 0, 0.49 } }));
        double solved = LinearGaussianModel.Solve(unknowns, [first, .. more]).UncertaintyOf(weights);

        Assert.Equal(solved, predicted, 1e-12);
    }

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(1, 0)]
    [InlineData(1, double.NaN)]
    public void A_value_that_is_not_a_number_and_noise_that_is_not_above_zero_are_refused(double value, double noise) =>
        Assert.ThrowsAny<ArgumentException>(() => LinearGaussianModel.Solve(
            [new("a", 0, 1, "p")], [new LinearObservation([1], value, [new("n", noise)])]));
}
