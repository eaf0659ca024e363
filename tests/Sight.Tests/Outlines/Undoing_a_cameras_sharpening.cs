using OpenCvSharp;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Cameras sharpen their pictures (unsharp masking: v + a·(v − v∗G), as image processing textbooks have it; formula from memory). On the fiducials' borders it is measured, and undone.</summary>
public sealed class Undoing_a_cameras_sharpening
{
    [Theory]
    [InlineData(0.3, 1.3, 0.8)]
    [InlineData(1.2, 1.0, 0.8)]
    [InlineData(0.6, 2.0, 1.2)]
    public void Amount_and_radius_are_read_from_the_profile_of_a_border(double amount, double radiusPx, double blurPx)
    {
        CameraSharpening drawn = new(amount, radiusPx, true, blurPx, 0);
        double wide = Math.Sqrt((blurPx * blurPx) + (radiusPx * radiusPx));
        double[] profile = [.. Enumerable.Range(0, 49).Select(BorderProfile.AtPx).Select(x => ((1 + amount) * BlurredStep.Phi(x / blurPx)) - (amount * BlurredStep.Phi(x / wide)))];
        CameraSharpening found = CameraSharpening.Fit(profile, true);
        Assert.Equal(amount, found.Amount, 0.1 * amount);
        Assert.Equal(radiusPx, found.RadiusPx, 0.1 * radiusPx);
        Assert.Equal(drawn.LineShare, found.LineShare, 0.002);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Whether_codes_or_light_were_sharpened_is_told_by_the_lines_on_both_sides(bool codes)
    {
        using Picture plain = Plain();
        using Picture sharpened = Sharpened(plain, 1.5, 1.3, codes);
        Assert.Equal(codes, Assert.NotNull(CameraSharpening.Of(sharpened, Sheet(sharpened))).OfCodes);
    }

    [Theory]
    [InlineData(0.5, 1.3, true)]
    [InlineData(1.2, 1.0, true)]
    [InlineData(0.5, 1.3, false)]
    public void Undone_the_photo_is_as_it_was(double amount, double radiusPx, bool codes)
    {
        using Picture plain = Plain();
        using Picture sharpened = Sharpened(plain, amount, radiusPx, codes);
        using Picture undone = new CameraSharpening(amount, radiusPx, codes, 0.9, 0).Undone(sharpened);
        Assert.True(Off(plain, undone) < 0.5, $"{Off(plain, undone):0.00} codes left of {Off(plain, sharpened):0.00}");
    }

    [Theory]
    [InlineData(1.5, 1.3, true)]
    [InlineData(2.0, 1.0, true)]
    [InlineData(1.5, 1.3, false)]
    public void As_it_was_measured_the_bright_lines_are_gone(double amount, double radiusPx, bool codes)
    {
        using Picture plain = Plain();
        using Picture sharpened = Sharpened(plain, amount, radiusPx, codes);
        using Picture? undone = CameraSharpening.Undone(sharpened, Sheet(sharpened));
        Assert.NotNull(undone);
        Assert.True(Overshoot(sharpened, Sheet(sharpened)) > 0.02, $"{Overshoot(sharpened, Sheet(sharpened)):0.000} before");
        Assert.True(Overshoot(undone, Sheet(sharpened)) < 0.4 * Overshoot(sharpened, Sheet(sharpened)), $"{Overshoot(undone, Sheet(sharpened)):0.000} left");
    }

    [Fact]
    public void Bands_of_rows_that_are_undone_one_after_another_show_no_seams()
    {
        using Picture plain = Plain();
        using Picture sharpened = Sharpened(plain, 1.2, 1.5, true);
        using Picture undone = new CameraSharpening(1.2, 1.5, true, 0.9, 0).Undone(sharpened);
        Assert.True(Off(plain, undone, 240, 272) < 1, $"{Off(plain, undone, 240, 272):0.00} codes off where bands meet");
    }

    [Fact]
    public void A_photo_that_was_not_sharpened_is_left_alone()
    {
        using Picture plain = Plain();
        Assert.Null(CameraSharpening.Of(plain, Sheet(plain)));
    }

    [Fact]
    public void Borders_too_small_in_the_photo_to_show_their_tones_tell_nothing()
    {
        using Picture plain = Plain();
        using Mat small = new();
        Cv2.Resize(plain.Bgr, small, new(plain.WidthPx / 4, plain.HeightPx / 4), 0, 0, InterpolationFlags.Area);
        using Picture photo = Picture.Own(small.Clone());
        Assert.Null(CameraSharpening.Of(photo, Sheet(photo)));
    }

    // Photographs rendered independently of the project, of known truth (they lie beside the repository); that they are sharpened, and how, nobody told.
    [Theory]
    [InlineData("easy_103", 0.05)]
    [InlineData("normal_205", 0.02)]
    public void Bright_lines_beside_the_borders_of_a_photograph_are_gone(string name, double atLeast)
    {
        SharedMat shared = SharedMat.Open(name);
        using Picture photo = Picture.Read(Path.Combine(shared.Folder, "photo.jpg"));
        FoundSheet sheet = shared.Sheet(photo);
        using Picture? undone = CameraSharpening.Undone(photo, sheet);
        Assert.NotNull(undone);
        Assert.True(Overshoot(photo, sheet) > atLeast, $"{Overshoot(photo, sheet):0.000} before");
        Assert.True(Overshoot(undone, sheet) < 0.01, $"{Overshoot(undone, sheet):0.000} left");
    }

    private static Picture Plain() => DrawnBlade.Photo(true, [], 0, 0.3, false, 0);

    private static FoundSheet Sheet(Picture photo) => SheetFinder.Find(photo, OutlineView.Printed(DrawnBlade.Mat)).Sheet!;

    private static double Overshoot(Picture photo, FoundSheet sheet)
    {
        photo.Bgr.GetArray(out Vec3b[] pixels);
        return BorderProfile.Of(pixels, photo.WidthPx, photo.HeightPx, sheet, true)!.Max() - 1;
    }

    private static Picture Sharpened(Picture plain, double amount, double radiusPx, bool codes)
    {
        using Mat v = new();
        plain.Bgr.ConvertTo(v, MatType.CV_32FC3, 1 / 255.0);
        if (!codes)
            Each(v, SrgbCurve.ToLight);
        using Mat smooth = new();
        Cv2.GaussianBlur(v, smooth, new(0, 0), radiusPx);
        Cv2.AddWeighted(v, 1 + amount, smooth, -amount, 0, v);
        if (!codes)
            Each(v, x => SrgbCurve.ToCode(Math.Max(0, x)));
        Mat bgr = new();
        v.ConvertTo(bgr, MatType.CV_8UC3, 255);
        return Picture.Own(bgr);
    }

    private static void Each(Mat mat, Func<double, double> curve)
    {
        Span<Vec3f> at = mat.AsSpan<Vec3f>();
        for (int i = 0; i < at.Length; i++)
            at[i] = new((float)curve(at[i].Item0), (float)curve(at[i].Item1), (float)curve(at[i].Item2));
    }

    // Root mean square difference of rows, codes.
    private static double Off(Picture a, Picture b, int fromRow = 0, int toRow = int.MaxValue)
    {
        using Mat off = new();
        using Mat first = a.Bgr.RowRange(fromRow, Math.Min(toRow, a.HeightPx));
        using Mat second = b.Bgr.RowRange(fromRow, Math.Min(toRow, b.HeightPx));
        Cv2.Absdiff(first, second, off);
        off.ConvertTo(off, MatType.CV_32FC3);
        return Cv2.Norm(off, NormTypes.L2) / Math.Sqrt(off.Total() * 3);
    }
}
