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
