using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench.Tests;

/// <summary>
/// Height lost between two traced outlines. Truth by construction: an edge that is a sine over the chord, ground down by a known amount with spine and handle as they
/// were, and laid on the mat anew somewhere else. Tolerance 0.02 mm: the outline's own polygon is that coarse.
/// </summary>
public sealed class Outlines_laid_on_each_other
{
    [Theory]
    [InlineData(0)]
    [InlineData(0.4)]
    [InlineData(1.5)]
    public void The_height_that_was_ground_away_is_found_however_the_blade_lay(double wornMm)
    {
        OutlineTaken earlier = Lying(0, 0.1, 250, false), later = Lying(wornMm, -0.35, 410, false);

        OutlineWear wear = OutlineWear.Between(earlier, later, out Reason? why)!;

        Assert.Null(why);
        Assert.All(wear.LostMm.Where(p => p.X is > 10 and < 230), p => Assert.Equal(wornMm, p.Y, 0.02));
        Assert.InRange(wear.FitMm, 0, 0.02);
        Assert.Equal(Math.Sqrt((2 * 0.08 * 0.08) + (wear.FitMm * wear.FitMm)), wear.LostUMm!.Value, 1e-9);
    }

    [Fact]
    public void A_mat_that_is_read_from_the_other_side_changes_nothing()
    {
        OutlineWear wear = OutlineWear.Between(Lying(0, 0.1, 250, true), Lying(0.8, 0.2, 250, false), out _)!;

        Assert.All(wear.LostMm.Where(p => p.X is > 10 and < 230), p => Assert.Equal(0.8, p.Y, 0.02));
    }

    [Fact]
    public void A_much_longer_handle_is_refused_in_words()
    {
        Assert.Null(OutlineWear.Between(Lying(0, 0, 250, false), Lying(0, 0, 250, false, handleMm: 260), out Reason? why));

        Assert.Equal("outlines-differ", why!.Code);
    }

    [Fact]
    public void A_typed_outline_says_what_to_do()
    {
        OutlineTaken typed = new() { LengthMm = 240, HappenedAt = DateTime.UnixEpoch, EnteredAt = DateTime.UnixEpoch };

        Assert.Null(OutlineWear.Between(typed, Lying(0, 0, 250, false), out Reason? why));

        Assert.Equal("outline-not-traced", why!.Code);
    }

    private static OutlineTaken Lying(double wornMm, double slantRad, double shiftMm, bool mirrored, double handleMm = 118)
    {
        Point2[] edge = [.. Enumerable.Range(0, 121).Select(i => new Point2(2.0 * i, (12 * Math.Sin(Math.PI * i / 120)) - wornMm))];
        Point2[] back = [new(240, -wornMm), new(180, -30), new(60, -38), new(-2, -38), new(-6, -30), new(-handleMm + 8, -34), new(-handleMm, -22), new(-handleMm + 8, -8), new(-4, -10)];
        (double c, double s) = (Math.Cos(slantRad), Math.Sin(slantRad));
        Point2 OnMat(Point2 p) => new(shiftMm + (c * p.X) - (s * p.Y), (mirrored ? -1 : 1) * (200 + (s * p.X) + (c * p.Y)));
        string json = JsonResults.Document(to => new TraceResult
        {
            Refused = false,
            Reasons = [],
            EdgeMm = [.. edge.Select(p => new Point2(p.X, p.Y + wornMm))],
            OutlineOnMatMm = [.. edge.Concat(back).Select(OnMat)],
            HeelOnMatMm = OnMat(edge[0]),
            TipOnMatMm = OnMat(edge[^1]),
            UMm = 0.08,
        }.Write(to));
        return new() { ResultJson = json, HappenedAt = DateTime.UnixEpoch, EnteredAt = DateTime.UnixEpoch };
    }
}
