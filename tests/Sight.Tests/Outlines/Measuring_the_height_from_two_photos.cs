using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>An edge 200 mm long, bowed by 4 mm, whose heights are told here, as two cameras see it on the mat: X + (X − S)·z/(H − z).</summary>
public sealed class Measuring_the_height_from_two_photos
{
    private const double Exact = 0.02;
    private static readonly Point2 s_above = new(200, 160), s_aside = new(190, 0);

    [Theory]
    [InlineData(3.2, 0.8, true)]
    [InlineData(2.2, 0.6, true)]
    [InlineData(0.8, 0.6, false)]
    public void Lines_that_were_seen_well_tell_the_height_at_heel_and_tip(double heel, double tip, bool lifted)
    {
        EdgeHeight height = EdgeHeight.Between(Seen(s_above, 580, heel, tip, Exact), Seen(s_aside, 540, heel, tip, Exact), lifted)!;

        Assert.Equal((heel + tip) / 2, height.MiddleMm, 0.06);
        Assert.Equal(heel, height.HeelMm, 0.25);
        Assert.InRange(height.UMm, 0.03, 0.15);
        Assert.InRange(height.ApartMm, 0, 0.03);
    }

    [Theory]
    [InlineData(0.25)]
    [InlineData(-0.25)]
    public void A_shadows_rim_taken_for_the_edge_in_one_photo_leaves_the_height_in_doubt_and_moves_it_less_than_its_parallax_would(double byMm)
    {
        const double lineU = 0.25;
        EdgeHeight height = EdgeHeight.Between(Seen(s_above, 580, 3, 0.8, lineU), Seen(s_aside, 540, 3, 0.8, lineU, shadowMm: byMm), true)!;

        // Alone, 0.25 mm across the edge over a view that is 0.3 mm per millimetre from the other: 0.83 mm.
        Assert.InRange(Math.Abs(height.MiddleMm - 1.9), 0, 0.45);
        Assert.InRange(height.UMm, 0.3, 0.8);
    }

    [Fact]
    public void What_nothing_tells_stays_as_it_is_beforehand()
    {
        EdgeHeight Of(bool lifted) => EdgeHeight.Between(Seen(s_above, 580, 1.5, 0.8, Exact), Seen(s_above, 580, 1.5, 0.8, Exact), lifted)!;

        Assert.True(Of(true).MiddleMm > Of(false).MiddleMm + 0.5); // a handle lifts a blade
        Assert.True(Of(true).UMm > 0.8);
        Assert.InRange(Of(false).UMm, 0.3, 0.5);
        Assert.Equal(0, Of(true).Baseline, 1e-9);
    }

    [Fact]
    public void A_told_spine_says_how_high_a_blade_on_its_flank_floats_where_the_photos_hardly_do()
    {
        // Shadows may have moved either line by 0.4 mm: the photos tell little.
        EdgeHeight Of(double? spine) => EdgeHeight.Between(Seen(s_above, 580, 1.5, 1.1, 0.4, shadowMm: 0.2), Seen(s_aside, 540, 1.5, 1.1, 0.4), false, spine)!;

        Assert.Equal(1.5, Of(3).HeelMm, 0.08);
        Assert.Equal(1.3, Of(3).MiddleMm, 0.15);
        Assert.True(Of(3).UMm < Of(null).UMm / 2, $"{Of(3).UMm:0.00} and {Of(null).UMm:0.00} mm.");
    }

    [Fact]
    public void A_heel_mistaken_in_one_photo_does_not_move_the_height()
    {
        // Seen 90 mm from along the edge too: were the heel believed, its 4 mm would be 24 mm of height.
        EdgeHeight.Look wrong = Seen(new(110, 0), 540, 3, 0.8, 0.1);
        EdgeHeight height = EdgeHeight.Between(Seen(s_above, 580, 3, 0.8, 0.1), wrong with { Line = wrong.Line[40..] }, true)!;

        Assert.Equal(1.9, height.MiddleMm, 0.12);
    }

    [Fact]
    public void A_blade_turned_between_the_photos_stays_apart()
    {
        EdgeHeight.Look turned = Seen(s_aside, 540, 1.5, 0.8, 0.1, turnDeg: 3);

        Assert.True(EdgeHeight.Between(Seen(s_above, 580, 1.5, 0.8, 0.1), turned, true)!.ApartMm > 0.8);
    }

    // Shadows' rims lie the further off the higher the edge floats; by so much at its middle.
    private static EdgeHeight.Look Seen(Point2 camera, double high, double heel, double tip, double lineU, double shadowMm = 0, double turnDeg = 0)
    {
        const int n = 2001;
        (double sin, double cos) = Math.SinCos(double.DegreesToRadians(turnDeg));
        Point2[] line = [.. Enumerable.Range(0, n).Select(i =>
        {
            double share = i / (n - 1.0);
            double z = heel + ((tip - heel) * share);
            (double along, double across) = ((200 * share) - 100, 4 * Math.Sin(Math.PI * share));
            Point2 p = new(200 + (along * cos) - (across * sin), 150 + (along * sin) + (across * cos) + (shadowMm * z * 2 / (heel + tip)));
            return p + ((p - camera) * (z / (high - z)));
        })];
        return new(line, camera, high, lineU, 0.2, 0.2);
    }
}
