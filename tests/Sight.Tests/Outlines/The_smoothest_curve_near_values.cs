using MathNet.Numerics.LinearAlgebra;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class The_smoothest_curve_near_values
{
    [Theory]
    [InlineData(1)]
    [InlineData(3000)]
    public void It_solves_the_normal_equations_as_a_general_library_does(double stiffness)
    {
        // MathNet.Numerics solves the same equations, written densely.
        var random = new Random(20260112);
        const int n = 60;
        double[] y = [.. Enumerable.Range(0, n).Select(i => (0.002 * i * i) + random.NextDouble())];
        double[] weight = [.. Enumerable.Range(0, n).Select(i => i is > 20 and < 32 ? 0 : 0.5 + random.NextDouble())];
        Matrix<double> third = Matrix<double>.Build.Dense(n - 3, n, (i, j) => (j - i) switch { 0 => -1, 1 => 3, 2 => -3, 3 => 1, _ => 0 });
        Vector<double> w = Vector<double>.Build.Dense(weight);
        Vector<double> expected = (Matrix<double>.Build.DiagonalOfDiagonalVector(w) + (stiffness * third.TransposeThisAndMultiply(third))).Solve(w.PointwiseMultiply(Vector<double>.Build.Dense(y)));

        double[] curve = Graduation.Of(y, weight, stiffness);

        Assert.All(Enumerable.Range(0, n), i => Assert.Equal(expected[i], curve[i], 1e-5));
    }

    [Fact]
    public void A_parabola_goes_on_where_nothing_has_weight()
    {
        double[] y = [.. Enumerable.Range(0, 50).Select(i => 3 - (0.4 * i) + (0.01 * i * i))];
        double[] curve = Graduation.Of(y, [.. Enumerable.Range(0, 50).Select(i => i < 12 ? 0.0 : 1)], 3000);

        Assert.All(Enumerable.Range(0, 50), i => Assert.Equal(y[i], curve[i], 1e-3));
    }
}
