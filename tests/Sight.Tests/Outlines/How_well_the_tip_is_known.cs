using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>The stated standard uncertainty of the tip's place along the edge, and what is said where an end is in doubt.</summary>
public sealed class How_well_the_tip_is_known
{
    [Theory]
    [InlineData(0, 0, 0, 0.03)]
    [InlineData(0.1, 0.024, 0, 0.1044)] // √(0.03² + 0.1²)
    [InlineData(0.1, 0.048, 0, 0.2022)] // twice as much left unexplained: √(0.03² + 0.2²)
    [InlineData(0, 0, 1, 0.1726)] // a millimetre from where the lines meet: √(0.03² + 0.17²)
    [InlineData(0, 0, -1, 0.1726)]
    public void What_the_fit_leaves_unexplained_and_where_the_lines_meet_say_how_far_to_believe_it(double fitUMm, double misfit, double besideMm, double uMm) =>
        Assert.Equal(uMm, TipUncertainty.Mm(fitUMm, misfit, besideMm), 0.0001);

    [Fact]
    public void Ends_that_stand_out_plainly_need_no_word()
    {
        Assert.Empty(EndsInDoubt.Of(EndsInDoubt.DoubtfulMm, EndsInDoubt.DoubtfulMm));
    }

    [Fact]
    public void An_end_in_doubt_is_named_with_how_far_it_may_lie_off_and_what_to_do()
    {
        Reason tip = Assert.Single(EndsInDoubt.Of(0.05, 0.41));
        Assert.Equal("tip-in-doubt", tip.Code);
        Assert.Contains("0.8 mm", tip.Text, StringComparison.Ordinal);
        Assert.Contains("move the lamp", tip.Text, StringComparison.Ordinal);

        Assert.Equal(["heel-in-doubt", "tip-in-doubt"], EndsInDoubt.Of(0.3, 0.3).Select(r => r.Code));
    }

    [Theory]
    [InlineData("easy_103")]
    [InlineData("normal_205")]
    [InlineData("hard_306")]
    public void The_true_tip_lies_within_twice_what_is_stated_and_a_doubtful_end_is_told_with_the_length(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        Vector2 along = (scene.SeenEdge[^1] - scene.SeenEdge[0]).Normalized();

        TracedOutline traced = scene.Trace(tellHeight: true);
        (double heelUMm, double tipUMm) = (traced.LengthBudget.HeelMm, traced.LengthBudget.TipMm);

        Assert.InRange(Math.Abs((traced.EdgeAsSeenMm[^1] - scene.SeenEdge[^1]).Dot(along)), 0, 2 * tipUMm);
        Assert.Equal(EndsInDoubt.Of(heelUMm, tipUMm), traced.Reasons.Where(r => r.Code.EndsWith("-in-doubt", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_drawn_blade_that_stands_out_plainly_leaves_no_end_in_doubt()
    {
        TracedOutline plain = DrawnBlade.Trace();

        Assert.InRange(plain.LengthBudget.TipMm, 0.03, EndsInDoubt.DoubtfulMm);
        Assert.DoesNotContain(plain.Reasons, r => r.Code is "heel-in-doubt" or "tip-in-doubt");
    }
}
