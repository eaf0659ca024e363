using System.Buffers.Binary;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Photos;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Tests;

public sealed class Keeping_photos : BookTest
{
    [Fact]
    public async Task A_photo_lies_under_the_hash_of_its_bytes_and_comes_back_the_same()
    {
        Photo photo = await Put(TestPictures.Jpeg(640, 480));
        using MemoryStream back = new();
        await using (Stream stream = Get<IPhotoStore>().Open(photo.Hash)!)
            await stream.CopyToAsync(back);

        Assert.Equal(photo.Hash, Convert.ToHexStringLower(SHA256.HashData(back.ToArray())));
        Assert.Equal(("image/jpeg", 640, 480, back.Length), (photo.ContentType, photo.WidthPx, photo.HeightPx, photo.Bytes));
        Assert.True(File.Exists(Path.Combine(Store.Folder, "photos", photo.Hash[..2], photo.Hash[2..])));
    }

    [Fact]
    public async Task The_same_photo_twice_lies_there_once()
    {
        Photo first = await Put(TestPictures.Png(10, 20)), second = await Put(TestPictures.Png(10, 20));
        Assert.NotEqual(first.Id, second.Id);
        Assert.Equal(first.Hash, Assert.Single(Get<IPhotoStore>().List()));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Where_it_was_taken_is_gone_and_what_the_bench_needs_is_kept(bool bigEndian)
    {
        byte[] photo = TestPictures.Jpeg(640, 480, TestPictures.Exif(bigEndian));
        Assert.True(photo.AsSpan().IndexOf("PLACE"u8) >= 0);
        byte[] kept = await Kept(photo);

        Assert.True(kept.AsSpan().IndexOf("PLACE"u8) < 0);
        Dictionary<int, uint> tags = TestPictures.ReadExif(kept);
        Assert.Equal(6u, tags[0x0112]); // orientation
        Assert.Equal(26u, tags[0xA405]); // focal length as on 35 mm film
        Assert.True(tags.ContainsKey(0x920A));
        Assert.DoesNotContain(0x8825, tags.Keys); // GPS
        Assert.DoesNotContain(0x927C, tags.Keys); // maker's note
    }

    [Fact]
    public async Task Notes_behind_and_between_the_picture_go_and_the_picture_stays_byte_for_byte()
    {
        byte[] plain = TestPictures.Jpeg(64, 48);
        byte[] xmp = TestPictures.Segment(0xE1, "http://ns.adobe.com/xap/1.0/\0PLACE"u8);
        byte[] comment = TestPictures.Segment(0xFE, "PLACE"u8);
        Assert.Equal(plain, await Kept([.. plain[..2], .. xmp, .. comment, .. plain[2..], .. "PLACE behind the end"u8]));
    }

    [Fact]
    public async Task Text_in_a_PNG_goes_and_the_rest_stays()
    {
        byte[] plain = TestPictures.Png(10, 20);
        Assert.Equal(plain, await Kept([.. plain[..33], .. TestPictures.Chunk("tEXt", "Comment\0PLACE"u8), .. TestPictures.Chunk("eXIf", "PLACE"u8), .. plain[33..]]));
    }

    [Theory]
    [InlineData("GIF89a")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'/>")]
    [InlineData("")]
    [InlineData("\u00ff\u00d8\u00ff")]
    public async Task What_is_no_JPEG_or_PNG_by_its_content_is_refused(string content)
    {
        FieldProblem problem = Assert.Single(await Refused(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(System.Text.Encoding.Latin1.GetBytes(content)), new PhotoForm(PhotoSubject.Piece))));
        Assert.Contains("JPEG or PNG", problem.Right, StringComparison.Ordinal);
        Assert.Empty(Get<IPhotoStore>().List());
    }

    [Fact]
    public async Task A_picture_of_too_many_pixels_is_refused_by_its_header()
    {
        FieldProblem problem = Assert.Single(await Refused(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Png(60000, 60000)), new PhotoForm(PhotoSubject.Piece))));
        Assert.Equal("60,000 × 60,000 pixels", problem.Value);
    }

    [Fact]
    public async Task Too_many_bytes_are_refused_without_reading_them_all()
    {
        await using EndlessStream endless = new();
        await Refused(db => Get<IPhotoStore>().PutAsync(db, endless, new PhotoForm(PhotoSubject.Piece)));
        Assert.InRange(endless.Given, 1, new PhotoBounds().Bytes + 1_000_000);
    }

    [Fact]
    public async Task Bytes_without_a_row_are_cleaned_up_and_others_are_not()
    {
        Photo photo = await Put(TestPictures.Png(1, 2));
        await Assert.ThrowsAsync<InvalidOperationException>(() => Writer.WriteAsync<Photo>(async db =>
        {
            await Get<IPhotoStore>().PutAsync(db, new MemoryStream(TestPictures.Png(3, 4)), new PhotoForm(PhotoSubject.Piece));
            throw new InvalidOperationException("given up after the bytes were there");
        }));

        Assert.Equal(2, Get<IPhotoStore>().List().Count());
        Assert.Equal(0, await Get<IPhotoStore>().DeleteOrphansAsync(TimeSpan.FromHours(1)));
        Assert.Equal(1, await Get<IPhotoStore>().DeleteOrphansAsync(TimeSpan.FromSeconds(-5)));
        Assert.Equal(photo.Hash, Assert.Single(Get<IPhotoStore>().List()));
    }

    [Theory]
    [InlineData("../../book.db")]
    [InlineData("ABCDEF0123456789abcdef0123456789abcdef0123456789abcdef0123456789")]
    public void A_name_that_is_no_hash_opens_nothing(string name) => Assert.Null(Get<IPhotoStore>().Open(name));

    [Fact]
    public void Damaged_headers_never_do_worse_than_refuse()
    {
        Random random = new(11);
        byte[] whole = TestPictures.Jpeg(64, 48, TestPictures.Exif(bigEndian: true));
        for (int i = 0; i < 3000; i++)
        {
            byte[] damaged = whole[..random.Next(whole.Length / 2, whole.Length)];
            for (int n = random.Next(1, 12); n > 0; n--)
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            if (PhotoHeader.Read(damaged) is { } header)
                Assert.True(LocationStrip.From(damaged, header).Length <= damaged.Length + 64);
        }
    }

    private Task<Photo> Put(byte[] bytes) => Saved(db => Get<IPhotoStore>().PutAsync(db, new MemoryStream(bytes), new PhotoForm(PhotoSubject.Piece)));

    private async Task<byte[]> Kept(byte[] bytes) => await File.ReadAllBytesAsync(Get<IPhotoStore>().PathOf((await Put(bytes)).Hash)!);

    private sealed class EndlessStream : MemoryStream
    {
        public long Given { get; private set; }

        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            Given += buffer.Length;
            return ValueTask.FromResult(buffer.Length);
        }
    }
}

/// <summary>Small pictures made by hand: headers as in real ones, next to no picture.</summary>
internal static class TestPictures
{
    public static byte[] Jpeg(int width, int height, byte[]? app1 = null) =>
    [
        0xFF, 0xD8, .. app1 ?? [],
        .. Segment(0xC0, [8, (byte)(height >> 8), (byte)height, (byte)(width >> 8), (byte)width, 1, 1, 0x11, 0]),
        .. Segment(0xDA, [1, 1, 0, 0, 63, 0]), 0x12, 0xFF, 0x00, 0x34, 0xFF, 0xD0, 0x56, 0xFF, 0xD9,
    ];

    public static byte[] Png(int width, int height)
    {
        byte[] size = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(size, width);
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), height);
        size[8] = 8;
        return [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, .. Chunk("IHDR", size), .. Chunk("IDAT", [1, 2, 3]), .. Chunk("IEND", [])];
    }

    public static byte[] Segment(byte marker, ReadOnlySpan<byte> body) => [0xFF, marker, (byte)((body.Length + 2) >> 8), (byte)(body.Length + 2), .. body];

    public static byte[] Chunk(string name, ReadOnlySpan<byte> data)
    {
        byte[] length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, data.Length);
        return [.. length, .. System.Text.Encoding.ASCII.GetBytes(name), .. data, 0, 0, 0, 0];
    }

    /// <summary>An Exif segment with orientation 6, GPS, focal lengths and a maker's note that tells the place.</summary>
    public static byte[] Exif(bool bigEndian)
    {
        byte[] t = new byte[200];
        (bigEndian ? "MM"u8 : "II"u8).CopyTo(t);
        U16(2, 42);
        U32(4, 8);
        U16(8, 3);
        Entry(10, 0x0112, 3, 1, bigEndian ? 6u << 16 : 6);
        Entry(22, 0x8769, 4, 1, 60);
        Entry(34, 0x8825, 4, 1, 150);
        U16(60, 3);
        Entry(62, 0x920A, 5, 1, 110);
        Entry(74, 0x927C, 7, 8, 120);
        Entry(86, 0xA405, 3, 1, bigEndian ? 26u << 16 : 26);
        U32(110, 425);
        U32(114, 100);
        "PLACE A\0"u8.CopyTo(t.AsSpan(120));
        U16(150, 1);
        Entry(152, 0x001D, 2, 12, 170);
        "PLACE B 123\0"u8.CopyTo(t.AsSpan(170));
        return Segment(0xE1, [.. "Exif\0\0"u8, .. t]);

        void U16(int at, ushort v)
        {
            if (bigEndian)
                BinaryPrimitives.WriteUInt16BigEndian(t.AsSpan(at), v);
            else
                BinaryPrimitives.WriteUInt16LittleEndian(t.AsSpan(at), v);
        }

        void U32(int at, uint v)
        {
            if (bigEndian)
                BinaryPrimitives.WriteUInt32BigEndian(t.AsSpan(at), v);
            else
                BinaryPrimitives.WriteUInt32LittleEndian(t.AsSpan(at), v);
        }

        void Entry(int at, ushort tag, ushort type, uint count, uint value)
        {
            U16(at, tag);
            U16(at + 2, type);
            U32(at + 4, count);
            U32(at + 8, value);
        }
    }

    /// <summary>Tags and short values of a little-endian Exif block, read the plain way.</summary>
    public static Dictionary<int, uint> ReadExif(byte[] jpeg)
    {
        int start = jpeg.AsSpan().IndexOf("Exif\0\0"u8) + 6;
        Dictionary<int, uint> tags = [];
        Directory(8);
        return tags;

        void Directory(int at)
        {
            int n = BinaryPrimitives.ReadUInt16LittleEndian(jpeg.AsSpan(start + at));
            for (int i = 0; i < n; i++)
            {
                ReadOnlySpan<byte> e = jpeg.AsSpan(start + at + 2 + (12 * i), 12);
                int tag = BinaryPrimitives.ReadUInt16LittleEndian(e);
                tags[tag] = BinaryPrimitives.ReadUInt32LittleEndian(e[8..]);
                if (tag == 0x8769)
                    Directory((int)tags[tag]);
            }
        }
    }
}
