using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

public sealed class NonlinearFitTests
{
    [Fact]
    public void A_curved_model_without_noise_gives_its_own_numbers_back()
    {
        double[] at = [0, 1, 2, 3, 4];
        double[] Model(double[] p) => [.. at.Select(t => p[0] * Math.Exp(-p[1] * t))];
        Unknown[] unknowns = [new("height", 0, double.PositiveInfinity, "h"), new("rate", 0, double.PositiveInfinity, "r")];

        NonlinearFitResult fit = NonlinearFit.Fit(unknowns, Model([5, 0.7]), [.. at.Select(_ => 0.01)], Model, [3, 0.3]);

        Assert.Equal(5, fit.Values[0], 1e-9);
        Assert.Equal(0.7, fit.Values[1], 1e-9);
        Assert.All(fit.Residuals, r => Assert.Equal(0, r, 1e-9));
    }

    [Fact]
    public void A_prior_pulls_what_the_data_leave_open()
    {
        Unknown[] unknowns = [new("a", 0, double.PositiveInfinity, "a"), new("b", 2, 0.1, "b")];

        NonlinearFitResult fit = NonlinearFit.Fit(unknowns, [5.0], [0.1], p => [p[0] + p[1]], [0, 2]);

        Assert.Equal(3, fit.Values[0], 1e-9);
        Assert.Equal(Math.Sqrt(0.02), fit.UncertaintyOf(0), 1e-9);
    }
}
