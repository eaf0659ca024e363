using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>
/// How a place in one photo reads as a bevel: where the sheet is in the photo and where the beam meets the sheet. Plain numbers, so that it can be kept with a
/// reading and a mark can be placed by hand later without the photo. The same inversion as for marks found.
/// </summary>
public sealed record PhotoFrame
{
    /// <summary>
    /// How well a hand places a mark on the sheet, standard uncertainty: 0.4 mm, about a tenth of a fingertip on a photo as wide as a phone. Chosen, not derived.
    /// </summary>
    public const double HandUMm = 0.4;

    /// <summary>Name of the hand's part in budgets.</summary>
    public const string HandSource = "placed by hand";

    /// <summary>Width of the photo, px.</summary>
    public required int WidthPx { get; init; }

    /// <summary>Height of the photo, px.</summary>
    public required int HeightPx { get; init; }

    /// <summary>Sheet to photo: the ten numbers of <see cref="LensMap"/>.</summary>
    public required IReadOnlyList<double> Lens { get; init; }

    /// <summary>The target's zero on the sheet, mm as drawn.</summary>
    public required Point2 ZeroMm { get; init; }

    /// <summary>Standard uncertainty of a place from the map, mm.</summary>
    public required double MapUMm { get; init; }

    /// <summary>Edge to sheet, mm.</summary>
    public required double DistanceMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public required double DistanceUMm { get; init; }

    /// <summary>Bare beam right of the zero, mm.</summary>
    public required double BeamAcrossMm { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public required double BeamAcrossUMm { get; init; }

    /// <summary>Print scale, true over drawn.</summary>
    public required double PrintScale { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public required double PrintScaleU { get; init; }

    /// <summary>Sheet against square to the beam, about each axis, one standard deviation.</summary>
    public required double SheetTiltRad { get; init; }

    /// <summary>Row of the specular points: height of the bare beam under the zero, mm.</summary>
    public required double RowMm { get; init; }

    /// <summary>Row: turn of the edge about the beam.</summary>
    public required double RowTurnRad { get; init; }

    /// <summary>Row: tangent of the edge's pitch.</summary>
    public required double RowTanPitch { get; init; }

    /// <summary>Lower Cholesky root of the row's covariance, three by three, row by row.</summary>
    public required IReadOnlyList<double> RowRoot { get; init; }

    internal InversionPoint At => new(DistanceMm, BeamAcrossMm, RowMm, RowTurnRad, RowTanPitch, 0, 0, PrintScale);

    /// <summary>A place of the photo on the sheet, mm as drawn from the target's zero, x right, y down.</summary>
    public Point2 FromZeroMm(Point2 photoPx)
    {
        Point2 onSheet = LensMap.From(Lens, WidthPx, HeightPx).ToSheet(photoPx);
        return new(onSheet.X - ZeroMm.X, onSheet.Y - ZeroMm.Y);
    }

    /// <summary>A place on the sheet, mm from the target's zero, in the photo.</summary>
    public Point2 InPhotoPx(Point2 fromZeroMm) =>
        LensMap.From(Lens, WidthPx, HeightPx).ToPhoto(new(fromZeroMm.X + ZeroMm.X, fromZeroMm.Y + ZeroMm.Y));

    /// <summary>The row on which marks are read, in the photo, from left to right.</summary>
    /// <param name="halfWidthMm">How far to either side of zero.</param>
    public IReadOnlyList<Point2> RowInPhotoPx(double halfWidthMm)
    {
        LensMap map = LensMap.From(Lens, WidthPx, HeightPx);
        EdgeRow row = new(RowMm, RowTurnRad, RowTanPitch, new double[3, 3], 0);
        return [.. Enumerable.Range(-8, 17).Select(i => i * halfWidthMm / 8).Select(x => map.ToPhoto(new(x + ZeroMm.X, row.YMm(x, DistanceMm) + ZeroMm.Y)))];
    }

    /// <summary>A mark placed by hand, as the combination takes it.</summary>
    /// <param name="mount">Which placing, from 0.</param>
    /// <param name="tip">Where the tip was.</param>
    /// <param name="target">Side of the target.</param>
    /// <param name="role">What it is said to come from.</param>
    /// <param name="photoPx">Where, in the photo.</param>
    /// <param name="uMm">How well it is placed; the hand's by default.</param>
    public ReadingObservation Pointed(int mount, TipDirection tip, Side target, MarkRole role, Point2 photoPx, double uMm = HandUMm)
    {
        Point2 place = FromZeroMm(photoPx);
        double asRead = At.AsReadRad(target, place.X, place.Y);
        double degPerMm = double.RadiansToDegrees(Math.Pow(Math.Cos(2 * asRead), 2) / (2 * DistanceMm));
        return new(mount, tip, target, role, Angle.FromRadians(asRead),
            [new(HandSource, Require.Positive(uMm, nameof(uMm)) * degPerMm), new("sheet map", MapUMm * degPerMm)],
            Common(mount, at => at.AsReadRad(target, place.X, place.Y)))
        {
            AtMm = place,
            PhotoPx = photoPx,
        };
    }

    internal static PhotoFrame Of(Picture photo, FoundSheet sheet, PhotoReadRequest request, BeamSetUp setUp, EdgeRow row) => new()
    {
        WidthPx = photo.WidthPx,
        HeightPx = photo.HeightPx,
        Lens = sheet.Map.Numbers,
        ZeroMm = request.Target.ZeroMm,
        MapUMm = sheet.MapUMm,
        DistanceMm = setUp.DistanceMm,
        DistanceUMm = setUp.DistanceUMm,
        BeamAcrossMm = setUp.ZeroX.Value,
        BeamAcrossUMm = setUp.ZeroX.U,
        PrintScale = (setUp.ScaleX + setUp.ScaleY) / 2,
        PrintScaleU = setUp.ScaleU,
        SheetTiltRad = setUp.Priors.SheetTiltRad,
        RowMm = row.Y0Mm,
        RowTurnRad = row.Tau,
        RowTanPitch = row.TanPitch,
        RowRoot = [.. Root(row.Covariance).Select(v => v * MarkReader.RowShare)],
    };

    /// <summary>How far a bevel as read moves when each shared source is wrong by one standard uncertainty.</summary>
    internal IReadOnlyList<CommonPart> Common(int mount, Func<InversionPoint, double> asReadRad)
    {
        InversionPoint at = At;
        double here = asReadRad(at);
        CommonPart Part(string source, InversionPoint moved) => new(source, double.RadiansToDegrees(asReadRad(moved) - here));
        List<CommonPart> parts =
        [
            Part("distance", at with { DistanceMm = at.DistanceMm + DistanceUMm }),
            Part("zero across", at with { ZeroXMm = at.ZeroXMm + BeamAcrossUMm }),
            Part("print scale", at with { Scale = at.Scale * (1 + PrintScaleU) }),
            Part("sheet yaw", at with { YawRad = SheetTiltRad }),
            Part("sheet pitch", at with { SheetPitchRad = SheetTiltRad }),
        ];
        for (int k = 0; k < 3; k++)
        {
            parts.Add(Part($"where the row through the marks lies (mount {mount + 1}, part {k + 1})", at with
            {
                Y0Mm = at.Y0Mm + RowRoot[k],
                Tau = at.Tau + RowRoot[3 + k],
                TanPitch = at.TanPitch + RowRoot[6 + k],
            }));
        }

        return parts;
    }

    private static double[] Root(double[,] c)
    {
        double[] l = new double[9];
        for (int i = 0; i < 3; i++)
        {
            for (int k = 0; k <= i; k++)
            {
                double sum = c[i, k];
                for (int m = 0; m < k; m++)
                    sum -= l[(3 * i) + m] * l[(3 * k) + m];
                l[(3 * i) + k] = i == k ? Math.Sqrt(Math.Max(sum, 0)) : l[(3 * k) + k] > 0 ? sum / l[(3 * k) + k] : 0;
            }
        }

        return l;
    }
}
