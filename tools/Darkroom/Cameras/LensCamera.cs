using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Cameras;

/// <summary>
/// A pinhole with a lens that bends rays radially: p_d = p·(1 + k1·r² + k2·r⁴), r² = |p|², p = (x/z, y/z). Space is the sheet's: x right, y down,
/// z into the sheet, millimetres; the camera stands at negative z. Pixel centres lie at whole numbers.
/// </summary>
public sealed record LensCamera
{
    public required int WidthPx { get; init; }

    public required int HeightPx { get; init; }

    public required double FocalPx { get; init; }

    public required double K1 { get; init; }

    public required double K2 { get; init; }

    /// <summary>Where the camera stands.</summary>
    public required Vector3 CentreMm { get; init; }

    /// <summary>The camera's axes in the sheet's space: right, down, forward.</summary>
    public required Vector3 Right { get; init; }

    public required Vector3 Down { get; init; }

    public required Vector3 Forward { get; init; }

    /// <summary>Where a point of space appears; null behind the camera.</summary>
    public Point2? See(Vector3 pointMm)
    {
        Vector3 to = pointMm - CentreMm;
        double depth = to.Dot(Forward);
        if (depth <= 1)
            return null;
        double x = to.Dot(Right) / depth;
        double y = to.Dot(Down) / depth;
        double r2 = (x * x) + (y * y);
        double bend = 1 + (K1 * r2) + (K2 * r2 * r2);
        return new((FocalPx * x * bend) + ((WidthPx - 1) / 2.0), (FocalPx * y * bend) + ((HeightPx - 1) / 2.0));
    }

    /// <summary>Direction (not of unit length: one along the axis) of the ray that arrives at a pixel.</summary>
    public Vector3 RayThrough(double px, double py)
    {
        double xd = (px - ((WidthPx - 1) / 2.0)) / FocalPx;
        double yd = (py - ((HeightPx - 1) / 2.0)) / FocalPx;
        double x = xd;
        double y = yd;
        for (int i = 0; i < 6; i++)
        {
            double r2 = (x * x) + (y * y);
            double bend = 1 + (K1 * r2) + (K2 * r2 * r2);
            x = xd / bend;
            y = yd / bend;
        }

        return Forward + (Right * x) + (Down * y);
    }

    /// <summary>A camera that looks at a point from a distance, tilted first about the sheet's x axis, then its y axis, then rolled.</summary>
    public static LensCamera Looking(
        int widthPx, int heightPx, double focalPx, double k1, double k2, Vector3 atMm, double distanceMm, double tiltXRad, double tiltYRad, double rollRad)
    {
        (double sx, double cx) = Math.SinCos(tiltXRad);
        (double sy, double cy) = Math.SinCos(tiltYRad);
        var forward = new Vector3(sy, sx * cy, cx * cy);
        forward *= 1 / forward.Norm;
        var right = new Vector3(forward.Z, 0, -forward.X);
        right *= 1 / right.Norm;
        Vector3 down = forward.Cross(right);
        (double sr, double cr) = Math.SinCos(rollRad);
        return new()
        {
            WidthPx = widthPx,
            HeightPx = heightPx,
            FocalPx = focalPx,
            K1 = k1,
            K2 = k2,
            CentreMm = atMm - (forward * distanceMm),
            Right = (right * cr) + (down * sr),
            Down = (down * cr) - (right * sr),
            Forward = forward,
        };
    }
}
