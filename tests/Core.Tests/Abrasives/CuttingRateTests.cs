using CsCheck;
using Whetwright.Core.Abrasives;

namespace Whetwright.Core.Tests.Abrasives;

/// <summary>What a pass takes off, learnt from the log: conjugate normal-gamma update, checked against its batch form and by simulation.</summary>
public sealed class CuttingRateTests
{
    [Fact]
    public void A_guess_says_that_it_is_one_until_a_visit_comes_in()
    {
        CuttingRate guess = CuttingRate.Guess(0.004);

        Assert.True(guess.IsGuess);
        Assert.Equal("a guess", guess.Origin);
        Assert.Equal("learnt from 1 visit", guess.Learn(0.04, 10).Origin);
    }

    [Fact]
    public void Learning_one_by_one_is_learning_all_at_once() =>
        Gen.Double[-1.0, 1.0].Array[1, 12].Sample(
            logs =>
            {
                CuttingRate rate = CuttingRate.Guess(0.01);
                foreach (double y in logs)
                    rate = rate.Learn(0.01 * Math.Exp(y) * 5, 5);

                // Batch form: m = (w0·m0 + Σy)/(w0 + n); ν·s² = ν0·s0² + Σ(y − ȳ)² + w0·n/(w0 + n)·(ȳ − m0)².
                double n = logs.Length, mean = logs.Average(), w0 = CuttingRate.GuessWeight;
                double squares = (CuttingRate.GuessFreedom * Math.Pow(CuttingRate.GuessScatter, 2)) + logs.Sum(y => Math.Pow(y - mean, 2)) + (w0 * n / (w0 + n) * mean * mean);
                Assert.Equal(Math.Log(0.01) + (n * mean / (w0 + n)), rate.LogMean, 1e-9);
                Assert.Equal(Math.Sqrt(squares / (CuttingRate.GuessFreedom + n)), rate.LogScatter, 1e-9);
            },
            seed: "0000000000001");

    [Fact]
    public void The_interval_for_the_next_visit_holds_it_as_often_as_it_says()
    {
        // Shops drawn from the prior itself: scatter² = ν·s²/χ²(ν), mean normal with variance scatter²/weight; six visits learnt, the seventh predicted.
        Random random = new(20_261_125);
        int held = 0;
        const int shops = 4000;
        for (int k = 0; k < shops; k++)
        {
            double chi = Enumerable.Range(0, (int)CuttingRate.GuessFreedom).Sum(_ => Math.Pow(Normal(random), 2));
            double scatter = CuttingRate.GuessScatter * Math.Sqrt(CuttingRate.GuessFreedom / chi);
            double mean = Math.Log(0.02) + (Normal(random) * scatter / Math.Sqrt(CuttingRate.GuessWeight));
            CuttingRate rate = CuttingRate.Guess(0.02);
            for (int visit = 0; visit < 6; visit++)
                rate = rate.Learn(Math.Exp(mean + (Normal(random) * scatter)) * 20, 20);
            (double from, double to) = rate.NextVisit(0.9);
            double next = Math.Exp(mean + (Normal(random) * scatter));
            held += next >= from && next <= to ? 1 : 0;
        }

        // Binomial standard deviation 0.0047: ± 3 of them.
        Assert.InRange(held / (double)shops, 0.886, 0.914);
    }

    [Theory]
    [InlineData(0, 5)]
    [InlineData(double.NaN, 5)]
    [InlineData(1, 0)]
    public void A_visit_without_steel_or_passes_teaches_nothing(double area, int passes) =>
        Assert.ThrowsAny<ArgumentOutOfRangeException>(() => CuttingRate.Guess(0.01).Learn(area, passes));

    [Fact]
    public void A_rate_that_falls_with_the_work_done_says_dress()
    {
        RateSinceDressing[] tired = [.. Enumerable.Range(0, 8).Select(i => new RateSinceDressing(i, 0.02 * Math.Exp((-0.1 * i) + (0.01 * (i % 2)))))];
        RateSinceDressing[] steady = [.. Enumerable.Range(0, 8).Select(i => new RateSinceDressing(i, 0.02 * Math.Exp(0.05 * ((i % 3) - 1))))];

        Assert.True(DressWatch.Of(tired)!.Dress);
        Assert.Equal(Math.Exp(-0.7), DressWatch.Of(tired)!.LeftOfFresh, 0.02);
        Assert.False(DressWatch.Of(steady)!.Dress);
        Assert.Null(DressWatch.Of(steady[..3]));
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
