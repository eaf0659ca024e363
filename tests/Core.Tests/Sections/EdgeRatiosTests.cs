using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Tests.Sections;

/// <summary>
/// New edge against old. Card-cut examples: L. Thomas, 11 February 2019 (knifesteelnerds.com), printed 714 mm and 227 mm.
/// Strength and push by hand.
/// </summary>
public sealed class EdgeRatiosTests
{
    [Fact]
    public void The_published_card_cut_examples_come_out_as_printed()
    {
        Assert.Equal(714, CardCutRegression.TotalCardCutMm(new SteelData(62) { ChromiumVanadiumCarbidePercent = 13, VanadiumCarbidePercent = 9 }, 30), 0.5);
        Assert.Equal(227, CardCutRegression.TotalCardCutMm(new SteelData(56) { ChromiumCarbidePercent = 3 }, 30), 0.5);
    }

    [Fact]
    public void Each_carbide_weighs_as_published()
    {
        var plain = new SteelData(60);
        double At(SteelData steel) => CardCutRegression.TotalCardCutMm(steel, 30) - CardCutRegression.TotalCardCutMm(plain, 30);

        Assert.Equal(5.0, At(plain with { CementitePercent = 1 }), 1e-9);
        Assert.Equal(11.2, At(plain with { ChromiumCarbidePercent = 1 }), 1e-9);
        Assert.Equal(14.6, At(plain with { ChromiumVanadiumCarbidePercent = 1 }), 1e-9);
        Assert.Equal(26.2, At(plain with { VanadiumCarbidePercent = 1 }), 1e-9);
        Assert.Equal(9.5, At(plain with { TungstenCarbidePercent = 1 }), 1e-9);
        Assert.Equal(20.9, At(plain with { VanadiumNitridePercent = 1 }), 1e-9);
        Assert.Equal(19.4, At(plain with { ChromiumNitridePercent = 1 }), 1e-9);
    }

    [Fact]
    public void Life_is_a_ratio_of_two_card_cuts_and_only_with_steel_data()
    {
        var steel = new SteelData(62) { ChromiumVanadiumCarbidePercent = 13, VanadiumCarbidePercent = 9 };

        // 714.2 at 30°; five degrees less included is 5 · 17.8 = 89 mm more.
        Assert.Equal((714.2 + 89) / 714.2, EdgeRatios.Of(new(15, 15), new(12.5, 12.5), steel: steel).Life!.Value, 1e-9);
        EdgeRatios without = EdgeRatios.Of(new(15, 15), new(12.5, 12.5));
        Assert.Null(without.Life);
        Assert.Contains(without.Notes, note => note.Code == "steel-not-given");
    }

    [Fact]
    public void Outside_its_range_the_fit_is_not_used_and_says_so()
    {
        EdgeRatios narrow = EdgeRatios.Of(new(9, 9), new(12, 12), steel: new SteelData(60));
        EdgeRatios soft = EdgeRatios.Of(new(20, 20), new(22, 22), steel: new SteelData(45));

        Assert.Null(narrow.Life);
        Assert.Null(soft.Life);
        Assert.Contains(narrow.Notes, note => note.Code == "outside-regression");
        Assert.Contains(soft.Notes, note => note.Code == "outside-regression");
    }

    [Fact]
    public void Strength_goes_with_the_square_of_the_tangent()
    {
        // (tan 20° / tan 15°)² = (0.36397 / 0.26795)² = 1.8451
        Assert.Equal(1.8451, EdgeRatios.Of(new(15, 15), new(20, 20)).SectionModulus, 1e-3);
    }

    [Fact]
    public void Push_goes_with_the_tangent_of_angle_and_friction_angle()
    {
        // Without friction tan 20° / tan 15° = 1.3583; friction brings it nearer to one.
        Assert.Equal(1.3583, EdgeRatios.Of(new(15, 15), new(20, 20), friction: 0).Push, 1e-3);
        EdgeRatios rubbed = EdgeRatios.Of(new(15, 15), new(20, 20));
        Assert.InRange(rubbed.Push, 1.01, 1.3);
        Assert.Contains(rubbed.Notes, note => note.Code == "defaults-used");
    }

    [Fact]
    public void An_edge_left_as_it_is_has_ratios_of_one()
    {
        EdgeRatios same = EdgeRatios.Of(new(17, 0), new(17, 0), steel: new SteelData(60) { CementitePercent = 5 });

        Assert.Equal(1, same.SectionModulus, 1e-12);
        Assert.Equal(1, same.Push, 1e-12);
    }

    [Fact]
    public void Values_that_are_none_are_refused_by_name()
    {
        Assert.Equal("friction", Assert.Throws<ArgumentOutOfRangeException>(() => EdgeRatios.Of(new(15, 15), new(15, 15), double.NaN)).ParamName);
        Assert.Equal("new.leftDeg", Assert.Throws<ArgumentOutOfRangeException>(() => EdgeRatios.Of(new(15, 15), new(-1, 15))).ParamName);
        Assert.Equal("hardnessHrc", Assert.Throws<ArgumentOutOfRangeException>(() => CardCutRegression.TotalCardCutMm(new SteelData(600), 30)).ParamName);
    }

    [Theory]
    [InlineData(StageMedium.DryWheel, true)]
    [InlineData(StageMedium.DryBelt, true)]
    [InlineData(StageMedium.Buff, true)]
    [InlineData(StageMedium.WetWheel, false)]
    [InlineData(StageMedium.BenchStone, false)]
    public void Dry_and_fast_stages_need_cooling(StageMedium medium, bool cooling) =>
        Assert.Equal(cooling, HeatCare.For(medium).NeedsCooling); // common practice, no source
}
