using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Two mounts, the blade turned end for end between them. Method: Evans, Hocken, Estler 1996 (citation from memory); numbers made up.</summary>
public sealed class ReversalTests
{
    private static readonly BenchMarks Turned = new(MarkScale.Bevel, 0.1,
    [
        BenchMounts.Mount(TipDirection.Down, 15.8, 15.2),
        BenchMounts.Mount(TipDirection.Up, 16.8, 14.2),
    ]);

    [Fact]
    public void Turning_the_blade_gives_both_true_sides_and_the_roll()
    {
        // L1 = a + τ, R1 = b − τ, L2 = b + τ, R2 = a − τ; our roll is positive where the right reads more: ρ = −τ.
        CombinedReading reading = BenchReading.Combine(Turned);

        Assert.Equal(ReadingOutcome.Read, reading.Outcome);
        Assert.Equal(31.0, reading.Included!.Value.Value.Degrees, 1e-9);
        Assert.Equal(15.0, reading.On(Side.Left).Edge!.Value.Value.Degrees, 1e-9);
        Assert.Equal(16.0, reading.On(Side.Right).Edge!.Value.Value.Degrees, 1e-9);
        Assert.Equal(-0.8, reading.Roll!.Value.Value.Degrees, 1e-9);
        Assert.True(reading.RollKnown);
        Assert.Equal(Side.Left, reading.On(Side.Left).Blade);
        Assert.Equal(15.8, reading.On(Side.Left).AsRead!.Value.Value.Degrees, 1e-9);
    }

    [Fact]
    public void A_sides_uncertainty_never_falls_below_the_scatter_of_clamping()
    {
        CombinedReading reading = BenchReading.Combine(Turned);
        double scatter = reading.Scatter!.Value.Degrees;

        Assert.True(reading.On(Side.Left).Edge!.Value.StandardUncertainty.Degrees >= scatter);
        Assert.True(reading.Included!.Value.StandardUncertainty.Degrees < scatter);
    }

    [Fact]
    public void One_mount_says_that_roll_and_lopsidedness_cannot_be_told_apart_and_what_to_do()
    {
        CombinedReading reading = BenchReading.Combine(Turned with { Mounts = [Turned.Mounts[0]] });

        Assert.Equal(31.0, reading.Included!.Value.Value.Degrees, 1e-9);
        Assert.False(reading.RollKnown);
        Assert.Null(reading.Roll);
        Assert.True(reading.On(Side.Left).Edge!.Value.StandardUncertainty.Degrees >= 1);
        Assert.Contains(reading.Reasons, r => r.Code == "roll-not-known" && r.Text.Contains("Turn the blade", StringComparison.Ordinal));
        NextMeasurement turn = Assert.Single(reading.MeasureNext, n => n.What.StartsWith("turn the blade", StringComparison.Ordinal));
        Assert.True(turn.After.Degrees < 0.4 * turn.Before!.Value.Degrees);
    }

    [Fact]
    public void Two_mounts_with_the_tip_the_same_way_do_not_tell_the_roll_either()
    {
        CombinedReading reading = BenchReading.Combine(Turned with
        {
            Mounts = [BenchMounts.Mount(TipDirection.Up, 15.8, 15.2), BenchMounts.Mount(TipDirection.Up, 15.7, 15.3)],
        });

        Assert.False(reading.RollKnown);
        Assert.Contains(reading.Reasons, r => r.Code == "roll-not-known");
    }

    [Fact]
    public void Swapping_the_tips_swaps_the_sides_of_the_blade()
    {
        BenchMarks swapped = Turned with
        {
            Mounts = [Turned.Mounts[0] with { Tip = TipDirection.Up }, Turned.Mounts[1] with { Tip = TipDirection.Down }],
        };

        CombinedReading one = BenchReading.Combine(Turned);
        CombinedReading other = BenchReading.Combine(swapped);

        foreach (Side target in new[] { Side.Left, Side.Right })
        {
            Assert.Equal(one.On(target).Edge!.Value.Value.Degrees, other.On(target).Edge!.Value.Value.Degrees, 1e-9);
            Assert.Equal(one.On(target).Blade!.Value.Other(), other.On(target).Blade);
        }
    }

    [Fact]
    public void Primaries_seen_on_both_sides_tell_the_roll_from_one_mount()
    {
        BenchMount mount = new(TipDirection.Up, new([14.2], [1.2], []), new([15.8], [2.8], []));

        CombinedReading reading = BenchReading.Combine(new(MarkScale.Bevel, 0.1, [mount]));

        Assert.True(reading.RollKnown);
        Assert.Equal(0.8, reading.Roll!.Value.Value.Degrees, 0.02);
        Assert.Equal(15.0, reading.On(Side.Left).Edge!.Value.Value.Degrees, 0.02);
        Assert.Equal(2.0, reading.On(Side.Right).Primary!.Value.Value.Degrees, 0.02);
    }
}
