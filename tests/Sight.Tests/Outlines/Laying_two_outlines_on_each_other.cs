using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class Laying_two_outlines_on_each_other
{
    [Fact]
    public void The_same_blade_has_lost_nothing()
    {
        OutlineShape blade = Blade(180, 45);
        OutlineOverlay overlay = OutlineOverlay.Of(blade, blade);
        Assert.All(overlay.Lost, l => Assert.Equal(0, l.LostMm, 1e-6));
        Assert.Equal(0, overlay.SpineMisfitMm, 1e-6);
    }

    [Fact]
    public void Height_ground_off_is_found_again_station_by_station()
    {
        OutlineOverlay overlay = OutlineOverlay.Of(Blade(180, 45), Blade(180, 45, lost: 1.2));
        Assert.NotEmpty(overlay.Lost);
        Assert.All(overlay.Lost.Where(l => l.AtMm is > 10 and < 150), l => Assert.Equal(1.2, l.LostMm, 0.1));
    }

    [Fact]
    public void A_later_blade_frame_that_is_turned_by_a_lower_heel_is_turned_back()
    {
        // The chord turns when more is taken at the heel: the spine tells it.
        OutlineShape before = Blade(180, 45);
        OutlineShape after = Blade(180, 45, lost: 1.0, turnDeg: 0.8);
        OutlineOverlay overlay = OutlineOverlay.Of(before, after);
        Assert.InRange(Math.Abs(double.RadiansToDegrees(overlay.TurnRad)), 0.7, 0.9);
        Assert.All(overlay.Lost.Where(l => l.AtMm is > 10 and < 150), l => Assert.Equal(1.0, l.LostMm, 0.12));
    }

    [Fact]
    public void An_outline_without_a_spine_is_refused_by_name()
    {
        OutlineShape blade = Blade(180, 45);
        ArgumentException refused = Assert.Throws<ArgumentException>(() => OutlineOverlay.Of(blade, blade with { BladeOutlineMm = blade.EdgeMm }));
        Assert.Equal("later", refused.ParamName);
    }

    [Fact]
    public void A_piece_is_recognised_among_many_after_a_sharpening()
    {
        var book = new Dictionary<string, OutlineShape>(StringComparer.Ordinal);
        var random = new Random(7);
        for (int i = 0; i < 30; i++)
            book[$"piece-{i}"] = Blade(140 + (100 * random.NextDouble()), 28 + (25 * random.NextDouble()), belly: 3 + (5 * random.NextDouble()));
        book["ours"] = Blade(180, 45);
        (IReadOnlyList<PieceMatch> matches, double stranger) = OutlineBook.Recognise(Blade(180, 45, lost: 0.8), book);
        Assert.Equal("ours", matches[0].Id);
        Assert.True(matches[0].Probability > 0.9, $"{matches[0].Probability}");
        Assert.Equal(1, stranger + matches.Sum(m => m.Probability), 1e-9);
    }

    [Fact]
    public void A_blade_that_is_not_in_the_book_is_most_likely_a_stranger()
    {
        var book = new Dictionary<string, OutlineShape>(StringComparer.Ordinal) { ["long"] = Blade(240, 50), ["short"] = Blade(120, 28) };
        (_, double stranger) = OutlineBook.Recognise(Blade(180, 45), book);
        Assert.True(stranger > 0.9);
    }

    [Fact]
    public void A_refused_tracing_has_no_shape() =>
        Assert.Throws<ArgumentException>(() => OutlineShape.Of(new TracedOutline { Outcome = TraceOutcome.Refused, Reasons = [] }));

    /// <summary>A blade with a belly toward the tip and a spine that drops toward it; the frame as convention has it, or turned about the heel.</summary>
    private static OutlineShape Blade(double length, double height, double lost = 0, double belly = 4, double turnDeg = 0)
    {
        double Edge(double x) => (belly * Math.Sin(Math.PI * x / length)) - lost;
        double Spine(double x) => -height * (1 - Math.Pow(x / length, 6));
        var edge = new List<Point2>();
        for (double x = 0; x <= length; x += 0.5)
            edge.Add(new(x, Edge(x)));
        var outline = new List<Point2>(edge);
        for (double x = length; x >= 0; x -= 0.5)
            outline.Add(new(x, Math.Min(Spine(x), Edge(x))));
        double t = double.DegreesToRadians(turnDeg);
        Point2 Turned(Point2 p) => new((Math.Cos(t) * p.X) - (Math.Sin(t) * p.Y), (Math.Sin(t) * p.X) + (Math.Cos(t) * p.Y));
        return new([.. edge.Select(Turned)], [.. outline.Select(Turned)], 0.1);
    }
}
