using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Charts;
using static Whetwright.Core.Tests.Metrology.PublishedTables;

namespace Whetwright.Core.Tests.Metrology.Charts;

/// <summary>
/// Control charts and capability. Piston rings: Montgomery, Introduction to Statistical Quality Control, 2nd ed. 1991, pp. 206-213; limits and indices as the
/// vignette of the statistics package qcc 3.0 prints them. Individuals, sums and the small capability example: NIST/SEMATECH e-Handbook 6.3.2.2, 6.3.2.3 and
/// 6.1.6, from memory, the arithmetic recomputed.
/// </summary>
public sealed class ChartTests
{
    private static readonly double[][] Rings =
    [
        .. Column("spc_pistonrings.csv", "diameter_mm").Zip(Column("spc_pistonrings.csv", "sample")).Where(p => p.Second <= 25)
            .GroupBy(p => p.Second, p => p.First).Select(g => g.ToArray()),
    ];

    [Fact]
    public void Factors_are_those_of_the_printed_table()
    {
        double[] n = Column("control_chart_constants.csv", "n");
        for (int i = 0; i < n.Length; i++)
        {
            int size = (int)n[i];
            Printed("A2", ControlConstants.A2(size), 6e-4);
            Printed("A3", ControlConstants.A3(size), 6e-4);
            Printed("c4", ControlConstants.C4(size), 6e-5);
            Printed("d2", ControlConstants.D2(size), 6e-4);
            Printed("d3", ControlConstants.D3OfRange(size), 6e-4);
            Printed("B3", ControlConstants.B(size).B3, 1.1e-3);
            Printed("B4", ControlConstants.B(size).B4, 1.1e-3);
            Printed("D3", ControlConstants.D(size).D3, 1.1e-3);
            Printed("D4", ControlConstants.D(size).D4, 1.1e-3);
            Printed("c4_computed", ControlConstants.C4(size), 1e-6);
            Printed("d2_computed", ControlConstants.D2(size), 1e-5);
            Printed("d3_computed", ControlConstants.D3OfRange(size), 2e-4);

            void Printed(string column, double got, double within) => Assert.Equal(Column("control_chart_constants.csv", column)[i], got, within);
        }

        Assert.Equal(IndividualsChart.D2, ControlConstants.D2(2), 1e-9);
        Assert.Equal(IndividualsChart.D4, ControlConstants.D(2).D4, 1e-5);
    }

    [Fact]
    public void Piston_rings_have_the_printed_limits()
    {
        SubgroupChart chart = SubgroupChart.Of(Rings);

        Assert.Equal(74.00118, chart.Mean, 5e-6);
        Assert.Equal(0.02276, chart.MeanRange, 5e-6);
        Assert.Equal(0.009785039, chart.SigmaByRange, 5e-7); // printed with d2 = 2.326
        Assert.Equal((73.98805, 74.0143), (Math.Round(chart.MeanLimits.Lower, 5), Math.Round(chart.MeanLimits.Upper, 4)));
        Assert.Equal(0, chart.RangeLimits.Lower);
        Assert.Equal(0.04812533, chart.RangeLimits.Upper, 5e-6);
        Assert.Equal(0.009240037, chart.MeanDeviation, 5e-9);
        Assert.Equal(0.009829977, chart.SigmaByDeviation, 5e-9);
        Assert.Equal(0, chart.DeviationLimits.Lower);
        Assert.Equal(0.01930242, chart.DeviationLimits.Upper, 5e-8);
        Assert.Empty(chart.Outside);
    }

    [Theory]
    [InlineData(73.95, 74.05, null, 1.703, 1.743, 1.663, 1.663, 1.690, 1.491, 1.915, 1.448, 1.878, 1.480, 1.900)]
    [InlineData(73.99, 74.01, null, 0.341, 0.381, 0.301, 0.301, null, 0.298, 0.383, 0.231, 0.370, null, null)]
    [InlineData(73.95, 74.05, 74.02, 1.703, 1.743, 1.663, 1.663, 0.786, 1.491, 1.915, 1.448, 1.878, null, null)] // qcc's own interval of Cpm off target leaves out a square in Boyles' degrees of freedom; see the test of the intervals
    public void Piston_rings_have_the_printed_capability(
        double lower, double upper, double? target, double cp, double low, double high, double cpk, double? cpm, double cpFrom, double cpTo, double cpkFrom, double cpkTo, double? cpmFrom, double? cpmTo)
    {
        Capability made = Capability.Of(125, 74.001176, 0.009785039, lower, upper, target);

        Assert.Equal(cp, made.Cp.Value, 6e-4);
        Assert.Equal(low, made.CpLower, 6e-4);
        Assert.Equal(high, made.CpUpper, 6e-4);
        Assert.Equal(cpk, made.Cpk.Value, 6e-4);
        Assert.Equal((cpFrom, cpTo), (made.Cp.From, made.Cp.To), new Within(6e-4));
        Assert.Equal((cpkFrom, cpkTo), (made.Cpk.From, made.Cpk.To), new Within(6e-4));
        if (cpm is { } printed)
        {
            Assert.Equal(printed, made.Cpm.Value, 5e-3); // two decimals printed
            if (cpmFrom is { } from && cpmTo is { } to)
                Assert.Equal((from, to), (made.Cpm.From, made.Cpm.To), new Within(5e-3));
        }
    }

    [Fact]
    public void The_handbook_s_small_capability_example_comes_out()
    {
        Capability made = Capability.Of(100, 16, 2, 8, 20);

        Assert.Equal((1.0, 0.6667), (made.Cp.Value, Math.Round(made.Cpk.Value, 4)));
        Assert.Equal((1.3333, 0.6667), (Math.Round(made.CpLower, 4), Math.Round(made.CpUpper, 4)));
    }

    [Fact]
    public void Capability_intervals_hold_the_truth_about_as_often_as_they_say()
    {
        RandomDraws random = new(12);
        int cp = 0, cpk = 0, cpm = 0;
        double trueCpm = 0.6667 / Math.Sqrt(1 + (0.6 * 0.6));
        for (int trial = 0; trial < 1500; trial++)
        {
            Capability made = Capability.Of([.. Enumerable.Range(0, 30).Select(_ => 0.1 + (0.25 * random.Normal()))], -0.5, 0.5, target: -0.05)!;
            cp += 0.6667 >= made.Cp.From && 0.6667 <= made.Cp.To ? 1 : 0;
            cpk += 0.5333 >= made.Cpk.From && 0.5333 <= made.Cpk.To ? 1 : 0;
            cpm += trueCpm >= made.Cpm.From && trueCpm <= made.Cpm.To ? 1 : 0;
        }

        Assert.InRange(cp / 1500.0, 0.93, 0.97);
        Assert.InRange(cpk / 1500.0, 0.93, 0.975);
        Assert.InRange(cpm / 1500.0, 0.93, 0.975); // the chi-square form takes the squares about the target
    }

    [Fact]
    public void Individuals_have_the_handbook_s_limits()
    {
        IndividualsChart chart = IndividualsChart.Of([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])!;

        Assert.Equal(50.81, chart.Mean, 1e-9);
        Assert.Equal(1.8778, chart.MeanRange, 5e-5);
        Assert.Equal(55.8041, chart.Upper, 2e-3); // the handbook rounds d2 to 1.128
        Assert.Equal(45.8159, chart.Lower, 2e-3);
        Assert.Empty(chart.Outside);
        Assert.Null(IndividualsChart.Of([1]));
    }

    [Fact]
    public void A_single_value_far_out_is_named_by_value_and_by_range()
    {
        IndividualsChart chart = IndividualsChart.Of([0.1, -0.1, 0.05, 0, -0.05, 0.1, -0.1, 0.05, 0, 2, 0, 0.1], baseline: 9)!;

        Assert.Equal([9], chart.Outside);
        Assert.Equal([9, 10], chart.RangeOutside);
    }

    [Fact]
    public void Sums_find_the_handbook_s_shift_at_the_fourteenth_value()
    {
        // Target 325, h = 4.1959, k = 0.3175. Worked by hand: value 13, 328.325: 3.325 − 0.3175 = 3.0075; value 14, 327.25: + 1.9325 = 4.94 > 4.1959.
        double[] x = [324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150, 328.325, 327.250, 327.825];

        CumulativeSums sums = CumulativeSums.Of(x, 325, 0.3175, 4.1959, startAgain: false);

        Assert.Equal(3.0075, sums.Up[12], 1e-9);
        Assert.Equal(4.94, sums.Up[13], 1e-9);
        Assert.Equal([13], sums.Signals);
    }

    [Fact]
    public void Sums_with_half_and_five_sigma_give_a_false_signal_in_some_465_values()
    {
        // Average run length 465 (Montgomery, from memory); 400,000 values give some 860 signals, known to about 3.4 %.
        RandomDraws random = new(13);
        double[] x = [.. Enumerable.Range(0, 400_000).Select(_ => random.Normal())];

        int signals = CumulativeSums.Of(x, 0, CumulativeSums.UsualSlack, CumulativeSums.UsualLimit).Signals.Count;

        Assert.InRange(400_000.0 / signals, 465 * 0.9, 465 * 1.1);
    }

    [Fact]
    public void Chi_square_and_normal_agree_with_a_reference_library()
    {
        foreach (double freedom in (double[])[1, 2.5, 19, 124, 900])
        {
            foreach (double share in (double[])[0.001, 0.025, 0.5, 0.975, 0.999])
                Assert.Equal(MathNet.Numerics.Distributions.ChiSquared.InvCDF(freedom, share), Distributions.ChiSquareQuantile(share, freedom), 1e-6 * freedom);
        }

        for (double z = -8; z <= 8; z += 0.37)
            Assert.Equal(MathNet.Numerics.Distributions.Normal.CDF(0, 1, z), Distributions.NormalLowerTail(z), 1e-14);
        Assert.Equal(1.959963984540054, Distributions.NormalQuantile(0.975), 1e-12);
    }

    private sealed class Within(double tolerance) : IEqualityComparer<(double A, double B)>
    {
        public bool Equals((double A, double B) x, (double A, double B) y) => Math.Abs(x.A - y.A) <= tolerance && Math.Abs(x.B - y.B) <= tolerance;

        public int GetHashCode((double A, double B) obj) => 0;
    }
}
