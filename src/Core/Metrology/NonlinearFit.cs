using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>
/// Weighted least squares with priors for models that are not straight: Gauss and Newton's steps, each a linear Gaussian solve about the
/// last values, halved until the misfit falls. The covariance is that of the last linear model. Source: [tarantola] ch. 3.
/// </summary>
public static class NonlinearFit
{
    /// <summary>Fits; starts at the unknowns' prior means, or at the given start.</summary>
    /// <param name="unknowns">Unknowns with priors (infinite where nothing was known).</param>
    /// <param name="observed">Observed values.</param>
    /// <param name="uncertainties">Their standard uncertainties, each above zero.</param>
    /// <param name="model">All predicted values from the unknowns' values.</param>
    /// <param name="start">Where to start.</param>
    /// <exception cref="ArgumentException">Sizes that differ or values that are not finite.</exception>
    public static NonlinearFitResult Fit(
        IReadOnlyList<Unknown> unknowns, double[] observed, double[] uncertainties, Func<double[], double[]> model, double[] start)
    {
        if (observed.Length != uncertainties.Length || start.Length != unknowns.Count)
            throw new ArgumentException("Observed values and uncertainties, unknowns and start must go in pairs.", nameof(observed));
        double[] x = [.. start];
        double misfit = Misfit(x);
        LinearGaussianSolution? solution = null;
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double[] predicted = model(x);
            double[][] rows = Jacobian(model, x, predicted);
            LinearObservation[] linear = [.. observed.Select((y, i) => new LinearObservation(
                rows[i], y - predicted[i] + Dot(rows[i], x), [new("reading", Require.Positive(uncertainties[i], "uncertainty"))]))];
            solution = LinearGaussianModel.Solve(unknowns, linear);
            double[] toward = [.. solution.Values];
            double step = 1;
            double[] next = toward;
            double nextMisfit = Misfit(next);
            while (!(nextMisfit <= misfit * (1 + 1e-12)) && step > 1e-6)
            {
                step /= 2;
                next = [.. x.Zip(toward, (from, to) => from + (step * (to - from)))];
                nextMisfit = Misfit(next);
            }

            double moved = x.Zip(next, (a, b) => Math.Abs(a - b) / (1 + Math.Abs(a))).Max();
            bool settled = moved < 1e-10 || (moved < 1e-5 && misfit - nextMisfit < 1e-10 * (1 + misfit));
            (x, misfit) = (next, nextMisfit);
            if (settled)
                break;
        }

        double[] fitted = model(x);
        return new(x, [.. observed.Zip(fitted, (y, f) => y - f)], Misfit(x, priors: false), solution!);

        double Misfit(double[] at, bool priors = true)
        {
            double[] predicted = model(at);
            double sum = 0;
            for (int i = 0; i < observed.Length; i++)
                sum += Math.Pow((observed[i] - predicted[i]) / uncertainties[i], 2);
            for (int j = 0; j < unknowns.Count && priors; j++)
                sum += Math.Pow((at[j] - unknowns[j].PriorMean) / unknowns[j].PriorUncertainty, 2);
            return double.IsFinite(sum) ? sum : double.PositiveInfinity;
        }
    }

    private static double[][] Jacobian(Func<double[], double[]> model, double[] x, double[] predicted)
    {
        double[][] rows = [.. predicted.Select(_ => new double[x.Length])];
        for (int j = 0; j < x.Length; j++)
        {
            double centre = x[j];
            double step = 1e-6 * Math.Max(1e-2, Math.Abs(centre));
            x[j] = centre + step;
            double[] above = model(x);
            x[j] = centre - step;
            double[] below = model(x);
            x[j] = centre;
            for (int i = 0; i < rows.Length; i++)
                rows[i][j] = Require.Finite((above[i] - below[i]) / (2 * step), "model");
        }

        return rows;
    }

    private static double Dot(double[] left, double[] right) => left.Zip(right, (a, b) => a * b).Sum();
}

/// <summary>What a fit says.</summary>
/// <param name="Values">Best values of the unknowns.</param>
/// <param name="Residuals">Observed less fitted.</param>
/// <param name="ChiSquare">Sum of squared residuals over variances.</param>
/// <param name="Linear">The linear solution about the best values: covariance and what is not identified.</param>
public sealed record NonlinearFitResult(IReadOnlyList<double> Values, IReadOnlyList<double> Residuals, double ChiSquare, LinearGaussianSolution Linear)
{
    /// <summary>Standard uncertainty of one unknown; infinite where it is not identified.</summary>
    public double UncertaintyOf(int unknown)
    {
        double[] unit = new double[Values.Count];
        unit[unknown] = 1;
        return Linear.UncertaintyOf(unit);
    }
}
