using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

public sealed class Reading_any_other_scale
{
    [Fact]
    public void A_flat_scale_seen_at_a_slant_is_read_between_its_graduations()
    {
        GraduatedScale scale = GraduatedScale.Fit([.. new[] { -20.0, -15, -10, -5, 0, 5, 10, 15, 20 }.Select(d => new Graduation(Flat(d), d))]);
        Assert.False(scale.IsCurved);
        foreach (double d in new[] { -17.5, -7, 2.5, 14 })
            Assert.InRange(scale.Read(Flat(d)).Degrees!.Value, d - 0.15, d + 0.15);
    }

    [Fact]
    public void A_curved_scale_is_read_along_its_circle()
    {
        GraduatedScale scale = GraduatedScale.Fit([.. new[] { 0.0, 10, 20, 30 }.Select(d => new Graduation(Curved(d), d))]);
        Assert.True(scale.IsCurved);
        Assert.InRange(scale.Read(Curved(16)).Degrees!.Value, 15.95, 16.05);
        Assert.InRange(Math.Abs(scale.Read(Curved(16)).OffPx), 0, 0.5);
    }

    [Fact]
    public void Three_graduations_or_swapped_ones_are_refused_by_name()
    {
        Assert.Contains("at least 4", Assert.Throws<ArgumentException>(() => GraduatedScale.Fit([new(new(0, 0), 0), new(new(100, 0), 5), new(new(200, 0), 10)])).Message, StringComparison.Ordinal);
        Assert.Contains("which is which", Assert.Throws<ArgumentException>(() => GraduatedScale.Fit([new(new(0, 0), 0), new(new(200, 0), 5), new(new(100, 0), 10), new(new(300, 0), 15)])).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Marks_on_a_scale_without_fiducials_are_found_and_read()
    {
        using Mat photo = new(900, 1400, MatType.CV_8UC3, new Scalar(120, 120, 120));
        foreach (double d in new[] { -12.0, 15.5 })
        {
            Point2 at = Flat(d);
            Cv2.Ellipse(photo, new Point((int)Math.Round(at.X), (int)Math.Round(at.Y)), new Size(4, 14), 0, 0, 360, new Scalar(130, 235, 130), -1, LineTypes.AntiAlias);
        }

        Cv2.GaussianBlur(photo, photo, new Size(0, 0), 2);
        using Picture picture = Picture.Decode(photo.ImEncode(".png"));
        GraduatedScale scale = GraduatedScale.Fit([.. new[] { -20.0, -15, -10, -5, 0, 5, 10, 15, 20 }.Select(d => new Graduation(Flat(d), d))]);
        IReadOnlyList<ScaleMark> marks = ScaleReader.Read(picture, scale, LaserColour.Green);
        Assert.Equal(2, marks.Count);
        Assert.InRange(marks[0].OnScale.Value.Degrees, -12.3, -11.7);
        Assert.InRange(marks[1].OnScale.Value.Degrees, 15.2, 15.8);
    }

    private static Point2 Flat(double degrees)
    {
        double x = Math.Tan(2 * double.DegreesToRadians(degrees));
        double w = 1 + (0.15 * x);
        return new(700 + (560 * x / w), 450 + (30 * x / w));
    }

    private static Point2 Curved(double degrees)
    {
        double angle = double.DegreesToRadians(-120 + (2 * degrees));
        return new(700 + (500 * Math.Cos(angle)), 800 + (500 * Math.Sin(angle)));
    }
}
