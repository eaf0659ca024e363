using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;

namespace Whetwright.Core.Tests.Sections;

public sealed class EdgeAdviceTests
{
    private static readonly SidePair Found = new(15, 15);

    [Fact]
    public void Thinner_and_stronger_are_a_step_away_on_every_side_that_is_ground()
    {
        Assert.Equal(new(13, 13), EdgeAdvice.Thinner(Found, 2));
        Assert.Equal(new(17, 17), EdgeAdvice.Stronger(Found));
        Assert.Equal(new(0, 23), EdgeAdvice.Thinner(new(0, 25), 3, Side.Left));
        Assert.Equal(new(27, 0), EdgeAdvice.Stronger(new(25, 0), Side.Right));
    }

    [Fact]
    public void No_edge_is_offered_that_lies_in_the_flank_or_is_hardly_an_edge()
    {
        Assert.Null(EdgeAdvice.Thinner(Found, 11.5));
        Assert.Null(EdgeAdvice.Thinner(new(9, 9), 1));
        Assert.Null(EdgeAdvice.Thinner(new(0, 14), 5.5, Side.Left));
        Assert.Null(EdgeAdvice.Stronger(new(39, 39)));
    }

    [Fact]
    public void What_it_takes_and_how_it_compares_are_the_numbers_of_the_section_and_the_ratios()
    {
        SidePair made = new(13, 13);
        SectionResult cost = Section(made);

        EdgeAdvice advice = EdgeAdvice.Of(made, Found, cost, [], new SteelData(62) { ChromiumVanadiumCarbidePercent = 13, VanadiumCarbidePercent = 9 });

        Assert.Equal(cost.Left.FacetWidthMm, advice.FacetMm!.Value.Left);
        Assert.Equal(cost.RemovedMg, advice.SteelMg);
        // tan² 13°/tan² 15° = 0.7424 by hand; card cut 714.2 mm at 30° ([thomas2019]), and 17.8 mm more per degree less: 785.4/714.2 = 1.0997.
        Assert.Equal(0.7424, advice.Ratios!.SectionModulus, 5e-4);
        Assert.Equal(1.0997, advice.Ratios.Life!.Value, 5e-4);
        Assert.Equal(["weaker", "easier-to-push", "life-ratio"], advice.Reasons.Select(r => r.Code).Where(c => c is not ("thinning-soon" or "chip-decides")));
    }

    [Fact]
    public void An_edge_at_which_it_chipped_is_called_so_and_a_steeper_one_is_told_apart()
    {
        EdgeTried[] history = [Tried(13, 0.4), Tried(13.5, 0), Tried(13, 0.02)];

        EdgeAdvice same = EdgeAdvice.Of(new(13, 13), Found, null, history), steeper = EdgeAdvice.Of(new(17, 17), Found, null, history), flatter = EdgeAdvice.Of(new(11, 11), Found, null, history);

        Assert.Equal((3, 1), (same.TriedAlike, same.ChippedAlike));
        Assert.Contains("chipped-at-this-angle", Codes(same));
        Assert.Contains("steeper-than-what-chipped", Codes(steeper));
        Assert.Contains("steeper-one-chipped", Codes(flatter));
        Assert.Contains("cost-not-known", Codes(same));
    }

    [Fact]
    public void An_edge_that_held_is_called_so_and_one_not_back_yet_says_nothing()
    {
        EdgeTried[] history = [Tried(15, 0), Tried(15.5, 0), new(DateTimeOffset.UnixEpoch, new(15, 15), CameBack: false, 0, Complaint: true)];

        EdgeAdvice advice = EdgeAdvice.Of(Found, Found, null, history);

        Assert.Equal((2, 0, 1), (advice.TriedAlike, advice.ChippedAlike, advice.ComplaintsAlike));
        Assert.Contains("held-at-this-angle", Codes(advice));
        Assert.Contains("complaint-at-this-angle", Codes(advice));
        Assert.DoesNotContain("stronger", Codes(advice));
    }

    private static EdgeTried Tried(double deg, double chip) => new(DateTimeOffset.UnixEpoch, new(deg, deg), true, chip, false);

    private static IEnumerable<string> Codes(EdgeAdvice advice) => advice.Reasons.Select(r => r.Code);

    private static SectionResult Section(SidePair made) =>
        ((SectionOutcome.Computed)SectionChange.Evaluate(new SectionInput(0.35, 2, Found, made, 200) { LandMm = 0.03, HeightMm = 45 })).Result;
}
