using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>A bar of steel from x = 0 to 200 mm and y = 0 to 30 on even paper; all lights invented.</summary>
public sealed class Seeing_the_rim
{
    private const double Paper = 0.8;

    [Fact]
    public void A_bar_that_differs_from_the_paper_has_a_rim_all_around() =>
        Assert.Equal(0, RimSeen.LongestMissing(Around(0, 200), p => Inside(p, 200) ? 0.3 : Paper, _ => false));

    [Fact]
    public void An_outline_that_ends_in_the_middle_of_steel_that_grows_as_bright_as_the_paper_has_none_there()
    {
        // From 80 to 120 mm the steel's light goes from 0.3 to the paper's and stays there; the outline was drawn where half the way is done.
        double Light(Point2 p) => Inside(p, 200) ? 0.3 + ((Paper - 0.3) * Math.Clamp((p.X - 80) / 40, 0, 1)) : Paper;

        double missing = RimSeen.LongestMissing(Around(0, 100), Light, _ => false);

        Assert.InRange(missing, 20, 36);
        Assert.True(missing > RimSeen.LongestMissingMm);
    }

    [Fact]
    public void Where_the_photo_ends_no_rim_is_asked_for() =>
        Assert.Equal(0, RimSeen.LongestMissing(Around(0, 200), p => p.X > -5 && Inside(new(Math.Max(p.X, 0), p.Y), 200) ? 0.3 : Paper, p => p.X < 2));

    [Fact]
    public void A_chip_of_light_on_the_rim_is_too_short_to_matter()
    {
        double Light(Point2 p) => Inside(p, 200) ? (Math.Abs(p.X - 60) < 3 && p.Y < 5 ? Paper : 0.3) : Paper;

        Assert.InRange(RimSeen.LongestMissing(Around(0, 200), Light, _ => false), 1, RimSeen.LongestMissingMm);
    }

    [Fact]
    public void A_handles_soft_shadow_has_no_rim_and_needs_none_where_the_handle_is_seen_inside_it() =>
        Assert.InRange(RimSeen.LongestMissing(WithHandle(), p => Handled(p, handleSeen: true), _ => false, BladeLie.Of(WithHandle())), 0, RimSeen.LongestMissingMm);

    [Fact]
    public void Where_no_handle_is_seen_inside_the_outline_may_run_through_steel() =>
        Assert.True(RimSeen.LongestMissing(WithHandle(), p => Handled(p, handleSeen: false), _ => false, BladeLie.Of(WithHandle())) > RimSeen.LongestMissingMm);

    [Fact]
    public void A_shadow_without_a_rim_beside_the_blade_itself_is_not_excused_by_the_handle()
    {
        // The blade's far side fades into the paper, with a step of its own further in.
        double Light(Point2 p) => p is { X: > 110 and < 240, Y: > 50 and < 80 } ? Paper + ((0.3 - Paper) * (80 - p.Y) / 40) : Handled(p, handleSeen: true);

        Assert.True(RimSeen.LongestMissing(WithHandle(), Light, _ => false, BladeLie.Of(WithHandle())) > RimSeen.LongestMissingMm);
    }

    /// <summary>A blade from x = 100 to 250 mm and y = 0 to 60; its handle from 0 to 100 and y = 5 to 25, with a shadow that fades toward y = 50 and that was outlined at 35.</summary>
    private static double Handled(Point2 p, bool handleSeen) => p switch
    {
        { X: >= 100 and <= 250, Y: >= 0 and <= 60 } => 0.3,
        { X: >= 0 and < 100, Y: >= 5 and <= 25 } when handleSeen => 0.1,
        { X: >= 0 and < 100, Y: > 5 and < 50 } => Paper * (1 - (0.3 * Math.Min(1, (50 - p.Y) / 45))),
        _ => Paper,
    };

    private static Point2[] WithHandle() =>
        Contour.Resample([new(0, 5), new(100, 5), new(100, 0), new(250, 0), new(250, 60), new(100, 60), new(100, 35), new(0, 35)], EdgeSide.OutlineStepMm);

    private static bool Inside(Point2 p, double toMm) => p.X >= 0 && p.X <= toMm && p.Y is >= 0 and <= 30;

    private static Point2[] Around(double fromMm, double toMm)
    {
        List<Point2> p = [];
        for (double x = fromMm; x < toMm; x += EdgeSide.OutlineStepMm)
            p.Add(new(x, 0));
        for (double y = 0; y < 30; y += EdgeSide.OutlineStepMm)
            p.Add(new(toMm, y));
        for (double x = toMm; x > fromMm; x -= EdgeSide.OutlineStepMm)
            p.Add(new(x, 30));
        for (double y = 30; y > 0; y -= EdgeSide.OutlineStepMm)
            p.Add(new(fromMm, y));
        return [.. p];
    }
}
