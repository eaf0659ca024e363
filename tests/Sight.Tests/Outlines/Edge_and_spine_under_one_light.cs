using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;
using static Whetwright.Sight.Tests.Outlines.DrawnSections;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// The room's light is one: what shades the edge's side lights the spine's, and sky and lamps are all there is. Sections drawn here sample by sample, both sides under the same sky and lamp.
/// </summary>
public sealed class Edge_and_spine_under_one_light
{
    private const double Lean = 0.4;
    private const double Share = 1 - Sky;

    // Steel has the tone of the paper in the lamp's shadow at the edge's foot: the shadow passes for steel, and its rim for the edge.
    private const double OfShadow = 0.55 * (1 - (Sky / 2) - Share);

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.25)]
    public void A_shadow_as_dark_as_the_steel_is_told_from_it_by_the_light_on_the_spines_side(double lean)
    {
        List<EdgeProfile> edge = Drawn(Share, lean, bevel: _ => OfShadow, flank: i => OfShadow + (0.02 * ((i * 3) % 10) / 10), behind: lean, spread: 0.12);
        KnownHeight told = KnownHeight.Told((HeelMm + TipMm) / 2);
        double Off(SpineSide? spine)
        {
            EdgeLightFit.Places places = new EdgeLightFit(edge, BlurMm, 0.25, told) { Spine = spine }.Find([new(new double[edge.Count]), .. EdgeSections.BehindRims(edge, told)]).Places;
            return Math.Abs(edge.Select((s, i) => places.InwardMm[i] - True(s.Share) - (lean * HeightAt(s.Share))).Average());
        }

        double together = Off(Spine());
        double alone = Off(null);
        Assert.True(together < 0.2 && together < 0.4 * alone, $"{together:0.000} mm off with the spine's side, {alone:0.000} without.");
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.7)]
    public void Taken_for_a_spine_an_edge_leaves_more_of_the_paper_unexplained(double lean)
    {
        List<EdgeProfile> edge = Drawn(Share, lean, bevel: _ => 0.4, flank: _ => 0.4, spread: 0.12);
        List<EdgeProfile> spine = Drawn(0, 0, bevel: _ => 0.4, flank: _ => 0.4, heelMm: 2 * HeelMm, tipMm: 2 * TipMm);
        double Misfit(List<EdgeProfile> one, List<EdgeProfile> other)
        {
            var fit = new EdgeLightFit(one, BlurMm, 0.25, KnownHeight.Told((HeelMm + TipMm) / 2)) { Spine = new([.. other.Select(p => p with { TurnRad = Math.PI })], Lifted: false, SpineMm: null, WallPerMm: -0.1) };
            return fit.PaperMisfit(fit.Find([new(new double[one.Count]), .. EdgeSections.BehindRims(one, KnownHeight.Told((HeelMm + TipMm) / 2))]).Light);
        }

        (double right, double wrong) = (Misfit(edge, spine), Misfit(spine, edge));
        Assert.True(wrong > right + 0.2, $"{right:0.00} as they are, {wrong:0.00} turned about.");
        Assert.True(new LitSides(new(right, []), new(wrong, [])).EdgeHigh < 0);
    }

    [Theory]
    [InlineData(1.0, 0.85, 0)] // hardly a difference
    [InlineData(0.85, 1.0, 0)]
    [InlineData(1.5, 1.0, 1.05)] // 3.5 for each unit beyond 0.2
    [InlineData(1.0, 1.5, -1.05)]
    [InlineData(9.0, 1.0, 2.5)] // never surer than that
    public void A_small_difference_of_what_is_left_tells_nothing_and_a_great_one_no_more_than_so_much(double low, double high, double odds) =>
        Assert.Equal(odds, new LitSides(new(low, []), new(high, [])).EdgeHigh, 1e-9);

    [Fact]
    public void What_was_found_along_a_side_is_kept_for_that_side_and_that_height_alone()
    {
        SmoothEdge Side(double y) => SmoothEdge.Of([.. Enumerable.Range(0, 400).Select(i => new Point2(0.5 * i, y))], 40, 360, false);
        (SmoothEdge low, SmoothEdge high) = (Side(0), Side(40));
        LitSides.Taken Taken(SmoothEdge side) => new(1, []) { By = new(side, KnownHeight.Told(1), [], null!) };
        var sides = new LitSides(Taken(low), Taken(high));

        Assert.Same(sides.Low, sides.Of(low));
        Assert.Same(sides.High, sides.Of(high));
        Assert.Null(sides.Of(Side(0)));
        Assert.NotNull(sides.Low.At(KnownHeight.Told(1)));
        Assert.Null(sides.Low.At(KnownHeight.Told(1.2)));
        Assert.Null(sides.Low.At(null));
        Assert.Null(new LitSides(new(1, []), new(1, [])).Of(low));
    }

    [Fact]
    public void Steel_does_not_tell_edge_from_spine()
    {
        // The same paper under the same light; the steel beside it even, and mottled.
        EdgeLight light = EdgeLight.Usual with { HeelMm = HeelMm, TipMm = TipMm, Sky = Sky, BevelMm = BevelMm };
        double Misfit(Func<int, double> flank, Func<int, double, double, double>? steel) => new EdgeLightFit(Drawn(0, 0, bevel: _ => 0.3, flank, steel: steel), BlurMm, 0.25, KnownHeight.Told(1.15)).PaperMisfit(light);

        Assert.Equal(Misfit(_ => 0.3, null), Misfit(_ => 0.3, (i, x, tone) => tone * (1 + (0.3 * Math.Sin((9 * x) + i)))), 0.25);
    }

    [Fact]
    public void A_lamp_that_shades_the_spines_side_is_found_there_and_leaves_the_edge_in_its_light()
    {
        List<EdgeProfile> edge = Drawn(share: 0, lean: 0, bevel: _ => 0.2, flank: i => 0.3 + (0.2 * ((i * 3) % 10) / 10));
        EdgeLight light = new EdgeLightFit(edge, BlurMm, 0.25, KnownHeight.Told(1.15)) { Spine = Spine(Share, Lean) }.Find([new(new double[edge.Count])]).Light;
        EdgeLamp lamp = light.Lamps.MinBy(l => l.Lean);
        Assert.Equal(-Lean, lamp.Lean, 0.15);
        Assert.Equal(Share, lamp.Share, 0.12);
        Assert.Equal(1, light.Sky + light.Lamps.Sum(l => l.Share), 0.05);
    }

    [Fact]
    public void A_spine_on_the_mat_is_twice_as_high_as_the_edge_and_one_that_a_handle_lifts_stands_half_its_thickness_over_it()
    {
        EdgeLight edge = EdgeLight.Usual with { HeelMm = 1.2, TipMm = 0.9, Lamps = [new(0.3, 0.4, 0.1, 0.12)] };
        EdgeLight flat = new SpineSide([], Lifted: false, 2.4, WallPerMm: -0.1).Under(edge);
        EdgeLight lifted = new SpineSide([], Lifted: true, 2.0, WallPerMm: 0.2).Under(edge with { HeelMm = 3 });
        Assert.Equal((2.4, 1.8, 0), (Math.Round(flat.HeelMm, 6), Math.Round(flat.TipMm, 6), flat.BevelMm));
        Assert.Equal(4, lifted.HeelMm, 1e-6);
        Assert.InRange(lifted.BevelMm, 0.2 * 1.4, 0.2 * 2.0); // the wall that a camera on its side sees of it, thinner toward the tip
        Assert.Equal(edge.Lamps, lifted.Lamps);
    }

    [Fact]
    public void What_a_lamp_loses_the_sky_gains()
    {
        EdgeLight light = EdgeLight.Usual with { Sky = 0.5, Lamps = [new(0.5, 0.3, 0, 0.12)] };
        double[] row = light.ToRow();
        row[5] -= 0.2; // the lamp's share
        EdgeLight less = EdgeLight.FromRow(row)!;
        Assert.Equal(0.3, less.Lamps[0].Share, 1e-9);
        Assert.Equal(0.7, less.Sky, 1e-9);
        EdgeLight again = EdgeLight.FromRow(light.ToRow())!;
        Assert.Equal((light.Sky, light.BevelMm, light.HeelMm), (Math.Round(again.Sky, 9), Math.Round(again.BevelMm, 9), Math.Round(again.HeelMm, 9)));
    }

    [Theory]
    [InlineData(0.4)]
    [InlineData(0.1)]
    public void The_rim_of_an_evenly_bright_lamps_shadow_is_an_even_ramp_under_the_blur(double spread)
    {
        const double z = 2, lean = 0.5, blur = 0.15;
        double[] paper = new double[8];
        new EdgeLight(z, z, 0, 1, BevelMm, [new(0.6, lean, 0, spread)]).Fill(paper, new double[8], new double[8], new double[8], -2, 0.2, new(0, 0.5, 0, 0, []), blur);
        double w = Math.Sqrt((blur * blur) + (0.08 * 0.08)); // paper spreads light by that
        for (int k = 0; k < paper.Length; k++)
        {
            double x = -2 + (0.2 * k);
            double hidden = Enumerable.Range(0, 2000).Average(i => Normal((x + (lean * z) + (spread * z * (((i + 0.5) / 1000) - 1))) / w));
            Assert.Equal((1 - Normal(x / blur)) - (0.6 * Math.Max(0, hidden - Normal(x / blur))), paper[k], 0.004);
        }
    }

    [Fact]
    public void Rooms_are_drawn_by_Haltons_sequence_and_normal_numbers()
    {
        Assert.Equal([0.5, 0.25, 0.75, 0.125], [RoomDraws.Halton(1, 2), RoomDraws.Halton(2, 2), RoomDraws.Halton(3, 2), RoomDraws.Halton(4, 2)]); // Halton 1960
        Assert.Equal(7.0 / 9, RoomDraws.Halton(5, 3), 1e-12);
        Assert.Equal(1.960, RoomDraws.StandardNormal(0.975), 0.02); // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1
        Assert.All(Enumerable.Range(10, 981), i => Assert.Equal(MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, i / 1000.0), RoomDraws.StandardNormal(i / 1000.0), 0.012));
        EdgeLight[] drawn = [.. RoomDraws.Of(200, EdgeLight.Usual, bothSides: true)];
        Assert.All(drawn, l => Assert.True(l.Sky > 0.05 && l.Sky + l.Lamps.Sum(p => p.Share) <= 1));
        Assert.InRange(drawn.Count(l => l.Lamps.Any(p => p.Lean < 0)), 80, 180);
        Assert.All(RoomDraws.Of(200, EdgeLight.Usual, bothSides: false), l => Assert.All(l.Lamps, p => Assert.True(p.Lean > 0)));
    }

    [Fact]
    public void Lamps_straight_above_are_unlikely_for_the_photographer_would_shade_the_blade()
    {
        double Of(double lean) => (EdgeLight.Usual with { Sky = 0.5, Lamps = [new(0.5, lean, 0, 0.14)] }).Prior(null, null, bothSides: true);
        Assert.True(Of(0) > Of(0.3) + 4);
        Assert.True(Of(1.2) > Of(0.3) + 1);
        Assert.Equal(Of(0.3), Of(-0.3), 1e-9);
    }

    // The spine's side of the blade: level with the edge's heights doubled, for it lies on the mat, and no bevel. The lamp of the edge's side lights it.
    private static SpineSide Spine(double share = 0, double lean = 0) =>
        new(Drawn(share, lean, bevel: _ => 0.4, flank: _ => 0.4, heelMm: 2 * HeelMm, tipMm: 2 * TipMm, turnRad: Math.PI), Lifted: false, SpineMm: null, WallPerMm: -0.1);

    private static double Normal(double x) => MathNet.Numerics.Distributions.Normal.CDF(0, 1, x);
}
