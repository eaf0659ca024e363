using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Against Math.NET Numerics, a general-purpose library.</summary>
public sealed class DistributionsTests
{
    [Fact]
    public void The_F_tail_and_its_parts_agree_with_a_reference_library()
    {
        Random random = new(17);
        for (int trial = 0; trial < 300; trial++)
        {
            double n1 = random.Next(1, 60);
            double n2 = random.Next(1, 200);
            double f = Math.Exp((4 * random.NextDouble()) - 2);

            Assert.Equal(1 - FisherSnedecor.CDF(n1, n2, f), Distributions.FUpperTail(f, n1, n2), 1e-10);
            Assert.Equal(SpecialFunctions.GammaLn(n1 / 3), Distributions.LogGamma(n1 / 3), 1e-10);
        }
    }

    [Theory]
    [InlineData(0, 3, 4, 1)]
    [InlineData(-1, 3, 4, 1)]
    [InlineData(double.PositiveInfinity, 3, 4, 0)]
    public void The_ends_of_the_F_tail_are_certain(double f, double n1, double n2, double expected) =>
        Assert.Equal(expected, Distributions.FUpperTail(f, n1, n2));

    [Fact]
    public void Degrees_of_freedom_of_nothing_are_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Distributions.FUpperTail(1, 0, 4));
}
