using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// Strips along an edge drawn here from sharp tones (paper, a bevel, a flank behind it) and summed under a Gaussian blur, place by place, with
/// seeded noise; what is told is what <see cref="ChipFinder"/> tells.
/// </summary>
public sealed class Telling_chips_from_stains
{
    private const double LengthMm = 70;
    private const double BlurMm = 0.18;
    private const double Paper = 0.7;
    private const double BevelMm = 0.5;

    [Theory]
    [InlineData(0.6, 1.2, true)]
    [InlineData(0.6, 1.2, false)]
    [InlineData(1.5, 3.0, true)]
    public void A_notch_that_shows_the_paper_is_told_with_its_place_depth_and_width(double depth, double width, bool pointed)
    {
        var notch = new NotchShape(depth, width, pointed);
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - 35) ? Paper : Steel(v))).Notch;
        Assert.Equal(35, found.AtMm, 0.3);
        Assert.InRange(found.Shape.DepthMm, 0.7 * depth, 1.3 * depth);
        Assert.InRange(found.Shape.WidthMm, 0.6 * width, 1.6 * width);
    }

    [Theory]
    [InlineData(5)]
    [InlineData(LengthMm - 5)]
    public void A_small_notch_five_millimetres_from_heel_or_tip_is_told(double at)
    {
        var notch = new NotchShape(0.7, 1.4, false);
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - at) ? Paper : Steel(v))).Notch;
        Assert.Equal(at, found.AtMm, 0.3);
    }

    [Fact]
    public void A_notch_in_steel_that_mirrors_a_lamp_is_told_too_though_it_is_darker()
    {
        var notch = new NotchShape(0.8, 1.6, false);
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - 35) ? 0.5 : v < 0 ? 0.5 : 0.9)).Notch;
        Assert.Equal(35, found.AtMm, 0.3);
    }

    [Fact]
    public void A_notch_whose_rim_lies_in_shadow_is_told()
    {
        // A dark band along the edge, half a millimetre wide, follows the rim of the notch.
        var notch = new NotchShape(1.0, 2.6, true);
        NotchFit found = Assert.Single(Told((x, v) => v - notch.At(x - 35) is var w && w < -0.5 ? Paper : w < 0 ? 0.25 : Steel(w))).Notch;
        Assert.Equal(35, found.AtMm, 0.3);
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(-0.9)]
    public void A_notch_that_is_dark_itself_is_told_where_it_is_not_where_the_lamps_light_through_it_falls(double along)
    {
        // The edge floats: its shadow lies 0.8 mm out, and in that shadow, 0.9 mm along, the light that fell through the notch.
        var notch = new NotchShape(0.9, 1.8, false);
        double Ground(double x, double v) => v + 0.8 < notch.At(x - along - 35) ? Paper : 0.6 * Paper;
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - 35) ? Ground(x, v) : Steel(v))).Notch;
        Assert.Equal(35, found.AtMm, 0.3);
        Assert.InRange(found.Shape.DepthMm, 0.6, 1.2);
    }

    [Fact]
    public void A_wave_of_the_line_is_evened_and_the_edges_own_turn_stays()
    {
        // Half a millimetre over six, on a belly of 400 mm radius.
        double Belly(double x) => (x - 60) * (x - 60) / 800;
        Point2[] line = [.. Enumerable.Range(0, 1201).Select(i => new Point2(i * 0.1, Belly(i * 0.1) + (0.5 * Math.Exp(-0.5 * Math.Pow(((i * 0.1) - 50) / 1.5, 2)))))];
        Point2[] even = EvenEdge.Of(line);
        Assert.Equal(line.Length, even.Length);
        Assert.All(even, p => Assert.Equal(Belly(p.X), p.Y, 0.06));
    }

    [Fact]
    public void A_stain_of_the_papers_own_tone_that_leaves_the_edge_unbroken_is_none()
    {
        // As bright as the paper, from the bevel's shoulder inward; the bevel runs on before it.
        var stain = new NotchShape(1.2 + BevelMm, 2.4, false);
        Assert.Empty(Told((x, v) => v < 0 ? Paper : v < BevelMm ? Steel(v) : v < stain.At(x - 35) ? Paper : Steel(v)));
    }

    [Fact]
    public void A_soft_light_stain_that_reaches_the_edge_is_none() =>
        Assert.Empty(Told((x, v) => v < 0 ? Paper : Steel(v) + (0.3 * Math.Exp(-0.5 * (Math.Pow((x - 35) / 1.1, 2) + Math.Pow((v - 0.7) / 0.8, 2))))));

    [Fact]
    public void Patina_of_many_tones_is_none() =>
        Assert.Empty(Told((x, v) => v < 0 ? Paper : Patina(x, v)));

    [Theory]
    [InlineData(1.6, 3.4)]
    [InlineData(1.3, 2.8)]
    public void A_notch_is_told_on_patina_whose_stains_depart_as_much_for_it_alone_is_even_and_of_the_papers_tone(double depth, double width)
    {
        var notch = new NotchShape(depth, width, false);
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - 35) ? Paper : Patina(x, v))).Notch;
        Assert.Equal(35, found.AtMm, 0.4);
    }

    [Fact]
    public void A_small_sharp_notch_is_likelier_than_mottle_where_it_is_and_nowhere_else()
    {
        // The stains are larger than the notch and depart as much from one another as steel from paper.
        var notch = new NotchShape(0.6, 1.2, false);
        EdgeStrip strip = Drawn((x, v) => v < notch.At(x - 35) || v < 0 ? Paper : Patina(x, v));
        var mottle = new MottledSteel(strip, new StripTones(strip), BlurMm);
        (double at, NotchShape shape) = mottle.Places(10, 2).First();
        Assert.Equal(35, at, 0.3);
        Assert.InRange(shape.DepthMm, 0.4, 0.8);
        double there = mottle.At(35, 0.3);
        Assert.All(Enumerable.Range(0, 12).Select(i => 7.0 + (5 * i)).Where(a => Math.Abs(a - 35) > 3), a => Assert.True(mottle.At(a, 0.6) < 0.2 * there, $"at {a} mm {mottle.At(a, 0.6):0.0}, at the notch {there:0.0}"));
        Assert.Equal(0, mottle.At(0.5, 0.3));
    }

    [Fact]
    public void A_stain_with_a_soft_rim_however_bright_is_no_likelier_than_mottle_as_a_notch_of_its_size_is()
    {
        var notch = new NotchShape(0.75, 1.5, false);
        double Soft(double x, double v) => 0.3 * Math.Exp(-0.5 * (Math.Pow((x - 20) / 1.1, 2) + Math.Pow((v - 0.7) / 0.8, 2)));
        EdgeStrip strip = Drawn((x, v) => v < notch.At(x - 45) || v < 0 ? Paper : Patina(x, v) + Soft(x, v));
        var mottle = new MottledSteel(strip, new StripTones(strip), BlurMm);
        Assert.True(mottle.At(20, 1) < 0.2 * mottle.At(45, 1), $"stain {mottle.At(20, 1):0.0}, notch {mottle.At(45, 1):0.0}");
    }

    [Theory]
    [InlineData(Paper)]
    [InlineData(0.1)]
    public void The_rim_of_the_dark_line_dips_at_a_notch_whatever_its_ground_shows_and_not_at_a_stain_behind_the_line(double ground)
    {
        // The line wavers by a tenth of a millimetre; at 20 mm a stain as bright as paper lies right behind it, at 45 mm the steel is gone, its ground light or as dark as the line.
        var notch = new NotchShape(0.6, 1.2, false);
        var floor = new NotchShape(0.4, 1.2, false);
        EdgeStrip strip = Drawn((x, v) =>
        {
            double w = v - (0.1 * Math.Sin(x / 6));
            return w < floor.At(x - 45) || w < 0 ? Paper : w < notch.At(x - 45) ? ground : w < 0.35 ? 0.15 : Math.Abs(x - 20) < 1 ? Paper : Patina(x, w);
        });
        (RimDips rim, _) = RimDips.Of(strip, new StripTones(strip));
        Assert.Equal(45, Assert.Single(rim.Places(4, 1.5)), 0.4);
        Assert.True(rim.At(45, 0.5) > 6, $"notch {rim.At(45, 0.5):0.0}");
        Assert.True(rim.At(20, 1) < 2, $"stained {rim.At(20, 1):0.0}");
    }

    [Fact]
    public void A_notch_in_which_no_open_paper_is_seen_breaks_the_line_halfway_down_though_its_foot_goes_straight_on()
    {
        var notch = new NotchShape(0.8, 1.6, false);
        EdgeStrip strip = Drawn((x, v) => v < 0 ? Paper : v < notch.At(x - 45) ? 0.5 : v < 0.4 ? 0.1 : Patina(x, v));
        (RimDips foots, RimDips halfways) = RimDips.Of(strip, new StripTones(strip));
        (double foot, double halfway) = (foots.At(45, 0.5), halfways.At(45, 0.5));
        Assert.True(halfway > 6, $"halfway {halfway:0.0}");
        Assert.True(foot < 0.5 * halfway, $"foot {foot:0.0}, halfway {halfway:0.0}");
    }

    [Fact]
    public void Steel_brighter_than_the_paper_has_no_dark_line_and_its_rim_speaks_neither_for_a_notch_nor_against_one()
    {
        var notch = new NotchShape(0.8, 1.6, false);
        EdgeStrip strip = Drawn((x, v) => v < notch.At(x - 45) ? 0.5 : v < 0 ? 0.5 : 0.9);
        (RimDips rim, _) = RimDips.Of(strip, new StripTones(strip));
        Assert.Empty(rim.Places(2.5, 1.5));
        Assert.Equal(rim.At(20, 0.5), rim.At(45, 0.5), 1e-9);
    }

    [Fact]
    public void A_small_notch_among_large_stains_is_ten_times_likelier_for_the_rim_that_dips()
    {
        var notch = new NotchShape(0.42, 0.8, false);
        double Edge(double x, double v, double line) => v < 0 ? Paper : v < 0.3 ? line : 0.2 + (1.7 * (Patina(x, v) - 0.2));
        (NotchFit found, ChipEvidence evidence, _, _) = Assert.Single(Told((x, v) => v < notch.At(x - 41) ? v < 0 ? Paper : 0.7 * Paper : Edge(x, v, 0.12)));
        Assert.Equal(41, found.AtMm, 0.4);
        double even = (evidence with { Dip = 1, DeepDip = 1 }).LogOdds;
        Assert.True(evidence.LogOdds > even + Math.Log(10), $"odds {evidence.LogOdds:0.0}, with an even rim {even:0.0}");
    }

    [Fact]
    public void What_a_lamp_throws_through_a_notch_on_shaded_paper_beside_it_is_no_second_notch()
    {
        // The shade reaches 0.8 mm out; the light through the notch lies in it, right before the edge, 2.6 mm along.
        var notch = new NotchShape(1.4, 1.9, true);
        double Ground(double x, double v) => v < -0.8 || Math.Pow((x - 37.6) / 0.8, 2) + Math.Pow((v + 0.4) / 0.5, 2) < 1 ? Paper : 0.55 * Paper;
        NotchFit found = Assert.Single(Told((x, v) => v < notch.At(x - 35) ? Ground(x, v) : Steel(v))).Notch;
        Assert.Equal(35, found.AtMm, 0.4);
    }

    private static readonly double[,] s_tones = Tones();

    private static double[,] Tones()
    {
        var random = new Random(20260102);
        double[,] tones = new double[40, 8];
        for (int i = 0; i < 40; i++)
        {
            for (int k = 0; k < 8; k++)
                tones[i, k] = 0.2 + (0.4 * random.NextDouble());
        }

        return tones;
    }

    private static double Patina(double x, double v)
    {
        (int i, int k) = ((int)(x / 2), (int)(v / 1.2));
        (double a, double b) = ((x / 2) - i, (v / 1.2) - k);
        double Tone(int p, int q) => s_tones[Math.Clamp(p, 0, 39), Math.Clamp(q, 0, 7)];
        return ((1 - a) * (((1 - b) * Tone(i, k)) + (b * Tone(i, k + 1)))) + (a * (((1 - b) * Tone(i + 1, k)) + (b * Tone(i + 1, k + 1))));
    }

    private static double Steel(double depth) => depth < BevelMm ? 0.12 : 0.3;

    private static List<WeighedNotch> Told(Func<double, double, double> sharp)
    {
        return [.. new NotchSearch(Drawn(sharp), BlurMm).Weighed().Where(f => f.Evidence.LogOdds >= ChipFinder.LeastLogOdds)];
    }

    private static EdgeStrip Drawn(Func<double, double, double> sharp)
    {
        var random = new Random(20260103);
        double[] offset = [.. Enumerable.Range(-4, 9).Select(j => j * 0.5 * BlurMm)];
        double[] weight = [.. offset.Select(o => Math.Exp(-0.5 * Math.Pow(o / BlurMm, 2)))];
        double all = Math.Pow(weight.Sum(), 2);
        return new EdgeStrip(LengthMm, 0.12, (x, v) =>
        {
            double sum = 0;
            for (int i = 0; i < offset.Length; i++)
            {
                for (int k = 0; k < offset.Length; k++)
                    sum += weight[i] * weight[k] / all * sharp(x + offset[i], v + offset[k]);
            }

            float tone = (float)(sum + (0.008 * (random.NextDouble() - 0.5)));
            return (tone, tone, tone);
        });
    }
}
