using Whetwright.Core.Metrology;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>What may be typed, and what it means.</summary>
public sealed class BenchReadingTests
{
    private static readonly Instrument At100 = new(MeasuredLength.FromMillimetres(100, 0.2), MeasuredLength.FromMillimetres(0, 0.2));

    [Theory]
    [InlineData(MarkScale.Bevel, 15, 15)]
    [InlineData(MarkScale.Deflection, 30, 15)]
    [InlineData(MarkScale.TargetMillimetres, 57.7350269, 15)]
    public void The_same_mark_reads_the_same_on_every_scale(MarkScale scale, double typed, double bevel)
    {
        CombinedReading reading = BenchReading.Combine(
            new(scale, 0.5, [BenchMounts.Mount(TipDirection.Up, typed, typed)]) { Instrument = At100, ScaleDistance = Length.FromMillimetres(100) });

        Assert.Equal(bevel, reading.On(Side.Left).AsRead!.Value.Value.Degrees, 1e-6);
        Assert.Equal(2 * bevel, reading.Included!.Value.Value.Degrees, 1e-6);
        Assert.Equal(-57.7350269, reading.Marks.Single(m => m.Target == Side.Left).AtMm!.Value.X, 1e-5);
    }

    [Fact]
    public void A_scale_printed_for_another_distance_is_put_right_exactly()
    {
        // Printed for 100 mm, standing at 110: the label 15 lies at 57.735 mm, ½·atan(57.735/110) = 13.848°.
        Instrument at110 = At100 with { Distance = MeasuredLength.FromMillimetres(110, 0.2) };

        CombinedReading reading = BenchReading.Combine(
            new(MarkScale.Bevel, 0.1, [BenchMounts.Mount(TipDirection.Up, 15, 15)]) { Instrument = at110, ScaleDistance = Length.FromMillimetres(100) });

        Assert.Equal(0.5 * double.RadiansToDegrees(Math.Atan2(57.73502692, 110)), reading.On(Side.Right).AsRead!.Value.Value.Degrees, 1e-8);
    }

    [Fact]
    public void On_the_left_millimetres_may_be_typed_as_the_sheets_own_x()
    {
        BenchMarks outward = new(MarkScale.TargetMillimetres, 0.1, [BenchMounts.Mount(TipDirection.Up, 50, 60)]) { Instrument = At100 };
        BenchMarks sheet = outward with { Mounts = [BenchMounts.Mount(TipDirection.Up, -50, 60)] };

        Assert.Equal(BenchReading.Combine(outward).Included, BenchReading.Combine(sheet).Included);
    }

    [Fact]
    public void A_zero_that_is_off_to_the_right_makes_the_right_read_too_much_and_is_taken_out()
    {
        Instrument off = At100 with { Zero = MeasuredLength.FromMillimetres(3, 0.1) };
        double right = 3 + (100 * Math.Tan(Math.PI / 6));
        double left = -3 + (100 * Math.Tan(Math.PI / 6));

        CombinedReading reading = BenchReading.Combine(
            new(MarkScale.TargetMillimetres, 0.1, [BenchMounts.Mount(TipDirection.Up, left, right)]) { Instrument = off });

        Assert.Equal(15, reading.On(Side.Left).AsRead!.Value.Value.Degrees, 1e-9);
        Assert.Equal(15, reading.On(Side.Right).AsRead!.Value.Value.Degrees, 1e-9);
    }

    [Fact]
    public void A_doubtful_zero_moves_the_two_sides_opposite_ways_and_a_doubtful_distance_the_same_way()
    {
        IReadOnlyList<ReadingObservation> marks = BenchReading.Observations(
            new(MarkScale.Bevel, 0.1, [BenchMounts.Mount(TipDirection.Up, 15, 15)]) { Instrument = At100, ScaleDistance = Length.FromMillimetres(100) }).Marks;
        double Part(Side target, string source) => marks.Single(m => m.Target == target).Common.Single(c => c.Source == source).DegPerU;

        // At 15° and 100 mm a degree is 4.6542 mm (0.2 mm of zero); a quarter of sin 60° times 0.2 % of distance.
        Assert.Equal(0.2 / 4.6542, Part(Side.Left, "zero"), 1e-5);
        Assert.Equal(-0.2 / 4.6542, Part(Side.Right, "zero"), 1e-5);
        Assert.Equal(-0.25 * Math.Sin(Math.PI / 3) * 0.002 * 180 / Math.PI, Part(Side.Left, "distance"), 1e-9);
        Assert.Equal(Part(Side.Left, "distance"), Part(Side.Right, "distance"), 1e-12);
    }

    [Fact]
    public void The_resolution_enters_as_a_rectangular_distribution()
    {
        ReadingObservation mark = BenchReading.Observations(
            new(MarkScale.Deflection, 1, [BenchMounts.Mount(TipDirection.Up, 30, 30)]) { Instrument = At100, ScaleDistance = Length.FromMillimetres(100) }).Marks[0];

        Assert.Equal(0.5 / Math.Sqrt(12), Assert.Single(mark.Noise).UncertaintyDeg, 1e-9);
    }

    [Fact]
    public void Monte_Carlo_and_the_linear_solve_agree_on_an_ordinary_reading()
    {
        BenchMarks marks = new(MarkScale.Bevel, 0.5,
        [
            new(TipDirection.Up, new([14.0, 14.5, 14.5], [1.0], []), new([15.5, 16.0, 15.5], [2.5], [])),
            BenchMounts.Mount(TipDirection.Down, 14.5, 16.0),
        ])
        { Instrument = At100 };

        CombinedReading reading = BenchReading.Combine(marks);
        ReadingDraws draws = ReadingMonteCarlo.Propagate(marks, 20_000, seed: 1)!;

        Assert.Equal(reading.Included!.Value.Value.Degrees, draws.Included!.Mean, 0.01);
        Assert.Equal(reading.Included.Value.StandardUncertainty.Degrees, draws.Included.Uncertainty, 0.03 * draws.Included.Uncertainty);
        MeasuredAngle left = reading.Solution!.Of(Side.Left, MarkRole.Edge);
        Assert.Equal(left.StandardUncertainty.Degrees, draws.BladeLeft!.Uncertainty, 0.03 * draws.BladeLeft.Uncertainty);
    }

    [Theory]
    [InlineData(double.NaN, "mounts[0].left.edge[0]")]
    [InlineData(-3, "mounts[0].left.edge[0]")]
    [InlineData(45, "below 45°")]
    public void A_value_that_cannot_be_is_refused_with_its_field(double typed, string says)
    {
        ArgumentException refusal = Assert.Throws<ArgumentException>(
            () => BenchReading.Combine(new(MarkScale.Bevel, 0.5, [BenchMounts.Mount(TipDirection.Up, typed, 15)])));

        Assert.Contains(says, refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-0.5)]
    [InlineData(double.NaN)]
    public void A_resolution_that_is_not_above_zero_is_refused(double resolution) => Assert.Contains(
        "resolutionDeg",
        Assert.Throws<ArgumentException>(() => BenchReading.Combine(new(MarkScale.Bevel, resolution, [BenchMounts.Mount(TipDirection.Up, 15, 15)]))).Message,
        StringComparison.Ordinal);

    [Fact]
    public void No_mounts_no_marks_millimetres_without_distance_and_two_mounts_without_tips_are_refused()
    {
        string Refused(BenchMarks marks) => Assert.Throws<ArgumentException>(() => BenchReading.Combine(marks)).Message;

        Assert.Contains("mounts", Refused(new(MarkScale.Bevel, 0.5, [])), StringComparison.Ordinal);
        Assert.Contains("no mark", Refused(new(MarkScale.Bevel, 0.5, [new(TipDirection.Up, BenchSideMarks.None, BenchSideMarks.None)])), StringComparison.Ordinal);
        Assert.Contains("instrument", Refused(new(MarkScale.TargetMillimetres, 0.5, [BenchMounts.Mount(TipDirection.Up, 50, 50)])), StringComparison.Ordinal);
        Assert.Contains("tip", Refused(new(MarkScale.Bevel, 0.5, [BenchMounts.Mount(null, 15, 15), BenchMounts.Mount(null, 15, 15)])), StringComparison.Ordinal);
    }
}
