using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Light across one side of a blade, from the paper inward, blurred as photos are; all lights invented. Bevels that mirror otherwise than flanks: common practice, no source.</summary>
public sealed class Telling_edge_from_spine_by_the_rim
{
    private const double Paper = 0.7, Flank = 0.3, BlurMm = 0.12;

    /// <summary>The camera stands over the blade's other side, over this side's paper, by a tenth of its height.</summary>
    private const double FromBehind = 0.1, FromThisSide = -0.15;

    [Theory]
    [InlineData(0.1)] // a bevel that mirrors something darker than the flank does
    [InlineData(0.18)]
    public void A_sharp_band_of_another_tone_is_a_bevel(double bevel) =>
        Assert.True(RimBand.Odds(Alike(Banded(bevel)), FromBehind, BlurMm) > 1.5);

    [Fact]
    public void A_flank_that_goes_on_to_its_rim_is_a_spines() =>
        Assert.True(RimBand.Odds(Alike(Banded(Flank)), FromBehind, BlurMm) < -0.8);

    [Fact]
    public void Steel_as_bright_as_the_paper_without_a_band_is_a_spines_too() =>
        Assert.True(RimBand.Odds(Alike(Blurred(_ => Paper)), FromBehind, BlurMm) < -0.8);

    [Fact]
    public void A_dark_band_is_no_bevel_where_the_camera_looks_upon_the_spines_face() =>
        Assert.InRange(RimBand.Odds(Alike(Banded(0.1)), FromThisSide, BlurMm), -0.3, 0.3);

    [Fact]
    public void A_bright_band_is_one_even_there_for_a_spines_face_lies_in_its_own_shade() =>
        Assert.True(RimBand.Odds(Alike(Banded(0.6)), FromThisSide, BlurMm) > 1);

    [Fact]
    public void A_band_that_the_paper_darkens_to_by_degrees_is_a_shadow_and_says_nothing()
    {
        // A lamp's shadow, darker and darker over a millimetre, ends at steel brighter than itself.
        double[] shadow = Blurred(mm => mm < -0.5 ? Paper : mm < 0.6 ? Paper - ((Paper - 0.1) * (mm + 0.5) / 1.1) : Flank);

        Assert.InRange(RimBand.Odds(Alike(shadow), FromBehind, BlurMm), -0.3, 0.3);
    }

    private static double[] Banded(double bevel) => Blurred(mm => mm < 0 ? Paper : mm < 0.7 ? bevel : Flank);

    private static List<double[]> Alike(double[] light) => [.. Enumerable.Range(0, 9).Select(i => light.Select(l => l * (1 + (0.004 * (i % 3)))).ToArray())];

    private static double[] Blurred(Func<double, double> light)
    {
        const double fine = 0.02;
        int reach = (int)(4 * BlurMm / fine);
        return [.. Enumerable.Range(0, (int)Math.Round((RimBand.ToMm - RimBand.FromMm) / RimBand.StepMm) + 1).Select(k => RimBand.FromMm + (k * RimBand.StepMm)).Select(at =>
        {
            double sum = 0;
            double weight = 0;
            for (int i = -reach; i <= reach; i++)
            {
                double w = Math.Exp(-Math.Pow(i * fine / BlurMm, 2) / 2);
                (sum, weight) = (sum + (w * light(at + (i * fine))), weight + w);
            }

            return sum / weight;
        })];
    }
}
