using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>
/// Our own mat: one to three sheets side by side, ten fiducials each along the upper and lower rims, ids 12 and up, each once over all sheets. To
/// join, the right-hand sheet is cut along its join line and laid on the join line of its left neighbour. Chosen, not derived.
/// </summary>
public sealed record MatLayout
{
    /// <summary>Distance of a join line from the sheet's rim, mm.</summary>
    public const double JoinMm = 12;

    /// <summary>Fine lines are ruled so far apart over each sheet, both ways, from its own left and top, mm; how wide they are; and how far from its rim they end, mm. Chosen.</summary>
    public const double RuledEveryMm = 10, RuledMm = 0.1, RuledRimMm = 5;

    private const int FirstId = 12;
    private const int PerSheet = 10;
    private const double TopMarginMm = 10;
    private const double SideMarginMm = 18; // clear of the join lines and the upright check line

    private MatLayout()
    {
    }

    /// <summary>What mat.json says.</summary>
    public required MatSheet Sheet { get; init; }

    /// <summary>The paper of one sheet.</summary>
    public required PaperSize Paper { get; init; }

    /// <summary>How many sheets.</summary>
    public required int SheetCount { get; init; }

    /// <summary>The plain field where the blade lies, joint frame.</summary>
    public required SheetRectangle FieldMm { get; init; }

    /// <summary>Longest edge that fits with 5 mm to spare at both ends.</summary>
    public double LongestEdgeMm => Math.Floor(FieldMm.WidthMm - 10);

    /// <summary>Tallest blade that fits likewise.</summary>
    public double TallestBladeMm => Math.Floor(FieldMm.HeightMm - 10);

    /// <summary>How far the sheets stand apart, left rim to left rim, when joined, mm.</summary>
    public double PitchMm => Paper.WidthMm - (2 * JoinMm);

    /// <summary>Check line across on each sheet: left end, in that sheet's own frame.</summary>
    public required Point2 CheckAcrossFromMm { get; init; }

    /// <summary>Check line down on the first sheet: upper end.</summary>
    public required Point2 CheckDownFromMm { get; init; }

    /// <summary>The fiducials of one sheet (0 is the leftmost) in that sheet's own frame.</summary>
    public IEnumerable<SheetFiducial> FiducialsOf(int sheet) =>
        Sheet.Fiducials.Skip(sheet * PerSheet).Take(PerSheet).Select(f => f.Moved(-sheet * PitchMm));

    /// <summary>Designs a mat.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not one to three sheets.</exception>
    public static MatLayout For(PaperSize paper, int sheets = 1)
    {
        if (sheets is < 1 or > 3)
            throw new ArgumentOutOfRangeException(nameof(sheets), sheets, "Must be 1, 2 or 3 sheets; the dictionary has codes for three.");
        double side = TargetLayout.FiducialSideMm(paper);
        double pitch = paper.WidthMm - (2 * JoinMm);
        double width = paper.WidthMm + ((sheets - 1) * pitch);
        List<SheetFiducial> fiducials = [];
        for (int sheet = 0; sheet < sheets; sheet++)
            fiducials.AddRange(OneSheet(paper, side, FirstId + (sheet * PerSheet)).Select(f => f.Moved(sheet * pitch)));
        double fieldTop = TopMarginMm + side + 10;
        return new()
        {
            Sheet = new() { Paper = paper.Name, SizeMm = new(width, paper.HeightMm), Fiducials = fiducials },
            Paper = paper,
            SheetCount = sheets,
            FieldMm = new(JoinMm, fieldTop, width - JoinMm, paper.HeightMm - TopMarginMm - side - 5.5),
            CheckAcrossFromMm = new((paper.WidthMm - SheetAids.CheckLineMm) / 2, TopMarginMm + side + 6.5),
            CheckDownFromMm = new(7, (paper.HeightMm - SheetAids.CheckLineMm) / 2),
        };
    }

    private static IEnumerable<SheetFiducial> OneSheet(PaperSize paper, double side, int firstId)
    {
        double step = (paper.WidthMm - (2 * SideMarginMm) - side) / 4;
        for (int i = 0; i < 5; i++)
            yield return SheetFiducial.Upright(firstId + i, Math.Round(SideMarginMm + (i * step), 2), TopMarginMm, side);
        for (int i = 4; i >= 0; i--)
            yield return SheetFiducial.Upright(firstId + 9 - i, Math.Round(SideMarginMm + (i * step), 2), paper.HeightMm - TopMarginMm - side, side);
    }
}
