using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Student's t against an independent library.</summary>
public sealed class StudentTTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2.5)]
    [InlineData(16)]
    [InlineData(400)]
    public void Density_probability_and_coverage_factor_agree_with_another_library(double degreesOfFreedom)
    {
        MathNet.Numerics.Distributions.StudentT other = new(0, 1, degreesOfFreedom);

        foreach (double t in new[] { 0.1, 1.0, 2.0, 6.0 })
        {
            Assert.Equal(other.Density(t), StudentT.Density(t, degreesOfFreedom), 1e-10);
            Assert.Equal((2 * other.CumulativeDistribution(t)) - 1, StudentT.ProbabilityWithin(t, degreesOfFreedom), 1e-9);
        }

        Assert.Equal(other.InverseCumulativeDistribution(0.975), StudentT.CoverageFactor(0.95, degreesOfFreedom), 1e-5);
    }
}
