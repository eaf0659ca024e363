using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using static Whetwright.Core.Tests.Sections.Sectioning;

namespace Whetwright.Core.Tests.Sections;

/// <summary>Sections that cannot be are refused with what to do; values that are none are refused by the name of their field.</summary>
public sealed class SectionRefusalTests
{
    public static TheoryData<string, SectionInput> BadValues => new()
    {
        { "behindEdgeMm", Knife(behind: double.NaN) },
        { "behindEdgeMm", Knife(behind: -0.3) },
        { "behindEdgeMm", Knife(behind: 0) },
        { "primaryHalfDeg", Knife(flank: -1) },
        { "old.leftDeg", Knife() with { Old = new(double.NaN, 15) } },
        { "old.rightDeg", Knife() with { Old = new(15, -15) } },
        { "new.rightDeg", Knife() with { New = new(15, 85) } },
        { "lengthMm", Knife() with { LengthMm = 0 } },
        { "landMm", Knife() with { LandMm = -0.01 } },
        { "chipMm", Knife() with { ChipMm = double.PositiveInfinity } },
        { "bluedDepthMm", Knife() with { BluedDepthMm = -1 } },
        { "recessionMm", Knife() with { RecessionMm = -0.1 } },
        { "microWidthMm", Knife() with { MicroWidthMm = 0 } },
        { "heightMm", Knife() with { HeightMm = double.NaN } },
        { "densityMgPerMm3", Knife() with { DensityMgPerMm3 = 0 } },
        { "oldRadiusMm", Knife() with { OldRadiusMm = 0 } },
        { "newRadiusMm", Knife() with { NewRadiusMm = double.NaN } },
        { "until", Knife() with { Until = (GrindUntil)7 } },
        { "back", Knife() with { Back = (Side)7 } },
        { "new.rightDeg", Knife() with { Back = Side.Right, Old = new(15, 0) } },
    };

    [Theory]
    [MemberData(nameof(BadValues))]
    public void A_value_that_is_none_is_refused_by_the_name_of_its_field(string field, SectionInput input) =>
        Assert.Equal(field, Assert.Throws<ArgumentOutOfRangeException>(() => SectionChange.Evaluate(input)).ParamName);

    [Fact]
    public void A_facet_flatter_than_the_flank_is_refused_with_the_angle_to_stay_above()
    {
        SectionOutcome.Refused refused = Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(Knife(made: 4, flank: 4)));

        Assert.All(refused.Reasons, reason => Assert.Equal("facet-flatter-than-flank", reason.Code));
        Assert.Contains("4°", refused.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chip_deeper_than_the_blade_is_refused()
    {
        Assert.Equal("deeper-than-blade", Refusal(Knife() with { ChipMm = 25, HeightMm = 25 }).Code);
        Assert.Equal("deeper-than-blade", Refusal(Knife() with { RecessionMm = 30, HeightMm = 25 }).Code);
    }

    [Fact]
    public void A_depth_that_is_no_sharpening_is_refused_without_a_height_naming_field_value_and_remedy()
    {
        foreach ((SectionInput input, string named) in (ReadOnlySpan<(SectionInput, string)>)
            [
                (Knife() with { ChipMm = 500 }, "chipMm = 500"),
                (Knife() with { BluedDepthMm = 10.5 }, "bluedDepthMm = 10.5"),
                (Knife() with { RecessionMm = 78 }, "recessionMm = 78"),
            ])
        {
            Reason reason = Refusal(input);
            Assert.Equal("too-deep", reason.Code);
            Assert.Contains(named, reason.Text, StringComparison.Ordinal);
            Assert.Contains("reshape", reason.Text, StringComparison.Ordinal);
            Assert.Contains("chosen, not derived", reason.Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Just_past_the_limit_with_the_margin_is_refused_too_and_a_known_height_lifts_the_limit()
    {
        Assert.Equal("too-deep", Refusal(Knife() with { ChipMm = SectionDefaults.DeepestWithoutHeightMm }).Code);
        Assert.InRange(Compute(Knife() with { ChipMm = SectionDefaults.DeepestWithoutHeightMm - 0.1 }).HeightLostMm, 9.9, 10);
        Assert.InRange(Compute(Knife() with { ChipMm = 11, HeightMm = 60 }).HeightLostMm, 11, 11.1);
    }

    [Fact]
    public void A_land_that_is_no_dull_apex_is_refused() =>
        Assert.Equal("land-too-wide", Refusal(Knife(behind: 5) with { LandMm = 2.5 }).Code);

    [Fact]
    public void A_facet_wider_than_any_flank_is_refused_where_the_height_is_not_known()
    {
        SectionOutcome.Refused refused = Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(Knife(old: 15, made: 3, behind: 0.5, flank: 2.9)));
        Assert.Equal("facet-too-wide", refused.Reasons[0].Code);
        Assert.Contains("new.leftDeg = 3", refused.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_facet_that_would_climb_past_the_spine_is_refused() =>
        Assert.Equal("shoulder-above-spine", Assert.IsType<SectionOutcome.Refused>(
            SectionChange.Evaluate(Knife(old: 15, made: 3, behind: 0.5, flank: 2.9) with { HeightMm = 30 })).Reasons[0].Code);

    [Fact]
    public void A_micro_bevel_wider_than_the_facet_is_refused() =>
        Assert.All(
            Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(Knife(made: 20) with { Until = GrindUntil.Micro, MicroWidthMm = 0.6 })).Reasons,
            reason => Assert.Equal("micro-wider-than-facet", reason.Code));

    [Fact]
    public void A_micro_bevel_that_is_not_steeper_is_refused() =>
        Assert.Equal("micro-not-steeper", Refusal(Knife() with { Until = GrindUntil.Micro, MicroWidthMm = 0.1 }).Code);

    [Fact]
    public void A_land_as_wide_as_the_edge_is_thick_is_refused() =>
        Assert.Equal("land-wider-than-edge", Refusal(Knife() with { LandMm = 0.3 }).Code);

    [Fact]
    public void A_wheel_so_small_that_its_facet_turns_over_is_refused() =>
        Assert.Contains(
            Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(Knife(old: 15, made: 15, behind: 20) with { NewRadiusMm = -15, RecessionMm = 1 })).Reasons,
            reason => reason.Code is "facet-never-meets-flank" or "new-radius-too-small");

    [Fact]
    public void An_old_curve_that_turns_over_below_its_own_shoulder_is_refused() =>
        Assert.Contains(
            Assert.IsType<SectionOutcome.Refused>(SectionChange.Evaluate(Knife(behind: 4) with { OldRadiusMm = -20 })).Reasons,
            reason => reason.Code == "old-radius-too-small");
}
