using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>The part of a photo that is shown, in its pixels.</summary>
/// <param name="X">Left.</param>
/// <param name="Y">Top.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
public sealed record PhotoCut(int X, int Y, int Width, int Height)
{
    /// <summary>A length that shows as about one CSS pixel on a phone.</summary>
    public double Unit => Width / 320.0;

    /// <summary>For an svg.</summary>
    public string ViewBox => string.Create(CultureInfo.InvariantCulture, $"{X} {Y} {Width} {Height}");

    /// <summary>Where the cut picture is.</summary>
    public string Address(BenchVisit visit, long photo) =>
        string.Create(CultureInfo.InvariantCulture, $"/bench/{visit.Tag}/photo/{photo}/cut?x={X}&y={Y}&w={Width}&h={Height}");

    /// <summary>Whether a place lies in it.</summary>
    public bool Holds(Point2 px) => px.X >= X && px.X < X + Width && px.Y >= Y && px.Y < Y + Height;

    /// <summary>How far to each side of zero the marks reach, mm, with room to spare.</summary>
    public static double HalfWidthMm(MountInPhoto mount) => mount.Frame is { } frame
        ? Math.Clamp(1.3 * mount.Marks.Where(m => m.Used || m.Seen is not null).Select(m => Math.Abs(frame.FromZeroMm(m.PhotoPx).X)).DefaultIfEmpty(60).Max(), 30, 130)
        : 60;

    /// <summary>The stretch about the reading row; null where the sheet was not found.</summary>
    public static PhotoCut? Of(MountInPhoto mount)
    {
        double half = HalfWidthMm(mount);
        return Part(mount, -half, half, -0.42 * half, 0.42 * half);
    }

    /// <summary>What lies about a place.</summary>
    /// <param name="mount">The placing.</param>
    /// <param name="centrePx">Its middle, in the photo.</param>
    /// <param name="halfMm">Half its width on the sheet.</param>
    /// <param name="halfTallMm">Half its height on the sheet.</param>
    public static PhotoCut? About(MountInPhoto mount, Point2 centrePx, double halfMm, double halfTallMm)
    {
        if (mount.Frame is not { } frame)
            return null;
        Point2 c = frame.FromZeroMm(centrePx);
        return Part(mount, c.X - halfMm, c.X + halfMm, c.Y - halfTallMm, c.Y + halfTallMm);
    }

    private static PhotoCut? Part(MountInPhoto mount, double leftMm, double rightMm, double topMm, double bottomMm)
    {
        if (mount.Frame is not { } frame)
            return null;
        Point2[] corners = [.. new Point2[] { new(leftMm, topMm), new(rightMm, topMm), new(leftMm, bottomMm), new(rightMm, bottomMm) }.Select(frame.InPhotoPx)];
        int x = (int)Math.Clamp(Math.Floor(corners.Min(p => p.X)), 0, frame.WidthPx - 2), y = (int)Math.Clamp(Math.Floor(corners.Min(p => p.Y)), 0, frame.HeightPx - 2);
        int right = (int)Math.Clamp(Math.Ceiling(corners.Max(p => p.X)), x + 2, frame.WidthPx), bottom = (int)Math.Clamp(Math.Ceiling(corners.Max(p => p.Y)), y + 2, frame.HeightPx);
        return new(x, y, right - x, bottom - y);
    }
}
