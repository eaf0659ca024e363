using OpenCvSharp;

namespace Whetwright.Darkroom.Cameras;

/// <summary>A photograph as a phone stores it: JPEG, perhaps turned, with a tag that says so or without.</summary>
public static class PhotoFile
{
    /// <summary>Turns the upright picture as the orientation tag asks and encodes it.</summary>
    public static byte[] Encode(Mat upright, int quality, int exifOrientation, bool writeTag)
    {
        using Mat stored = new();
        switch (exifOrientation)
        {
            case 3:
                Cv2.Rotate(upright, stored, RotateFlags.Rotate180);
                break;
            case 6:
                Cv2.Rotate(upright, stored, RotateFlags.Rotate90Counterclockwise);
                break;
            case 8:
                Cv2.Rotate(upright, stored, RotateFlags.Rotate90Clockwise);
                break;
            default:
                upright.CopyTo(stored);
                break;
        }

        Cv2.ImEncode(".jpg", stored, out byte[] jpeg, new ImageEncodingParam(ImwriteFlags.JpegQuality, quality));
        return writeTag ? WithTag(jpeg, exifOrientation) : jpeg;
    }

    // One APP1 segment with a single entry, 0x0112 orientation, after the start marker (JEITA CP-3451, Exif; from memory).
    private static byte[] WithTag(byte[] jpeg, int orientation)
    {
        byte[] tag =
        [
            0xFF, 0xE1, 0x00, 0x22, (byte)'E', (byte)'x', (byte)'i', (byte)'f', 0, 0, (byte)'I', (byte)'I', 0x2A, 0, 8, 0, 0, 0,
            1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, (byte)orientation, 0, 0, 0, 0, 0, 0, 0,
        ];
        return [.. jpeg.AsSpan(0, 2), .. tag, .. jpeg.AsSpan(2)];
    }
}
