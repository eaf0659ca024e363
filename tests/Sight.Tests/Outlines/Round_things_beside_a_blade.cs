using OpenCvSharp;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Coins beside, and in touch with, a blade 40 mm high; cells of 0.4 mm.</summary>
public sealed class Round_things_beside_a_blade
{
    [Theory]
    [InlineData(160)] // apart
    [InlineData(142)] // its rim touches
    [InlineData(138)] // its shadow and the blade's have run into one another
    public void A_coin_is_told_from_the_blade_whose_shadow_it_touches(int row)
    {
        using Mat things = Blade();
        Cv2.Circle(things, new Point(200, row + 20), 24, Scalar.All(255), -1);

        (Point centre, int radius) = Assert.Single(RoundThings.TakeOff(things));

        Assert.InRange(centre.DistanceTo(new Point(200, row + 20)), 0, 2);
        Assert.InRange(radius, 22, 26);
        Assert.Equal(0, things.At<byte>(row + 20, 200));
        Assert.Equal(255, things.At<byte>(100, 200));
    }

    [Fact]
    public void It_is_put_back_as_a_thing_of_its_own()
    {
        using Mat things = Blade();
        Cv2.Circle(things, new Point(200, 162), 24, Scalar.All(255), -1);

        RoundThings.PutBack(things, RoundThings.TakeOff(things));

        using Mat labels = new();
        Assert.Equal(3, Cv2.ConnectedComponents(things, labels)); // the blade, the coin and the mat
        Assert.Equal(255, things.At<byte>(162, 200));
    }

    [Fact]
    public void A_round_spot_that_steel_mirrors_stays_the_blades()
    {
        // All that was seen of the steel at first is a dark spot; the rest was filled later.
        using Mat things = new(300, 640, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Circle(things, new Point(200, 90), 24, Scalar.All(255), -1);
        var round = RoundThings.TakeOff(things);
        Assert.Single(round);
        using Mat blade = Blade();
        Cv2.BitwiseOr(things, blade, things);
        Cv2.Circle(things, new Point(200, 90), 27, Scalar.All(0), -1);

        RoundThings.PutBack(things, round);

        using Mat off = new();
        Cv2.Absdiff(things, blade, off);
        Assert.Equal(0, Cv2.CountNonZero(off));
    }

    [Fact]
    public void A_handle_with_a_round_end_is_none()
    {
        using Mat things = Blade();
        Cv2.Rectangle(things, new Rect(300, 70, 200, 50), Scalar.All(255), -1);
        Cv2.Circle(things, new Point(500, 95), 25, Scalar.All(255), -1);

        Assert.Empty(RoundThings.Find(things));
    }

    [Fact]
    public void Neither_is_a_square_nor_a_blades_point()
    {
        using Mat things = new(300, 640, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(40, 40, 50, 50), Scalar.All(255), -1);
        Cv2.FillConvexPoly(things, [new Point(150, 100), new Point(400, 100), new Point(550, 150), new Point(150, 160)], Scalar.All(255));

        Assert.Empty(RoundThings.Find(things));
    }

    // Columns 60 to 360, rows 40 to 139.
    private static Mat Blade()
    {
        var things = new Mat(300, 640, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(60, 40, 301, 100), Scalar.All(255), -1);
        return things;
    }
}
