using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>What the combination does with slips, contradictions and gaps.</summary>
public sealed class ReadingCombinationTests
{
    private static readonly BenchMount Up = BenchMounts.Mount(TipDirection.Up, 14.2, 15.8);
    private static readonly BenchMount Down = BenchMounts.Mount(TipDirection.Down, 14.2, 15.8);

    [Fact]
    public void One_wild_mark_among_three_mounts_is_named_with_its_size_and_left_out()
    {
        CombinedReading reading = Combine(Up, Down, BenchMounts.Mount(TipDirection.Up, 19.2, 15.8));

        Assert.True(reading.Outcome == ReadingOutcome.Read, string.Join(' ', reading.Reasons.Select(r => r.Text)));
        Assert.Equal((2, Side.Left, MarkRole.Edge), (reading.Wild!.Mount, reading.Wild.Target, reading.Wild.Role));
        Assert.Equal(5.0, reading.Wild.OffBy.Degrees, 0.5);
        Assert.True(reading.Wild.Odds > 1000);
        Assert.Contains(reading.Reasons, r => r.Code == "wild-mark" && r.Text.Contains("mount 3, left of the target, edge mark at 19.2°", StringComparison.Ordinal));
        Assert.Equal(30, reading.Included!.Value.Value.Degrees, 0.1);
    }

    [Fact]
    public void One_wild_repeat_is_named_and_left_out()
    {
        CombinedReading reading = Combine(new BenchMount(TipDirection.Up, new([15.0, 15.1, 18.0], [], []), new([15.0, 15.1, 14.9], [], [])));

        Assert.Equal(18.0, reading.Wild!.AsRead.Degrees, 1e-9);
        Assert.Equal(30.05, reading.Included!.Value.Value.Degrees, 0.02);
        Assert.True(reading.Included.Value.StandardUncertainty.Degrees < 0.2);
    }

    [Fact]
    public void Two_mounts_that_cannot_agree_are_refused_since_either_may_be_wrong()
    {
        CombinedReading reading = Combine(Up, BenchMounts.Mount(TipDirection.Down, 11.2, 12.8));

        Assert.Equal(ReadingOutcome.Refused, reading.Outcome);
        Assert.Equal("mounts-disagree", Assert.Single(reading.Reasons).Code);
        Assert.Null(reading.Included);
    }

    [Theory]
    [InlineData(16.0, 15.0, null, "primary-steeper-than-edge")]
    [InlineData(15.0, 15.0, null, "primary-steeper-than-edge")]
    [InlineData(2.0, 15.0, 14.0, "micro-flatter-than-edge")]
    public void Grinds_that_do_not_lie_inside_each_other_are_refused(double primary, double edge, double? micro, string code)
    {
        BenchMount mount = new(TipDirection.Up, new([edge], [primary], micro is { } m ? [m] : []), new([15], [2], []));

        CombinedReading reading = Combine(mount);

        Assert.Equal(ReadingOutcome.Refused, reading.Outcome);
        Reason reason = Assert.Single(reading.Reasons);
        Assert.Equal(code, reason.Code);
        Assert.Contains("Mount 1, left", reason.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_marks_nearest_zero_are_the_primary_and_the_next_the_edge()
    {
        // Common practice, no source: primary a few degrees or less on thin blades, then the edge bevel, then a micro-bevel.
        CombinedReading reading = Combine(new BenchMount(TipDirection.Up, new([12], [1.5], [17]), new([12], [1.5], [17])));

        SideReading side = reading.On(Side.Left);
        Assert.True(side.Primary!.Value.Value < side.Edge!.Value.Value && side.Edge.Value.Value < side.Micro!.Value.Value);
        Assert.Equal(1.5, side.Primary.Value.Value.Degrees, 0.01);
        Assert.Equal(34, reading.IncludedMicro!.Value.Value.Degrees, 1e-9);
        Assert.Equal(24, reading.Included!.Value.Value.Degrees, 1e-9);
    }

    [Fact]
    public void A_mark_on_one_side_only_is_a_one_sided_reading_that_says_what_to_do()
    {
        CombinedReading reading = Combine(new BenchMount(TipDirection.Up, BenchSideMarks.None, new([15], [], [])));

        Assert.Equal(ReadingOutcome.OneSide, reading.Outcome);
        Assert.Null(reading.Included);
        Assert.Equal(15, reading.On(Side.Right).AsRead!.Value.Value.Degrees, 1e-9);
        Assert.Null(reading.On(Side.Left).AsRead);
        Assert.Contains(reading.Reasons, r => r.Code == "one-side");
        Assert.NotEmpty(reading.MeasureNext);
        Assert.NotEmpty(reading.Budget);
    }

    [Fact]
    public void A_chisel_on_one_side_is_told_to_be_rolled_by_half()
    {
        CombinedReading reading = BenchReading.Combine(
            new(MarkScale.Bevel, 0.5, [new(TipDirection.Up, BenchSideMarks.None, new([30], [], []))]) { HasBack = true });

        Assert.Contains(reading.Reasons, r => r.Code == "one-side" && r.Text.Contains("near 15°", StringComparison.Ordinal));
        Assert.Contains(reading.Reasons, r => r.Code == "steep-bevel");
    }

    [Fact]
    public void A_piece_with_a_back_has_an_included_angle_from_the_back_and_no_sides()
    {
        CombinedReading reading = BenchReading.Combine(new(MarkScale.Bevel, 0.5, [BenchMounts.Mount(TipDirection.Up, 14, 16.5)]) { HasBack = true });

        Assert.Equal(30.5, reading.Included!.Value.Value.Degrees, 1e-9);
        Assert.Null(reading.On(Side.Left).Edge);
        Assert.NotNull(reading.On(Side.Left).AsRead);
        Assert.DoesNotContain(reading.Reasons, r => r.Code == "roll-not-known");
    }

    [Fact]
    public void The_budget_adds_up_to_the_included_angles_uncertainty_and_names_its_sources()
    {
        CombinedReading reading = Combine(Up, Down);

        Assert.Equal(reading.Included!.Value.StandardUncertainty.Degrees, Math.Sqrt(reading.Budget.Sum(b => b.Uncertainty * b.Uncertainty)), 1e-9);
        Assert.Contains(reading.Budget, b => b.Source == "resolution");
        Assert.Contains(reading.Budget, b => b.Source == "distance");
        SideReading side = reading.On(Side.Left);
        Assert.Equal(side.Edge!.Value.StandardUncertainty.Degrees, Math.Sqrt(side.Budget.Sum(b => b.Uncertainty * b.Uncertainty)), 1e-9);
        Assert.Contains(side.Budget, b => b.Source == "re-clamping");
    }

    [Fact]
    public void Defaults_are_labelled_as_defaults_in_the_result()
    {
        CombinedReading reading = Combine(Up, Down);

        Reason defaults = Assert.Single(reading.Reasons, r => r.Code == "defaults-used");
        Assert.Contains("re-clamping scatter 0.2°", defaults.Text, StringComparison.Ordinal);
        Assert.Contains("± 0.5 %", defaults.Text, StringComparison.Ordinal);
        Assert.True(reading.Scatter!.IsDefault);
    }

    [Fact]
    public void Repeated_mounts_replace_the_default_scatter_by_what_they_show()
    {
        BenchMount[] mounts = [.. new[] { -1.0, 0.6, 0.9, -0.7, 0.2 }.Select(c => BenchMounts.Mount(TipDirection.Up, 15 - c, 15 + c))];

        CombinedReading reading = Combine(mounts);

        Assert.False(reading.Scatter!.IsDefault);
        Assert.Equal(4, reading.Scatter.FromRepeats);
        Assert.InRange(reading.Scatter.Value.Degrees, 0.5, 0.9);
    }

    [Fact]
    public void An_instrument_that_knows_its_roll_takes_it_out_of_a_single_mount()
    {
        Instrument instrument = new(MeasuredLength.FromMillimetres(100, 0.2), MeasuredLength.FromMillimetres(0, 0.1))
        {
            HolderRoll = Angle.FromDegrees(0.8), Scatter = Angle.FromDegrees(0.1),
        };

        CombinedReading reading = BenchReading.Combine(new(MarkScale.Bevel, 0.1, [Up]) { Instrument = instrument });

        Assert.True(reading.RollKnown);
        Assert.Equal(15, reading.On(Side.Left).Edge!.Value.Value.Degrees, 0.01);
        Assert.InRange(reading.On(Side.Left).Edge!.Value.StandardUncertainty.Degrees, 0.1, 0.25);
    }

    [Fact]
    public void A_mount_without_a_noted_tip_leaves_the_blade_sides_unnamed()
    {
        CombinedReading reading = Combine(BenchMounts.Mount(null, 15, 15));

        Assert.Null(reading.On(Side.Left).Blade);
        Assert.Contains(reading.Reasons, r => r.Code == "tip-not-noted");
    }

    [Fact]
    public void What_to_measure_next_is_ranked_by_what_it_takes_off_per_minute()
    {
        IReadOnlyList<NextMeasurement> next = Combine(Up).MeasureNext;

        Assert.NotEmpty(next);
        Assert.All(next, n => Assert.True(n.Before is null || n.After < n.Before.Value));
        Assert.Contains(next, n => n.Quantity == "left side" || n.Quantity == "right side");
    }

    [Fact]
    public void Every_number_has_a_derivation_whose_gains_give_it_back()
    {
        BenchMarks marks = new(MarkScale.Bevel, 0.1, [Up, Down]);
        BenchObservations made = BenchReading.Observations(marks);
        CombinedReading reading = BenchReading.Combine(marks);

        IReadOnlyList<Derivation> chain = ReadingDerivations.Explain(reading, made.SetUp);

        Assert.Equal("included angle; edge bevel, target left; edge bevel, target right; holder roll", string.Join("; ", chain.Select(d => d.Name)));
        Assert.All(chain, d => Assert.Equal(d.Value, d.Inputs.Sum(i => i.Value * i.Partial!.Value), 1e-9));
        Derivation asRead = chain[0].Inputs[0].From!;
        double x = asRead.Inputs.Single(i => i.Symbol == "x").Value;
        Assert.Equal(asRead.Value, 0.5 * double.RadiansToDegrees(Math.Atan2(x, 100)), 1e-9);
        Assert.True(asRead.Inputs.Single(i => i.Symbol == "L").IsDefault);
    }

    private static CombinedReading Combine(params BenchMount[] mounts) => BenchReading.Combine(new(MarkScale.Bevel, 0.1, mounts));
}
