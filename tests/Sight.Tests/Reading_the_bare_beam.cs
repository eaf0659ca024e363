using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

/// <summary>Spots drawn into a picture of the target at known places: what the zero photo must give back.</summary>
public sealed class Reading_the_bare_beam
{
    [Theory]
    [InlineData(0.0, 0.0)]
    [InlineData(1.7, -0.8)]
    [InlineData(-6.2, 3.1)]
    public void A_spot_is_found_where_it_was_drawn(double x, double y)
    {
        using Picture photo = WithSpots(new Point2(x, y));

        BareBeamReading reading = BareBeam.Read(photo, DrawnTarget.Sheet, LaserColour.Green);

        Assert.Null(reading.Reason);
        Assert.InRange(reading.OffZeroMm!.Value.X - x, -0.15, 0.15);
        Assert.InRange(reading.OffZeroMm.Value.Y - y, -0.3, 0.3);
        Assert.InRange(reading.UMm, 0.01, 0.5);
    }

    [Fact]
    public void The_colour_need_not_be_told()
    {
        using Picture photo = WithSpots(new Point2(2, 0));

        Assert.InRange(BareBeam.Read(photo, DrawnTarget.Sheet).OffZeroMm!.Value.X, 1.85, 2.15);
    }

    [Fact]
    public void Two_lights_no_light_and_a_light_far_off_are_refused_each_for_its_reason()
    {
        using Picture two = WithSpots(new Point2(0, 0), new Point2(30, 0));
        using Picture none = WithSpots();
        using Picture far = WithSpots(new Point2(60, 0));

        Assert.Equal("several-marks", BareBeam.Read(two, DrawnTarget.Sheet, LaserColour.Green).Reason!.Code);
        Assert.Equal("no-marks", BareBeam.Read(none, DrawnTarget.Sheet, LaserColour.Green).Reason!.Code);
        Assert.Equal("beam-off-zero", BareBeam.Read(far, DrawnTarget.Sheet, LaserColour.Green).Reason!.Code);
    }

    private static Picture WithSpots(params Point2[] offZeroMm)
    {
        using Picture plain = DrawnTarget.Photo();
        using Mat photo = plain.Bgr.Clone();
        photo.ConvertTo(photo, MatType.CV_8UC3, 0.35, 0);
        foreach (Point2 off in offZeroMm)
        {
            Point2 at = DrawnTarget.TruePx(new(DrawnTarget.Sheet.ZeroMm.X + off.X, DrawnTarget.Sheet.ZeroMm.Y + off.Y));
            double px = DrawnTarget.TruePx(new(DrawnTarget.Sheet.ZeroMm.X + 1, DrawnTarget.Sheet.ZeroMm.Y)).DistanceTo(DrawnTarget.TruePx(DrawnTarget.Sheet.ZeroMm));
            Glow(photo, at, px);
        }

        // A grain of noise, seeded, so that the noise is not nothing.
        using Mat grain = new(photo.Size(), MatType.CV_8UC3);
        byte[] bytes = new byte[photo.Width * photo.Height * 3];
        new Random(5).NextBytes(bytes);
        for (int i = 0; i < bytes.Length; i++)
            bytes[i] = (byte)(bytes[i] % 4);
        System.Runtime.InteropServices.Marshal.Copy(bytes, 0, grain.Data, bytes.Length);
        Cv2.Add(photo, grain, photo);
        return Picture.Decode(photo.ImEncode(".png"));
    }

    private static void Glow(Mat photo, Point2 at, double sdPx)
    {
        int reach = (int)(4 * sdPx), bottom = Math.Min(photo.Height - 1, (int)at.Y + reach), right = Math.Min(photo.Width - 1, (int)at.X + reach);
        for (int y = Math.Max(0, (int)at.Y - reach); y <= bottom; y++)
        {
            for (int x = Math.Max(0, (int)at.X - reach); x <= right; x++)
            {
                double more = 220 * Math.Exp(-0.5 * (((x - at.X) * (x - at.X)) + ((y - at.Y) * (y - at.Y))) / (sdPx * sdPx));
                Vec3b c = photo.At<Vec3b>(y, x);
                photo.Set(y, x, new Vec3b(c.Item0, (byte)Math.Min(255, c.Item1 + more), c.Item2));
            }
        }
    }
}
