using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>
/// Our own target: the sheet with all that is printed on it. Twelve fiducials stand along the rims, none on the reading row, ids 0 to 11, each
/// once, so that no turn of the picture can be mistaken for another. All distances here are chosen, not derived.
/// </summary>
public sealed record TargetLayout
{
    /// <summary>Least quiet margin round a fiducial, in modules.</summary>
    public const double QuietModules = 1;

    private const double SideMarginMm = 13; // leaves the left rim to the upright check line
    private const double TopMarginMm = 10;
    private const double LeastShownDeg = 12;

    private TargetLayout()
    {
    }

    /// <summary>What target.json says.</summary>
    public required TargetSheet Sheet { get; init; }

    /// <summary>Ticks of the degree scale, both sides, in order of angle.</summary>
    public required IReadOnlyList<DegreeTick> Ticks { get; init; }

    /// <summary>Degrees between numbers on the scale.</summary>
    public required int NumberEveryDeg { get; init; }

    /// <summary>Largest bevel angle whose mark still lies in the field.</summary>
    public required Angle LargestBevel { get; init; }

    /// <summary>The check line across: left end, mm.</summary>
    public required Point2 CheckAcrossFromMm { get; init; }

    /// <summary>The check line down: upper end, mm.</summary>
    public required Point2 CheckDownFromMm { get; init; }

    /// <summary>The aid that shows the sheet to be square to the beam.</summary>
    public required SquarenessAid Squareness { get; init; }

    /// <summary>Half the side of the plain stripe about the reading row that not even faint ticks cross, mm.</summary>
    public required double PlainHalfMm { get; init; }

    /// <summary>Designs a target for a paper and a distance.</summary>
    /// <exception cref="ArgumentOutOfRangeException">
    /// Distance under 40 mm, or so long that the sheet could not show a bevel of 12° on both sides.
    /// </exception>
    public static TargetLayout For(PaperSize paper, Length distance)
    {
        double l = distance.Millimetres;
        var zero = new Point2(paper.WidthMm / 2, paper.HeightMm / 2);
        double halfFieldX = zero.X - SideMarginMm;
        double most = halfFieldX / Math.Tan(double.DegreesToRadians(2 * LeastShownDeg));
        if (!(l >= 40 && l <= most))
        {
            throw new ArgumentOutOfRangeException(
                nameof(distance), l, FormattableString.Invariant($"On {paper.Name} the distance must lie from 40 to {Math.Floor(most)} mm, so that bevels up to {LeastShownDeg}° a side fall on the sheet. Use larger paper or stand it nearer."));
        }

        double halfFieldY = Math.Floor(paper.HeightMm * 0.158);
        var field = new SheetRectangle(SideMarginMm, zero.Y - halfFieldY, paper.WidthMm - SideMarginMm, zero.Y + halfFieldY);
        TargetSheet sheet = new()
        {
            Paper = paper.Name,
            SizeMm = new(paper.WidthMm, paper.HeightMm),
            ZeroMm = zero,
            SpotFieldMm = field,
            DistanceMm = l,
            Fiducials = Fiducials(paper, field),
        };
        Angle largest = LightPath.SteepestOnTarget(Length.FromMillimetres(halfFieldX), distance);
        return new()
        {
            Sheet = sheet,
            LargestBevel = largest,
            NumberEveryDeg = NumberEvery(l),
            Ticks = [.. DegreeTicks(distance, zero, largest)],
            CheckAcrossFromMm = new(zero.X - (SheetAids.CheckLineMm / 2), field.BottomMm + 13),
            CheckDownFromMm = new(7, zero.Y - (SheetAids.CheckLineMm / 2)),
            Squareness = SquarenessAid.For(distance, zero, new(paper.WidthMm * 0.3, halfFieldY + 17)),
            PlainHalfMm = 12,
        };
    }

    /// <summary>Side of the fiducials on a paper, mm.</summary>
    public static double FiducialSideMm(PaperSize paper) => paper.HeightMm > 250 ? 26 : 20;

    private static List<SheetFiducial> Fiducials(PaperSize paper, SheetRectangle field)
    {
        double side = FiducialSideMm(paper);
        double left = SideMarginMm;
        double right = paper.WidthMm - SideMarginMm - side;
        double innerLeft = Math.Round((paper.WidthMm * 0.3) - (side / 2), 1);
        double innerRight = paper.WidthMm - innerLeft - side;
        double top = TopMarginMm;
        double bottom = paper.HeightMm - TopMarginMm - side;
        double gap = (side / KnownFiducials.ModulesAcross * QuietModules) + 0.7;
        double upper = field.TopMm - gap - side;
        double lower = field.BottomMm + gap;
        (double X, double Y)[] clockwise =
        [
            (left, top), (innerLeft, top), (innerRight, top), (right, top), (right, upper), (right, lower),
            (right, bottom), (innerRight, bottom), (innerLeft, bottom), (left, bottom), (left, lower), (left, upper),
        ];
        return [.. clockwise.Select((at, id) => SheetFiducial.Upright(id, at.X, at.Y, side))];
    }

    private static int NumberEvery(double distanceMm)
    {
        double perDegree = distanceMm * Math.Tan(double.DegreesToRadians(2));
        return perDegree >= 6 ? 1 : perDegree >= 3 ? 2 : 5;
    }

    private static IEnumerable<DegreeTick> DegreeTicks(Length distance, Point2 zero, Angle largest)
    {
        int steps = distance.Millimetres * Math.Tan(double.DegreesToRadians(1)) >= 1.5 ? 2 : 1; // half degrees where they stand clear
        for (int i = steps; i <= largest.Degrees * steps; i++)
        {
            Angle bevel = Angle.FromDegrees((double)i / steps);
            double offset = DegreeScale.PlaceMm(MarkScale.Bevel, bevel.Degrees, distance);
            yield return new(Side.Left, bevel, zero.X - offset);
            yield return new(Side.Right, bevel, zero.X + offset);
        }
    }
}

/// <summary>One tick of the degree scale.</summary>
/// <param name="TargetSide">Side of the target as one reads it.</param>
/// <param name="Bevel">Bevel angle per side.</param>
/// <param name="AtXMm">Place on the sheet, mm.</param>
public readonly record struct DegreeTick(Side TargetSide, Angle Bevel, double AtXMm);
