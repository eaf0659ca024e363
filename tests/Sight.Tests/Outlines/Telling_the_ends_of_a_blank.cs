using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>A cleaver's blank: four corners, no handle, both ends equally wide. Edges that sweep up to their tips and spines that thin toward them: common practice, no source.</summary>
public sealed class Telling_the_ends_of_a_blank
{
    /// <summary>Odds (logarithm) of 4 to 1 for the edge above, by what lies beside the sides.</summary>
    private const double EdgeAbove = 1.4;

    [Theory]
    [InlineData(0.8, false)]
    [InlineData(0.8, true)]
    [InlineData(4, false)]
    [InlineData(4, true)]
    public void The_tip_is_where_the_edge_sweeps_up(double sweepMm, bool turned)
    {
        (BladeLie lie, EndOdds odds) = Judge(Blank(sweepMm, turned), edgeAbove: EdgeAbove);

        Assert.True(Math.Abs(odds.TipFar) > EndChoice.LeastOdds);
        Assert.Equal(turned ? -1 : 1, lie.Axis.X * Math.Sign(odds.TipFar), 0.05);
    }

    [Fact]
    public void A_chip_half_way_is_not_taken_for_the_corner() =>
        Assert.Equal(4, SweepAbove(Blank(sweepMm: 4, turned: false, chipMm: 3)), 0.4);

    [Fact]
    public void Where_nothing_else_tells_the_side_that_sweeps_up_is_the_edge()
    {
        (BladeLie lie, EndOdds odds) = Judge(Blank(sweepMm: 3, turned: false), edgeAbove: 0);

        // Above is toward smaller y.
        Assert.True((odds.EdgeHigh > 0) == (lie.Across.Y < 0));
        Assert.True(Math.Abs(odds.EdgeHigh) > SideChoice.LeastOdds);
    }

    [Fact]
    public void A_straight_slab_does_not_tell_its_ends() =>
        Assert.InRange(Math.Abs(Judge(Blank(sweepMm: 0, turned: false), EdgeAbove).Odds.TipFar), 0, EndChoice.LeastOdds);

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void The_halo_of_a_spine_that_fades_toward_an_end_tells_the_tip_of_a_straight_one(double fadesToFar)
    {
        BladeLie lie = BladeLie.Of(Blank(sweepMm: 0, turned: false));

        EndOdds odds = EndChoice.Judge(lie, sidesOdds: 4, lowFades: 1.6 * fadesToFar, highFades: 0.2 * fadesToFar);

        Assert.True(odds.TipFar * fadesToFar > EndChoice.LeastOdds);
    }

    [Fact]
    public void A_sweep_counts_for_less_where_the_outline_is_off_at_the_other_corners()
    {
        double clean = Math.Abs(Judge(Blank(sweepMm: 1, turned: false), EdgeAbove).Odds.TipFar);
        double torn = Math.Abs(Judge(Blank(sweepMm: 1, turned: false, tornMm: 1.5), EdgeAbove).Odds.TipFar);

        Assert.True(torn < clean - 0.5);
    }

    [Theory]
    [InlineData(0.4, 0.01, 1)]
    [InlineData(0.4, 0.15, 0)]
    [InlineData(0, 0.01, -1)]
    public void A_little_sweep_is_told_by_an_outline_that_is_quiet(double sweepMm, double unevenMm, int told)
    {
        double far = SideSweep.Odds(Side(sweepMm, unevenMm), BladeLie.StationMm).Far;

        Assert.InRange(far, told > 0 ? 2 : told < 0 ? -2 : -1, told > 0 ? 20 : told < 0 ? -0.5 : 1);
    }

    [Theory]
    [InlineData(0.4)]
    [InlineData(-0.7)]
    public void An_outline_that_goes_over_to_a_shadows_rim_steps_and_is_no_sweep(double stepMm)
    {
        double[] side = Side(sweepMm: 0, unevenMm: 0.01);
        for (int i = 220; i < side.Length; i++)
            side[i] += stepMm;

        (double near, double far) = SideSweep.Odds(side, BladeLie.StationMm);

        Assert.InRange(Math.Max(near, far), -3, 0);
    }

    [Fact]
    public void A_sweep_is_told_through_such_a_step()
    {
        double[] side = Side(sweepMm: 2, unevenMm: 0.01);
        for (int i = 0; i < 120; i++)
            side[i] += 0.8;

        (double near, double far) = SideSweep.Odds(side, BladeLie.StationMm);

        Assert.True(far > near + 3);
    }

    // How far a side of 170 mm lies inside its straight line: its last 40 % sweep in.
    private static double[] Side(double sweepMm, double unevenMm)
    {
        var random = new Random(7);
        return [.. Enumerable.Range(0, 340).Select(i => (sweepMm * Math.Pow(Math.Max(0, (i / 340.0) - 0.6) / 0.4, 2)) + (unevenMm * Math.Sin(i / 11.0)) + (unevenMm * (random.NextDouble() - 0.5)))];
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_edges_line_under_the_light_tells_a_sweep_that_the_outline_hides(bool high)
    {
        // A straight outline, along shadows' rims; the steel's own line, seen every 0.2 mm, sweeps in toward the end of growing s.
        BladeLie lie = BladeLie.Of(Blank(sweepMm: 0, turned: false));
        double[] sweeps = Side(sweepMm: 1.2, unevenMm: 0);
        (double S, double T)[] line = [.. Enumerable.Range(0, 850).Select(i => 0.2 * i).Select(s => (s, (high ? 40 : -30) + (high ? -1 : 1) * sweeps[Math.Min(339, (int)(s / 0.5))]))];

        double[] lit = LitSweep.InsideMm(line, high);

        Assert.Equal(1.2, lit[^1], 0.1);
        Assert.InRange(lit[lit.Length / 3], -0.05, 0.05);
        double sides = high ? 2 : -2;
        Assert.InRange(Math.Abs(EndChoice.Judge(lie, sides, 0, 0).TipFar), 0, EndChoice.LeastOdds);
        Assert.True(EndChoice.Judge(lie, sides, 0, 0, side => side == high ? lit : null).TipFar > EndChoice.LeastOdds);
    }

    [Fact]
    public void An_end_that_narrows_from_both_sides_is_a_point_not_seen_whole_and_tells_nothing() =>
        Assert.Equal(0, Judge(Blank(sweepMm: 4, turned: false, spineMm: 4), EdgeAbove).Odds.TipFar);

    private static double SweepAbove(Point2[] outline)
    {
        BladeLie lie = BladeLie.Of(outline);
        return lie.SweepMm(high: lie.Across.Y < 0, far: lie.Axis.X > 0);
    }

    private static (BladeLie Lie, EndOdds Odds) Judge(Point2[] outline, double edgeAbove)
    {
        BladeLie lie = BladeLie.Of(outline);
        Assert.False(lie.EndsKnown);
        return (lie, EndChoice.Judge(lie, lie.Across.Y < 0 ? edgeAbove : -edgeAbove, 0, 0));
    }

    // 170 by 70 mm, the edge above; the last third of it sweeps in, on request the spine as well; torn: two corners are pulled out.
    private static Point2[] Blank(double sweepMm, bool turned, double chipMm = 0, double tornMm = 0, double spineMm = 0)
    {
        double Sweep(double x) => x < 110 ? 0 : Math.Pow((x - 110) / 60, 2);
        double Torn(double x) => x < 20 ? tornMm * (20 - x) / 20 : 0;
        List<Point2> p = [];
        for (double x = 0; x < 170; x += 0.25)
            p.Add(new(x, (sweepMm * Sweep(x)) - Torn(x) + (Math.Abs(x - 85) < 2 ? chipMm : 0)));
        for (double y = sweepMm; y < 70 - spineMm; y += 0.25)
            p.Add(new(170, y));
        for (double x = 170; x > 0; x -= 0.25)
            p.Add(new(x, 70 - (spineMm * Sweep(x)) + Torn(x)));
        for (double y = 70 + Torn(0); y > -Torn(0); y -= 0.25)
            p.Add(new(0, y));
        return turned ? [.. p.Select(q => new Point2(170 - q.X, 70 - q.Y))] : [.. p];
    }
}
