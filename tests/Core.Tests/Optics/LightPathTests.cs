using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Where the light goes, and which end of a smear is which.</summary>
public sealed class LightPathTests
{
    private static readonly Length Hundred = Length.FromMillimetres(100);

    [Fact]
    public void A_sheet_that_reaches_as_far_sideways_as_it_is_away_ends_at_twenty_two_and_a_half_degrees() =>
        Assert.Equal(22.5, LightPath.SteepestOnTarget(Hundred, Hundred).Degrees, 1e-12);

    [Theory]
    [InlineData(22, null)]
    [InlineData(23, "light-leaves-target")]
    [InlineData(44.9, "light-leaves-target")]
    [InlineData(45, "light-sideways")]
    [InlineData(60, "light-sideways")]
    public void Steeper_bevels_leave_the_target_and_then_go_sideways(double bevel, string? code) => Assert.Equal(
        code, LightPath.Cautions(Angle.FromDegrees(bevel), Hundred, Hundred).SingleOrDefault()?.Code);

    [Fact]
    public void Light_at_eye_height_is_to_be_enclosed() => Assert.Contains(
        "eye", LightPath.Cautions(Angle.FromDegrees(50), Hundred, Hundred)[0].Text, StringComparison.Ordinal);

    [Fact]
    public void A_convex_bevel_smears_from_shoulder_to_apex_and_a_hollow_one_the_other_way_round()
    {
        // Common practice, no source; a convex facet is steepest at the apex, a hollow one flattest.
        Angle near = Angle.FromDegrees(12), far = Angle.FromDegrees(18);

        Assert.Equal(new FacetRange(near, far), FacetCurvature.EndsOfSmear(near, far, FacetForm.Convex));
        Assert.Equal(new FacetRange(far, near), FacetCurvature.EndsOfSmear(near, far, FacetForm.Hollow));
        Assert.Throws<ArgumentException>(() => FacetCurvature.EndsOfSmear(far, near, FacetForm.Convex));
    }
}
