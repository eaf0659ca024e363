using System.Text;
using OpenCvSharp;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests;

public sealed class Foreign_and_damaged_files
{
    [Theory]
    [InlineData("picture-text", "just some words, whatever the name says")]
    [InlineData("picture-svg", "<svg xmlns='http://www.w3.org/2000/svg'/>")]
    [InlineData("picture-gif", "GIF89a............")]
    [InlineData("picture-webp", "RIFF\0\0\0\0WEBPVP8 ")]
    [InlineData("picture-heic", "\0\0\0\u0018ftypheic\0\0\0\0")]
    [InlineData("picture-pdf", "%PDF-1.7 something")]
    [InlineData("picture-empty", "")]
    public void Are_refused_by_what_they_are_and_say_what_to_do(string code, string content)
    {
        byte[] bytes = Encoding.Latin1.GetBytes(content);
        PictureRefusedException refused = Assert.Throws<PictureRefusedException>(() => Picture.Decode(bytes).Dispose());
        Assert.Equal(code, refused.Reason.Code);
        Assert.EndsWith(".", refused.Reason.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_header_that_claims_more_pixels_than_are_allowed_is_refused_before_decoding()
    {
        byte[] png = Png(8, 8);
        png[18] = 0x4E;
        png[19] = 0x20;
        png[22] = 0x4E;
        png[23] = 0x20;
        PictureRefusedException refused = Assert.Throws<PictureRefusedException>(() => Picture.Decode(png).Dispose());
        Assert.Equal("picture-too-large", refused.Reason.Code);
        Assert.Contains("20000", refused.Reason.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_photo_cut_anywhere_is_refused_or_said_to_be_truncated()
    {
        byte[] jpeg = Jpeg(200, 150);
        for (int length = 1; length < jpeg.Length - 2; length += 97)
        {
            PictureRefusedException refused = Assert.Throws<PictureRefusedException>(() => Picture.Decode(jpeg.AsSpan(0, length)).Dispose());
            Assert.StartsWith("picture-", refused.Reason.Code, StringComparison.Ordinal);
        }

        byte[] png = Png(200, 150);
        for (int length = 1; length < png.Length - 4; length += 97)
            Assert.Throws<PictureRefusedException>(() => Picture.Decode(png.AsSpan(0, length)).Dispose());
    }

    [Fact]
    public void Random_damage_never_ends_in_anything_but_a_picture_or_a_reason()
    {
        var random = new Random(20);
        byte[] jpeg = Jpeg(120, 90);
        for (int trial = 0; trial < 60; trial++)
        {
            byte[] damaged = (byte[])jpeg.Clone();
            for (int k = 0; k < 5; k++)
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            string ended;
            try
            {
                using Picture picture = Picture.Decode(damaged);
                ended = (long)picture.WidthPx * picture.HeightPx <= 60_000_000 ? "picture" : "too large";
            }
            catch (PictureRefusedException e)
            {
                ended = e.Reason.Code.StartsWith("picture-", StringComparison.Ordinal) ? "picture" : e.Reason.Code;
            }

            Assert.Equal("picture", ended);
        }
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(40, 3)]
    [InlineData(640, 480)]
    public void A_photo_without_a_sheet_says_how_many_fiducials_it_lacks(int width, int height)
    {
        using Picture picture = Picture.Decode(Png(width, height));
        SheetSearch search = SheetFinder.Find(picture, DrawnTarget.Sheet.Fiducials);
        Assert.Null(search.Sheet);
        Assert.Equal("too-few-fiducials", search.Reason!.Code);
    }

    [Fact]
    public void A_mirrored_print_is_named_as_such()
    {
        using Picture picture = DrawnTarget.Photo(mirrored: true);
        Assert.Equal("mirrored", SheetFinder.Find(picture, DrawnTarget.Sheet.Fiducials).Reason!.Code);
    }

    [Fact]
    public void Two_sheets_in_one_photo_are_refused()
    {
        using Picture picture = DrawnTarget.Photo(twice: true);
        Assert.Equal("two-sheets", SheetFinder.Find(picture, DrawnTarget.Sheet.Fiducials).Reason!.Code);
    }

    private static byte[] Jpeg(int width, int height) => Noise(width, height, ".jpg");

    private static byte[] Png(int width, int height) => Noise(width, height, ".png");

    private static byte[] Noise(int width, int height, string kind)
    {
        byte[] pixels = new byte[width * height * 3];
        new Random(7).NextBytes(pixels);
        using Mat mat = Mat.FromPixelData(height, width, MatType.CV_8UC3, pixels);
        return mat.ImEncode(kind);
    }
}
