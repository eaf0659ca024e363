using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>A drawn heel: the edge runs along x at y = 0, steel lies at y &gt; 0 from its heel on, and its face's shadow before it.</summary>
public sealed class Where_the_steel_ends_along_the_edge
{
    private const double Blur = 0.15;

    [Theory]
    [InlineData(2.5)]
    [InlineData(-3.2)]
    [InlineData(6)]
    public void The_heel_is_where_bevel_and_flank_stop_and_not_where_the_shadow_beside_its_face_ends(double heel)
    {
        double[] ends = [.. SteelEnd.Along(p => Light(p, heel, bevel: 0.35, flank: 0.5, shadow: 0.6), new(0, 0), new(1, 0), new(0, 1), Blur)];
        Assert.Equal(2, ends.Length);
        Assert.All(ends, e => Assert.Equal(heel, e, 0.1));
    }

    [Fact]
    public void A_bevel_as_bright_as_the_paper_tells_nothing_and_the_flank_tells_it()
    {
        double[] ends = [.. SteelEnd.Along(p => Light(p, 2.5, bevel: 1, flank: 0.5, shadow: 0.6, shadowFrom: 0.8), new(0, 0), new(1, 0), new(0, 1), Blur)];
        Assert.Equal(2.5, Assert.Single(ends), 0.1);
    }

    [Fact]
    public void A_face_that_leans_is_followed_along_its_direction()
    {
        Vector2 face = new Vector2(0.3, 1).Normalized();
        double[] ends = [.. SteelEnd.Along(p => Light(p, 2.5 + (0.3 * p.Y), bevel: 0.35, flank: 0.5, shadow: 0.6), new(0, 0), new(1, 0), face, Blur)];
        Assert.Equal(2, ends.Length);
        Assert.All(ends, e => Assert.Equal(2.5, e, 0.1));
    }

    [Fact]
    public void Steel_whose_own_stains_step_as_much_tells_no_end()
    {
        double Stained(Point2 p) => Light(p, 2.5, 0.35, 0.5, 0.6) * (p.X > 2.5 && (p.X + 1) % 5 > 2.5 ? 0.35 : 1);
        Assert.Empty(SteelEnd.Along(Stained, new(0, 0), new(1, 0), new(0, 1), Blur));
    }

    [Fact]
    public void A_change_that_is_soft_is_no_end()
    {
        double Soft(Point2 p) => 0.35 + (0.5 / (1 + Math.Exp((p.X - 3) / 2)));
        Assert.Empty(SteelEnd.Along(Soft, new(0, 0), new(1, 0), new(0, 1), Blur));
    }

    [Theory]
    [InlineData(0.15, 2.0, true)] // a heel that nothing told plainly gives way
    [InlineData(0.2, 0.15, true)] // as sure as the one before
    [InlineData(0.3, 0.15, false)] // face and corner told one before, and this, at a stain, only its half
    [InlineData(1.0, 0.15, false)]
    public void A_heel_found_anew_replaces_none_that_was_surer(double uMm, double beforeUMm, bool replaces) =>
        Assert.Equal(replaces, EdgeTrace.IsAsSure(uMm, beforeUMm));

    [Theory]
    [InlineData(0.35, 0.3, 0.05, false, true)]
    [InlineData(0.5, 0.3, 0.05, false, false)]
    [InlineData(0.5, 0.1, 0.05, false, true)]
    [InlineData(0.35, 0.3, 0.1, false, false)]
    [InlineData(0.35, 0.3, 0.1, true, true)]
    [InlineData(0.35, 0.3, 0.2, true, false)]
    [InlineData(0.35, 0.7, 0.05, true, false)]
    public void A_corner_is_the_steels_end_where_it_is_near_and_sure_and_explains_the_photo_and_may_explain_less_where_steel_ends_plainly(double apartMm, double uMm, double misfit, bool plain, bool itsOwn)
    {
        var shape = new TipShape(0, 0, 0, 0, Math.PI / 2, 0, 1, 0, []);
        var seen = new SeenTip(new(apartMm, 0.3), uMm, new(-1, 0), misfit, new(shape, 0, misfit, uMm, []), 0) { Frame = (new(0, 0), new(1, 0), new(0, 1)) };
        Assert.Equal(itsOwn, LitEnds.IsAt(new(0, 0), seen, new(1, 0), plain));
    }

    [Theory]
    [InlineData(0.05, 0.08, 0.03, true)] // a stain's
    [InlineData(0.05, 0.08, 0.015, false)] // it explains the photo better
    [InlineData(0.6, 0.08, 0.03, false)] // face and corner told two places
    [InlineData(0.05, 0.2, 0.03, false)] // the corner was not sure
    public void Where_face_and_corner_surely_tell_one_place_another_must_explain_the_photo_better(double fromFaceMm, double uMm, double misfit, bool doubted)
    {
        SeenTip Corner(double u, double left) => new(new(0, 0), u, new(-1, 0), left, new(new TipShape(0, 0, 0, 0, Math.PI / 2, 0, 1, 0, []), 0, left, u, []), 0) { Frame = (new(0, 0), new(1, 0), new(0, 1)) };
        Assert.Equal(doubted, LitEnds.IsDoubted(Corner(uMm, 0.02), fromFaceMm, Corner(0.14, misfit)));
    }

    // Steel from its heel on, a shadow 1.8 mm wide before its face from some way behind the edge's line on, paper else; blurred along x.
    private static double Light(Point2 p, double heel, double bevel, double flank, double shadow, double shadowFrom = 0.2)
    {
        double steel = BlurredStep.Phi((p.X - heel) / Blur);
        double dark = p.Y > shadowFrom ? BlurredStep.Phi((p.X - heel + 1.8) / 0.3) : 0;
        double paper = 1 - ((1 - shadow) * dark);
        return (paper * (1 - steel)) + (steel * (p.Y > 0.7 ? flank : bevel));
    }
}
