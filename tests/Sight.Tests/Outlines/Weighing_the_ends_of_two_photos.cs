using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class Weighing_the_ends_of_two_photos
{
    [Fact]
    public void Ends_known_alike_meet_in_the_middle_and_are_known_better()
    {
        (double by, double u) = EndsOfTwo.Weigh(0.4, 0.3, 0.3);

        Assert.Equal(0.2, by, 1e-12);
        Assert.Equal(0.3 / Math.Sqrt(2), u, 1e-12);
    }

    [Fact]
    public void The_better_known_end_counts_more()
    {
        // Inverse squares: 1/0.1² to 1/0.3² is nine to one.
        Assert.Equal(0.04, EndsOfTwo.Weigh(0.4, 0.1, 0.3).OutwardMm, 1e-12);
        Assert.Equal(0.36, EndsOfTwo.Weigh(0.4, 0.3, 0.1).OutwardMm, 1e-12);
    }

    [Fact]
    public void Photos_that_disagree_by_more_than_they_know_leave_their_disagreement_as_doubt()
    {
        (double by, double u) = EndsOfTwo.Weigh(-1.2, 0.1, 0.1);

        Assert.Equal(-0.6, by, 1e-12);
        Assert.Equal(0.6, u, 1e-12);
    }

    [Fact]
    public void Ends_far_apart_are_not_one_end_and_the_first_photos_stays_in_doubt()
    {
        (double by, double u) = EndsOfTwo.Weigh(5, 0.2, 0.2);

        Assert.Equal(0, by);
        Assert.Equal(2.5, u, 1e-12);
    }

    [Theory]
    [InlineData(0.7, 0.3)]
    [InlineData(-0.7, 0.3)]
    [InlineData(0.4, -0.9)]
    public void A_moved_end_lengthens_or_shortens_the_line_along_itself(double heelMm, double tipMm)
    {
        // A gentle arc of radius 500 mm, 100 mm long.
        Point2[] line = [.. Enumerable.Range(0, 1001).Select(i => new Point2(500 * Math.Sin(i * 0.1 / 500), 500 * (1 - Math.Cos(i * 0.1 / 500))))];

        Point2[] moved = EndsOfTwo.Moved(line, heelMm, tipMm);

        Assert.Equal(-heelMm, moved[0].X, 0.002);
        Assert.Equal(100 + heelMm + tipMm, Length(moved), 0.005);
        Assert.All(moved, p => Assert.Equal(500, p.DistanceTo(new(0, 500)), 0.005));
        Assert.All(moved.Zip(moved.Skip(1)), pair => Assert.Equal(0.1, pair.First.DistanceTo(pair.Second), 0.002));
    }

    private static double Length(Point2[] line) => line.Zip(line.Skip(1)).Sum(pair => pair.First.DistanceTo(pair.Second));
}
