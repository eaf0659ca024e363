using Whetwright.Records.Photos;

namespace Whetwright.Records.Tests;

/// <summary>A photo is a picture and nothing else: what a phone hangs on behind it is cut off, what is another file at once is refused.</summary>
public sealed class Refusing_what_rides_along
{
    private static readonly byte[] Jpeg = TestPictures.Jpeg(40, 30), Png = TestPictures.Png(40, 30);

    private static int? End(byte[] bytes) => PhotoEnd.Check(bytes, PhotoHeader.Read(bytes)!);

    [Fact]
    public void A_plain_picture_ends_where_its_file_ends()
    {
        Assert.Equal(Jpeg.Length, End(Jpeg));
        Assert.Equal(Png.Length, End(Png));
    }

    [Fact]
    public void What_a_phone_writes_behind_the_picture_is_cut_off()
    {
        byte[] moving = [0, 0, 0, 0x18, .. "ftypmp42"u8, 1, 2, 3];

        Assert.Equal(Jpeg.Length, End([.. Jpeg, .. moving]));
        Assert.Equal(Jpeg.Length, End([.. Jpeg, .. TestPictures.Jpeg(8, 8)]));
        Assert.Equal(Png.Length, End([.. Png, .. moving]));
    }

    [Theory]
    [InlineData("PK\u0003\u0004")]
    [InlineData("%PDF-1.7")]
    [InlineData("\u007fELF")]
    [InlineData("#!/bin/sh")]
    [InlineData("MZ")]
    [InlineData("\n<HTML><script>alert(1)</script>")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'/>")]
    public void A_picture_that_is_something_else_too_is_refused(string behind)
    {
        byte[] other = [.. behind.Select(c => (byte)c)];

        Assert.Null(End([.. Jpeg, .. other]));
        Assert.Null(End([.. Png, .. other]));
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("%PDF-1.7 1 0 obj")]
    public void A_comment_that_is_a_page_or_a_document_is_refused(string comment) =>
        Assert.Null(End(TestPictures.Jpeg(40, 30, TestPictures.Segment(0xFE, [.. comment.Select(c => (byte)c)]))));

    [Fact]
    public void A_picture_that_breaks_off_or_moves_is_refused()
    {
        Assert.Null(End(Jpeg[..^2]));
        Assert.Null(End(Png[..^6]));
        byte[] moves = [.. Png[..33], 0, 0, 0, 8, .. "acTL"u8, 0, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0, .. Png[33..]]; // 33: signature and IHDR
        Assert.Null(End(moves));
    }
}
