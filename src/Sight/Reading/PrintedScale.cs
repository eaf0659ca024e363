using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>Two places in a photo, and how far they truly lie apart.</summary>
/// <param name="FromPx">One end, pixels of the picture as stored.</param>
/// <param name="ToPx">The other.</param>
/// <param name="True">Between them, by ruler or calliper.</param>
public sealed record PointedLength(Point2 FromPx, Point2 ToPx, MeasuredLength True);

/// <summary>What a photo of a printed sheet beside known lengths says of the printer.</summary>
/// <param name="Scale">Across and down; null where refused.</param>
/// <param name="U">Standard uncertainty, the larger of the two.</param>
/// <param name="Chain">How it was computed.</param>
/// <param name="Reason">Why nothing was read; null where it was.</param>
public sealed record PrintedScaleReading(PrintScale? Scale, double U, IReadOnlyList<Derivation> Chain, Reason? Reason);

/// <summary>Reads the printer's scale from a photo: the fiducials say where the pointed places lie on the sheet as drawn, the lengths what is true.</summary>
public static class PrintedScale
{
    /// <summary>A place pointed out in a photo is good to this, px. Chosen.</summary>
    private const double PointingPx = 1;

    /// <summary>Reads.</summary>
    /// <param name="photo">The sheet with the ruler or calliper beside it, taken from straight above.</param>
    /// <param name="target">The printed target.</param>
    /// <param name="first">A length, mostly across.</param>
    /// <param name="second">A length, mostly down.</param>
    /// <param name="raised">How high the ruler's graduations lie over the paper; zero where the places are printed ones.</param>
    /// <exception cref="ArgumentException">Places off the picture, or lengths that cannot be.</exception>
    public static PrintedScaleReading Read(Picture photo, TargetSheet target, PointedLength first, PointedLength second, MeasuredLength raised)
    {
        foreach (Point2 p in (Point2[])[first.FromPx, first.ToPx, second.FromPx, second.ToPx])
        {
            if (!(p.X >= 0 && p.Y >= 0 && p.X <= photo.WidthPx - 1 && p.Y <= photo.HeightPx - 1))
                throw new ArgumentException(FormattableString.Invariant($"The place {p.X},{p.Y} lies off the picture, which is {photo.WidthPx} × {photo.HeightPx} pixels as stored."), nameof(first));
        }

        SheetSearch search = SheetFinder.Find(photo, target.Fiducials);
        if (search.Sheet is not { } sheet)
            return new(null, 0, [], search.Reason);
        double longer = Math.Max(photo.WidthPx, photo.HeightPx);
        // Without a told focal length the nominal one of LensMap; it only enters with the ruler's thickness.
        double focalPx = photo.Focal35Mm is { } f
            ? f / 43.2666 * Math.Sqrt(((double)photo.WidthPx * photo.WidthPx) + ((double)photo.HeightPx * photo.HeightPx))
            : 0.75 * longer;
        Length camera = Length.FromMillimetres(focalPx / sheet.PixelsPerMm);
        double u = Math.Sqrt(2 * (Math.Pow(PointingPx / sheet.PixelsPerMm, 2) + Math.Pow(sheet.MapUMm, 2)));
        KnownLength Known(PointedLength p) => new(sheet.Map.ToSheet(p.ToPx) - sheet.Map.ToSheet(p.FromPx), u, PrintScaleFromLengths.OntoPaper(p.True, raised, camera));
        var solved = PrintScaleFromLengths.Solve(Known(first), Known(second));
        return new(solved.Scale, Math.Max(solved.UAcross, solved.UDown), solved.Chain, null);
    }
}
