using Whetwright.Sight.Outlines;
using static Whetwright.Sight.Tests.Outlines.DrawnSections;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// Sections across an edge drawn here from sharp steps and summed under a Gaussian blur, sample by sample; the sky's share beside a half plane is
/// (1 + x/√(x² + z²))/2, the rim of a lamp's shadow the edge shifted by its height times the lamp's lean (both derived, docs/sources.md).
/// </summary>
public sealed class The_edge_under_one_light
{
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
    public void Outlined_along_the_soft_rim_of_a_wide_low_lamps_shadow_the_edge_is_found_behind_it_by_its_height_times_the_lean()
    {
        const double lean = 1.1;
        List<EdgeProfile> sections = Drawn(share: 0.45, lean, bevel: _ => 0.14, flank: i => 0.16 + (0.1 * ((i * 3) % 10) / 10), spread: 0.35, behind: lean);
        KnownHeight told = KnownHeight.Told(1.2);
        EdgeLightFit.Places places = new EdgeLightFit(sections, BlurMm, 0.25, told).Find([new(new double[sections.Count]), .. EdgeSections.BehindRims(sections, told)]).Places;
        Assert.True(Rms(sections, places, lean) < 0.25, $"RMS {Rms(sections, places, lean):0.000} mm."); // the rim lies 0.5 to 2 mm off, and the bevel has nearly the shadow's tone
    }

    [Fact]
    public void Sections_drawn_around_a_shadows_rim_are_drawn_anew_around_the_edge_found_behind_it()
    {
        const double lean = 0.35;
        List<EdgeProfile> around = Drawn(share: 0.4, lean, bevel: _ => 0.3, flank: i => 0.35 + (0.3 * ((i * 3) % 10) / 10.0), behind: lean);
        double[]? moved = null;
        (double[] found, _) = new EdgeSections(null!, null!, BlurMm / 0.25, null, KnownHeight.Told(1.2)).Under(around, new double[around.Count], move =>
        {
            moved = move;
            return Drawn(share: 0.4, lean, bevel: _ => 0.3, flank: i => 0.35 + (0.3 * ((i * 3) % 10) / 10.0), behind: lean, moved: move);
        }, 0.25);

        Assert.NotNull(moved);
        double rms = Math.Sqrt(around.Select((s, i) => found[i] - True(s.Share) - (lean * HeightAt(s.Share))).Average(d => d * d));
        Assert.True(rms < 0.1, $"RMS {rms:0.000} mm.");
    }

    [Fact]
    public void Lines_that_may_be_the_edges_are_each_drawn_in_sections_of_their_own_before_they_are_compared_and_weighed()
    {
        // A wide low lamp's shadow nearly as dark as bevel and flank, sections drawn around its rim: the line likeliest there is 0.56 mm off.
        const double lean = 0.7;
        List<EdgeProfile> Around(double[]? move) => Drawn(share: 0.5, lean, bevel: _ => 0.2, flank: i => 0.18 + (0.1 * ((i * 3) % 10) / 10.0), spread: 0.3, behind: lean, moved: move);
        List<EdgeProfile> around = Around(null);
        var drawn = new List<double>();
        (double[] found, _) = new EdgeSections(null!, null!, BlurMm / 0.25, null, KnownHeight.Told(1.15)).Under(around, new double[around.Count], move =>
        {
            drawn.Add(move.Average());
            return Around(move);
        }, 0.25);

        Assert.True(drawn.Max() - drawn.Min() > 0.4, $"Drawn around {string.Join(", ", drawn.Select(d => $"{d:0.00}"))} mm.");
        double rms = Math.Sqrt(around.Select((s, i) => found[i] - True(s.Share) - (lean * HeightAt(s.Share))).Average(d => d * d));
        Assert.True(rms < 0.4, $"RMS {rms:0.000} mm.");
    }

    [Fact]
    public void Where_the_outline_stepped_in_over_a_bevel_as_bright_as_the_paper_the_sections_are_drawn_anew_around_the_edge_found_outside_it()
    {
        // Over a third of the edge the line of stations runs 1.5 mm inside the other: further than the edge is looked for.
        double[] step = [.. Enumerable.Range(0, 24).Select(i => 1.5 * Math.Clamp((8 - Math.Abs(i - 11.5)) / 5, 0, 1))];
        List<EdgeProfile> Around(double[] line) => Drawn(share: 0, lean: 0, bevel: i => step[i] > 0.3 ? 0.62 : 0.15, flank: _ => 0.9, moved: line);
        List<EdgeProfile> stepped = Around(step);
        (double[] found, _) = new EdgeSections(null!, null!, BlurMm / 0.25, null, KnownHeight.Told(1.2)).Under(stepped, new double[step.Length], move => Around([.. step.Zip(move, (a, b) => a + b)]), 0.25);

        double rms = Math.Sqrt(stepped.Select((s, i) => found[i] + step[i] - True(s.Share)).Average(d => d * d));
        Assert.True(rms < 0.12, $"RMS {rms:0.000} mm.");
    }

    [Theory]
    [InlineData(1.0, 4.6, 14)]
    [InlineData(0.9, 5.0, 16)]
    public void At_a_high_heel_whose_shadow_is_wider_than_sections_reach_the_steel_is_looked_for_where_the_light_nearer_to_the_tip_has_it(double lean, double heel, int torn)
    {
        // The line of stations is the shadow's rim, 4.6 mm outside the steel at the heel, and steps in to the steel over the last third: sections reach 2.6 mm inward.
        double[] step = [.. Enumerable.Range(0, 24).Select(i => i < torn ? 0 : lean * HeightAt(i / 23.0, heel))];
        List<EdgeProfile> Around(double[] line) => Drawn(share: 0.4, lean, bevel: _ => 0.1, flank: i => 0.7 + (0.1 * ((i * 3) % 10) / 10.0), behind: lean, moved: line, heelMm: heel);
        List<EdgeProfile> around = Around(step);
        (double[] found, _) = new EdgeSections(null!, null!, BlurMm / 0.25, null, KnownHeight.Told((heel + TipMm) / 2)).Under(around, new double[step.Length], move => Around([.. step.Zip(move, (a, b) => a + b)]), 0.25);

        double rms = Math.Sqrt(around.Select((s, i) => found[i] + step[i] - True(s.Share) - (lean * HeightAt(s.Share, heel))).Average(d => d * d));
        Assert.True(rms < 0.2, $"RMS {rms:0.000} mm.");
    }

    [Fact]
    public void A_thin_blade_lies_nearly_level_and_one_that_a_handle_lifts_touches_down_at_its_tip()
    {
        KnownHeight flat = KnownHeight.Told(0.8);
        KnownHeight lifted = KnownHeight.Told(2.5);
        Assert.True(flat.TipMm > 0.6 * flat.HeelMm, $"{flat.HeelMm:0.00} mm at the heel, {flat.TipMm:0.00} at the tip.");
        Assert.True(lifted.TipMm < 1, $"{lifted.TipMm:0.00} mm at the tip.");
        Assert.Equal(lifted.MiddleMm, (lifted.HeelMm + lifted.TipMm) / 2, 1e-9);
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
    public void A_flank_that_shines_beyond_what_the_camera_tells_apart_does_not_push_the_edge_inward_or_out()
    {
        // Blurred light of a flank three to six times as bright as full scale reaches far over the bevel, and is cut off at full scale.
        List<EdgeProfile> sections = Drawn(share: 0.3, lean: 0.3, bevel: _ => 0.3, flank: i => 3 + (3 * ((i * 3) % 10) / 10.0));
        KnownHeight told = KnownHeight.Told(1.2);
        (EdgeLight light, EdgeLightFit.Places places) = new EdgeLightFit(sections, BlurMm, 0.25, told).Find([new(new double[sections.Count]), .. EdgeSections.BehindRims(sections, told)]);
        Assert.True(Rms(sections, places) < 0.1, $"RMS {Rms(sections, places):0.000} mm.");
        Assert.Equal(BevelMm, light.BevelMm, 0.15);
    }

    [Fact]
    public void Stained_steel_before_even_paper_is_not_taken_for_a_shadow_though_a_lamp_would_explain_its_stains_well()
    {
        // Stains of one and of four millimetres, as patina has them, that darken the steel behind the edge along most of it; no lamp.
        double[,] noise = Noise(64);
        double Stain(int i, double x) => (0.6 * At(noise, 0.44 * i, 0.22 * x)) + (0.4 * At(noise, 20 + (1.8 * i), 0.9 * x));
        List<EdgeProfile> sections = Drawn(share: 0, lean: 0, bevel: _ => 0.3, flank: _ => 0.5, steel: (i, x, light) =>
        {
            double stain = Stain(i, x);
            double share = Math.Clamp((stain - 0.25) * 1.6, 0, 0.9);
            return (light * (1 - share)) + (share * (0.06 + (0.2 * stain)));
        });
        KnownHeight told = KnownHeight.Told(1.2);
        (EdgeLight _, EdgeLightFit.Places places) = new EdgeLightFit(sections, BlurMm, 0.25, told).Find([new(new double[sections.Count]), .. EdgeSections.BehindRims(sections, told)]);
        Assert.True(Rms(sections, places) < 0.1, $"RMS {Rms(sections, places):0.000} mm.");
    }

    [Fact]
    public void Under_the_shadow_paper_keeps_what_sky_and_lamp_leave_it()
    {
        var light = new EdgeLight(1, 1, Sky, 1, BevelMm, [new(0.3, 0.5, 0, 0.05)]);
        double[] paper = new double[3];
        light.Fill(paper, new double[3], new double[3], new double[3], -1.0, 0.35, Section(view: 0), 0.02); // at −1.0, −0.65 and −0.3 mm

        Assert.Equal(1 - (Sky * SkyHidden(1.0, 1)), paper[0], 0.01);
        Assert.Equal(1 - (Sky * SkyHidden(0.3, 1)) - 0.3, paper[2], 0.02);
    }

    [Fact]
    public void A_camera_that_looks_in_under_the_edge_sees_paper_from_further_under_the_sky_that_the_blade_hides()
    {
        var light = new EdgeLight(1, 1, Sky, 1, BevelMm, []);
        double[] paper = new double[1];
        light.Fill(paper, new double[1], new double[1], new double[1], -0.6, 1, Section(view: 0.4), 0.02); // 0.6 mm before the edge as seen: 0.2 mm before it on the mat
        Assert.Equal(1 - (Sky * SkyHidden(0.2, 1)), paper[0], 0.005);
    }

    [Fact]
    public void A_bright_line_along_the_shoulder_is_not_taken_for_the_edge()
    {
        IReadOnlyList<EdgeProfile> sections = Drawn(share: 0, lean: 0, bevel: _ => 0.15, flank: i => 0.2 + (0.1 * ((i * 3) % 10) / 10), shoulder: 0.9);
        (EdgeLight light, EdgeLightFit.Places places) = Fit(sections);
        Assert.True(Rms(sections, places) < 0.06, $"RMS {Rms(sections, places):0.000} mm.");
        Assert.Equal(BevelMm, light.BevelMm, 0.15);
    }

    [Fact]
    public void A_told_height_holds_the_lights_height_though_the_shadows_would_have_another()
    {
        List<EdgeProfile> sections = Drawn(share: 0.4, lean: 0.45, bevel: _ => 0.3, flank: i => 0.25 + (0.4 * ((i * 3) % 10) / 10));
        KnownHeight told = KnownHeight.Told(2.2); // drawn at 1.15
        EdgeLight light = new EdgeLightFit(sections, BlurMm, 0.25, told).Find([new(new double[sections.Count])]).Light;
        Assert.Equal(told.MiddleMm, light.HeightAt(0.5), 0.2);
    }

    [Fact]
    public void Where_steel_and_shadow_differ_clearly_the_edge_is_beyond_doubt_and_where_both_are_dark_it_is_not()
    {
        double Doubt(double steel)
        {
            List<EdgeProfile> sections = Drawn(share: 0.3, lean: 0.9, bevel: _ => steel, flank: _ => steel);
            var fit = new EdgeLightFit(sections, BlurMm, 0.25);
            (EdgeLight light, EdgeLightFit.Places places) = fit.Find([new(new double[sections.Count])]);
            return fit.DoubtMm(light, places.InwardMm);
        }

        double clear = Doubt(0.9);
        double dark = Doubt(0.55 * (1 - (Sky / 2) - 0.3)); // the paper's own tone at the edge's foot
        Assert.True(clear < 0.12, $"{clear:0.00} mm on bright steel.");
        Assert.True(dark > 0.15, $"{dark:0.00} mm on dark.");
    }

    [Fact]
    public void A_dark_band_beside_a_side_without_bevel_is_a_shadow_under_the_light_found_along_the_edge()
    {
        // A lamp's shadow 0.5 mm wide beside bright steel, all at one height: alone it passes for a dark bevel, or the steel for lit paper.
        List<EdgeProfile> sections = Drawn(share: 0.35, lean: 0.45, bevel: _ => 0.6, flank: _ => 0.6, level: 1.1);
        EdgeLight edge = EdgeLight.Usual with { HeelMm = 1.1, TipMm = 1.1, Sky = Sky };
        (EdgeLight light, EdgeLightFit.Places places) = new EdgeLightFit(sections, BlurMm, 0.25, new(1.1, 0.3), edge.ForBare(1.1, 1.1)).Find([new(new double[sections.Count])]);
        Assert.True(Rms(sections, places) < 0.06, $"RMS {Rms(sections, places):0.000} mm.");
        Assert.Equal(0, light.BevelMm);
        Assert.Contains(light.Lamps, lamp => Math.Abs(lamp.Lean - 0.45) < 0.15);
    }

    [Fact]
    public void No_more_light_is_kept_off_than_there_is()
    {
        EdgeLamp lamp = new(0.35, 0.4, 0, 0.12);
        Assert.True(double.IsFinite((EdgeLight.Usual with { Sky = 0.3, Lamps = [lamp, lamp] }).Prior(null)));
        Assert.True(double.IsPositiveInfinity((EdgeLight.Usual with { Sky = 0.31, Lamps = [lamp, lamp] }).Prior(null)));
    }

    private static EdgeProfile Section(double view) => new(0, 0.5, 0, view, []);

    private static (EdgeLight Light, EdgeLightFit.Places Places) Fit(IReadOnlyList<EdgeProfile> sections) => new EdgeLightFit(sections, BlurMm, 0.25).Find([new(new double[sections.Count])]);

    private static double Rms(IReadOnlyList<EdgeProfile> sections, EdgeLightFit.Places places, double behind = 0) =>
        Math.Sqrt(sections.Select((s, i) => places.InwardMm[i] - True(s.Share) - (behind * HeightAt(s.Share))).Average(d => d * d));
}
