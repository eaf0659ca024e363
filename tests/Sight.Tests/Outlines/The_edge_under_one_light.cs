using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// Sections across an edge drawn here from sharp steps and summed under a Gaussian blur, sample by sample; the sky's share beside a half plane is
/// (1 + x/√(x² + z²))/2, the rim of a lamp's shadow the edge shifted by its height times the lamp's lean (both derived, docs/sources.md).
/// </summary>
public sealed class The_edge_under_one_light
{
    private const double BlurMm = 0.22;
    private const double Sky = 0.5;
    private const double HeelMm = 1.8;
    private const double TipMm = 0.5;
    private const double BevelMm = 0.6;

    [Fact]
    public void A_lamps_hard_shadow_outside_the_edge_is_not_taken_for_the_edge()
    {
        IReadOnlyList<EdgeProfile> sections = Drawn(share: 0.4, lean: 0.45, bevel: i => 0.1 + (0.5 * ((i * 7) % 10) / 10), flank: i => 0.25 + (0.4 * ((i * 3) % 10) / 10));
        (EdgeLight light, EdgeLightFit.Places places) = Fit(sections);
        Assert.True(Rms(sections, places) < 0.08, $"RMS {Rms(sections, places):0.000} mm.");
        EdgeLamp lamp = Assert.Single(light.Lamps);
        Assert.InRange(lamp.Share, 0.25, 0.55);
    }

    [Fact]
    public void Where_no_lamp_is_kept_off_the_edge_lies_at_the_foot_of_the_skys_shadow()
    {
        IReadOnlyList<EdgeProfile> sections = Drawn(share: 0, lean: 0, bevel: i => 0.15 + (0.3 * ((i * 7) % 10) / 10), flank: i => 0.2 + (0.3 * ((i * 3) % 10) / 10));
        (EdgeLight light, EdgeLightFit.Places places) = Fit(sections);
        Assert.True(Rms(sections, places) < 0.05, $"RMS {Rms(sections, places):0.000} mm.");
        Assert.Empty(light.Lamps);
    }

    [Fact]
    public void A_dark_bevel_before_a_bright_flank_belongs_to_the_steel()
    {
        IReadOnlyList<EdgeProfile> sections = Drawn(share: 0, lean: 0, bevel: _ => 0.12, flank: i => 0.7 + (0.2 * ((i * 3) % 10) / 10));
        (EdgeLight _, EdgeLightFit.Places places) = Fit(sections);
        Assert.True(Rms(sections, places) < 0.08, $"RMS {Rms(sections, places):0.000} mm.");
    }

    [Fact]
    public void Under_the_shadow_paper_keeps_what_sky_and_lamp_leave_it()
    {
        var light = new EdgeLight(1, 1, Sky, 1, BevelMm, [new(0.3, 0.5, 0, 0.05)]);
        double[] paper = new double[3];
        light.Fill(paper, new double[3], new double[3], -1.0, 0.35, 0.5, 0, 0.02); // at −1.0, −0.65 and −0.3 mm

        Assert.Equal(1 - (Sky * SkyHidden(1.0, 1)), paper[0], 0.01);
        Assert.Equal(1 - (Sky * SkyHidden(0.3, 1)) - 0.3, paper[2], 0.02);
    }

    [Fact]
    public void No_more_light_is_kept_off_than_there_is()
    {
        EdgeLamp lamp = new(0.35, 0.4, 0, 0.12);
        Assert.True(double.IsFinite((EdgeLight.Usual with { Sky = 0.3, Lamps = [lamp, lamp] }).Prior()));
        Assert.True(double.IsPositiveInfinity((EdgeLight.Usual with { Sky = 0.31, Lamps = [lamp, lamp] }).Prior()));
    }

    private static (EdgeLight Light, EdgeLightFit.Places Places) Fit(IReadOnlyList<EdgeProfile> sections) => new EdgeLightFit(sections, BlurMm, 0.25).Find([new double[sections.Count]]);

    private static double Rms(IReadOnlyList<EdgeProfile> sections, EdgeLightFit.Places places) => Math.Sqrt(sections.Select((s, i) => places.InwardMm[i] - True(s.Share)).Average(d => d * d));

    // The true edge wanders about the line of stations.
    private static double True(double share) => 0.15 + (0.1 * Math.Sin(5 * share));

    private static double SkyHidden(double outside, double z) => 0.5 * (1 - (outside / Math.Sqrt((outside * outside) + (z * z))));

    private static List<EdgeProfile> Drawn(double share, double lean, Func<int, double> bevel, Func<int, double> flank)
    {
        var sections = new List<EdgeProfile>();
        var random = new Random(20260101);
        for (int i = 0; i < 24; i++)
        {
            double along = i / 23.0;
            double z = HeelMm + ((TipMm - HeelMm) * along);
            double[] light = new double[EdgeProfile.Count];
            for (int k = 0; k < light.Length; k++)
                light[k] = Blurred(EdgeProfile.FromMm + (k * EdgeProfile.StepMm) - True(along), x => Sharp(x, z, share, lean * z, bevel(i), flank(i))) + (0.003 * (random.NextDouble() - 0.5));
            sections.Add(new(3 + (2 * i), along, 0, [light, light, light]));
        }

        return sections;
    }

    private static double Sharp(double x, double z, double share, double rim, double bevel, double flank)
    {
        const double paper = 0.55;
        return x > BevelMm ? flank : x > 0 ? bevel : paper * (1 - (Sky * SkyHidden(-x, z)) - (x > -rim ? share : 0));
    }

    private static double Blurred(double x, Func<double, double> sharp)
    {
        double sum = 0;
        double weight = 0;
        for (double t = -4; t <= 4; t += 0.05)
        {
            double w = Math.Exp(-t * t / 2);
            sum += w * sharp(x + (t * BlurMm));
            weight += w;
        }

        return sum / weight;
    }
}
