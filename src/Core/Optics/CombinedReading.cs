using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>How a reading ended.</summary>
public enum ReadingOutcome
{
    /// <summary>Both sides were read.</summary>
    Read = 0,

    /// <summary>One side threw a mark, or what was seen does not tell the included angle: what is known is given.</summary>
    OneSide = 1,

    /// <summary>The marks cannot be what they are said to be; the reasons say why.</summary>
    Refused = 2,
}

/// <summary>What one or several mounts say about a blade. Standard uncertainties, k = 1.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="Reasons">Why it was refused, or what it leaves out or leans on.</param>
/// <param name="Included">Included angle of the edge bevels; null where it is not known. From the back for a piece with a back.</param>
/// <param name="Sides">The target's left, then its right, as in the first mount.</param>
/// <param name="Roll">Roll of the holder (or of the one mount), positive when the target's right reads more; null where not known.</param>
/// <param name="RollKnown">True where measurements tell the roll, false where a default stands in.</param>
/// <param name="Marks">All marks that were used, in the order of the mounts.</param>
/// <param name="Budget">What the included angle's uncertainty comes from (or, with one side, that side's); squares add up to its square.</param>
/// <param name="MeasureNext">What would shrink the uncertainties most per minute of work, best first.</param>
public sealed record CombinedReading(
    ReadingOutcome Outcome,
    IReadOnlyList<Reason> Reasons,
    MeasuredAngle? Included,
    IReadOnlyList<SideReading> Sides,
    MeasuredAngle? Roll,
    bool RollKnown,
    IReadOnlyList<ReadMark> Marks,
    IReadOnlyList<BudgetShare> Budget,
    IReadOnlyList<NextMeasurement> MeasureNext)
{
    /// <summary>The re-clamping scatter that was used, and where it came from.</summary>
    public ScatterUsed? Scatter { get; init; }

    /// <summary>Included angle of the micro-bevels at the very edge; null where none was seen on both sides.</summary>
    public MeasuredAngle? IncludedMicro { get; init; }

    /// <summary>The wild mark that was left out; null where none was.</summary>
    public WildMark? Wild { get; init; }

    /// <summary>The solution behind the numbers, for <c>--explain</c> and for those who ask further; null when refused.</summary>
    public ReadingSolution? Solution { get; init; }

    /// <summary>The reading of one side of the target.</summary>
    public SideReading On(Side target) => Sides[(int)target];
}

/// <summary>What is known of one side.</summary>
/// <param name="Target">Side of the target, in the first mount.</param>
/// <param name="Blade">Side of the blade; null where nobody noted where the tip was.</param>
/// <param name="AsRead">Edge bevel with the roll still in it, first mount; null where nothing was seen there.</param>
/// <param name="Edge">Best estimate with the roll taken out; null where it is not known.</param>
/// <param name="Primary">Primary grind, roll out.</param>
/// <param name="Micro">Micro-bevel, roll out.</param>
/// <param name="Range">From shoulder to apex where the facet is curved; null where nobody saw a smear.</param>
public sealed record SideReading(
    Side Target,
    Side? Blade,
    MeasuredAngle? AsRead,
    MeasuredAngle? Edge,
    MeasuredAngle? Primary,
    MeasuredAngle? Micro,
    FacetRange? Range = null)
{
    /// <summary>Clarity of the mark, 0 to 1; only a photograph tells it.</summary>
    public double? Clarity { get; init; }

    /// <summary>What the uncertainty of <see cref="Edge"/> comes from.</summary>
    public IReadOnlyList<BudgetShare> Budget { get; init; } = [];
}

/// <summary>A mark that was used.</summary>
/// <param name="Mount">Which placing, counted from 0.</param>
/// <param name="Target">Side of the target.</param>
/// <param name="Role">Which grind.</param>
/// <param name="AtMm">Place on the target; null where a degree scale was read at no known distance.</param>
/// <param name="PhotoPx">Place in the photograph.</param>
/// <param name="AsRead">The bevel as read.</param>
public sealed record ReadMark(int Mount, Side Target, MarkRole Role, Point2? AtMm, Point2? PhotoPx, MeasuredAngle AsRead);

/// <summary>The re-clamping scatter of a reading.</summary>
/// <param name="Value">Standard deviation of the roll between clampings.</param>
/// <param name="IsDefault">True where it is the chosen default alone.</param>
/// <param name="FromRepeats">Degrees of freedom that repeated mounts gave.</param>
public sealed record ScatterUsed(Angle Value, bool IsDefault, int FromRepeats);

/// <summary>A mark that does not fit the others and was left out.</summary>
/// <param name="Mount">Which placing, counted from 0.</param>
/// <param name="Target">Side of the target.</param>
/// <param name="Role">Which grind.</param>
/// <param name="AsRead">The bevel as read.</param>
/// <param name="OffBy">How far it lies from where the others put it.</param>
/// <param name="Odds">Odds that it is wild rather than chance.</param>
public sealed record WildMark(int Mount, Side Target, MarkRole Role, Angle AsRead, Angle OffBy, double Odds);

/// <summary>Something to measure next.</summary>
/// <param name="What">What to do, in words, with what it shrinks.</param>
/// <param name="Minutes">Time it takes (chosen, not derived).</param>
/// <param name="Quantity">The number that gains most: <c>included</c>, <c>left side</c>, <c>right side</c>.</param>
/// <param name="Before">Its standard uncertainty now; null where the number is not known at all.</param>
/// <param name="After">Its standard uncertainty afterwards.</param>
public sealed record NextMeasurement(string What, double Minutes, string Quantity, Angle? Before, Angle After);

/// <summary>The angles over a curved facet.</summary>
/// <param name="Shoulder">At the shoulder.</param>
/// <param name="Apex">At the apex.</param>
public readonly record struct FacetRange(Angle Shoulder, Angle Apex);
