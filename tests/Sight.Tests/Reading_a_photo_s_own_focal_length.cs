using System.Buffers.Binary;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests;

/// <summary>The 35 mm equivalent focal length in a JPEG's EXIF; file layouts after JEITA CP-3451 (Exif 2.3), 4.5 and 4.6, built here byte by byte.</summary>
[WithoutPictureLibrary]
public sealed class Reading_a_photo_s_own_focal_length
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void It_is_read_in_either_byte_order(bool little)
    {
        Assert.Equal(26, ExifFocal.Of(Jpeg(little, 26, 4032, 3024), 4032, 3024));
    }

    [Fact]
    public void A_photo_turned_by_its_orientation_keeps_it()
    {
        Assert.Equal(26, ExifFocal.Of(Jpeg(true, 26, 4032, 3024), 3024, 4032));
    }

    [Fact]
    public void A_photo_cropped_since_has_none()
    {
        Assert.Null(ExifFocal.Of(Jpeg(true, 26, 4032, 3024), 2000, 3024));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(7)]
    [InlineData(401)]
    public void A_length_that_no_camera_has_is_none(int focal)
    {
        Assert.Null(ExifFocal.Of(Jpeg(true, (ushort)focal, 4032, 3024), 4032, 3024));
    }

    [Fact]
    public void A_picture_without_it_has_none()
    {
        Assert.Null(ExifFocal.Of([], 1, 1));
        Assert.Null(ExifFocal.Of([0xFF, 0xD8, 0xFF, 0xDA, 0, 2], 1, 1));
        Assert.Null(ExifFocal.Of([0x89, (byte)'P', (byte)'N', (byte)'G'], 1, 1));
    }

    [Fact]
    public void Damage_anywhere_is_none_or_a_length_a_camera_can_have_and_never_a_crash()
    {
        Random random = new(20261125);
        foreach (bool little in new[] { true, false })
        {
            byte[] whole = Jpeg(little, 26, 4032, 3024);
            for (int cut = 0; cut < whole.Length; cut++)
                Sane(ExifFocal.Of(whole.AsSpan(0, cut), 4032, 3024));
            for (int trial = 0; trial < 20_000; trial++)
            {
                byte[] hurt = (byte[])whole.Clone();
                for (int k = random.Next(1, 6); k > 0; k--)
                    hurt[random.Next(hurt.Length)] = random.Next(3) == 0 ? (byte)0xFF : (byte)random.Next(256);
                Sane(ExifFocal.Of(hurt, 4032, 3024));
            }
        }
    }

    private static void Sane(double? focal) => Assert.True(focal is null or (>= 8 and <= 400), $"{focal}");

    private static byte[] Jpeg(bool little, ushort focal, uint across, uint down)
    {
        List<byte> tiff = [.. little ? "II"u8 : "MM"u8];
        void Word(int v) => Add(2, b => { if (little) BinaryPrimitives.WriteUInt16LittleEndian(b, (ushort)v); else BinaryPrimitives.WriteUInt16BigEndian(b, (ushort)v); });
        void Number(uint v) => Add(4, b => { if (little) BinaryPrimitives.WriteUInt32LittleEndian(b, v); else BinaryPrimitives.WriteUInt32BigEndian(b, v); });
        void Add(int length, Action<byte[]> write)
        {
            byte[] bytes = new byte[length];
            write(bytes);
            tiff.AddRange(bytes);
        }

        Word(42);
        Number(8);
        Word(1);
        Entry(0x8769, 4, 26);
        Number(0);
        Word(3);
        Entry(0xA002, 4, across);
        Entry(0xA003, 4, down);
        Entry(0xA405, 3, focal);
        Number(0);
        byte[] body = [.. "Exif\0\0"u8, .. tiff];
        byte[] length = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(body.Length + 2));
        return [0xFF, 0xD8, 0xFF, 0xE0, 0, 4, 1, 2, 0xFF, 0xE1, .. length, .. body, 0xFF, 0xDA, 0, 2, 0xFF, 0xD9];

        void Entry(int tag, int type, uint value)
        {
            Word(tag);
            Word(type);
            Number(1);
            if (type == 3)
            {
                Word((int)value);
                Word(0);
            }
            else
            {
                Number(value);
            }
        }
    }
}
