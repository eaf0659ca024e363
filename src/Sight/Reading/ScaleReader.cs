using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>A mark read on a scale without fiducials.</summary>
/// <param name="PhotoPx">Where it crosses the scale's row.</param>
/// <param name="OnScale">What the scale says there, with the standard uncertainty of map and mark.</param>
/// <param name="SignalToNoise">How far it stands above the noise.</param>
/// <param name="Clipped">Part of its brighter half that is clipped.</param>
public sealed record ScaleMark(Point2 PhotoPx, MeasuredAngle OnScale, double SignalToNoise, double Clipped);

/// <summary>Reads laser marks on an engraved or drawn degree scale whose graduations a person pointed out.</summary>
public static class ScaleReader
{
    /// <summary>The strip along the scale is drawn as if it were this long, mm, so that the sizes chosen for our targets hold.</summary>
    private const double StripMm = 240;

    private const double HalfHeightMm = 35;

    /// <summary>Fainter marks are left out. Chosen.</summary>
    private const double LeastSignal = 15;

    /// <summary>Finds the marks along the scale, in the order of its degrees.</summary>
    public static IReadOnlyList<ScaleMark> Read(Picture photo, GraduatedScale scale, LaserColour laser)
    {
        double pxPerMm = scale.LengthPx * 1.2 / StripMm;
        double start = scale.FromPx - (0.1 * scale.LengthPx);
        Point2 ToPhoto(Point2 strip) => scale.ToPhoto(start + (strip.X * pxPerMm), (strip.Y - HalfHeightMm) * pxPerMm);
        SheetField field = SheetField.Strip(photo, ToPhoto, StripMm, 2 * HalfHeightMm, pxPerMm);
        LaserLight light;
        if (laser == LaserColour.Unknown)
        {
            LaserLight red = LaserLight.From(field, LaserColour.Red, null);
            LaserLight green = LaserLight.From(field, LaserColour.Green, null);
            light = red.Strength > green.Strength ? red : green;
        }
        else
        {
            light = LaserLight.From(field, laser, null);
        }

        var middle = new Point2(StripMm / 2, HalfHeightMm);
        var marks = new List<ScaleMark>();
        foreach (MarkBlob blob in BlobSplit.Along(light, MarkBlobs.In(light), HalfHeightMm))
        {
            if (MarkShapes.Measure(light, blob, middle, StripMm) is not { IsInk: false } shape || shape.SignalToNoise < LeastSignal)
                continue;
            RidgePoint nearest = shape.Ridge.MinBy(p => Math.Abs(p.YMm - HalfHeightMm));
            if (Math.Abs(nearest.YMm - HalfHeightMm) > 1.5)
                continue;
            Point2 at = ToPhoto(new(nearest.XMm, HalfHeightMm));
            if (scale.Read(at).Degrees is not { } degrees)
                continue;
            double uMm = Math.Max(0.1, 0.08 * shape.AcrossSdMm);
            double slope = scale.Read(ToPhoto(new(nearest.XMm + 1, HalfHeightMm))).Degrees is { } next ? Math.Abs(next - degrees) : 0;
            double u = Math.Sqrt((scale.ResidualDeg * scale.ResidualDeg) + Math.Pow(uMm * slope, 2));
            marks.Add(new(at, MeasuredAngle.FromDegrees(degrees, u), shape.SignalToNoise, shape.Clipped));
        }

        return [.. marks.OrderBy(m => m.OnScale.Value)];
    }
}
