using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Visits;

/// <summary>An edge that a piece was given before, and how it came back.</summary>
/// <param name="When">When it was ground.</param>
/// <param name="Angles">Per side, degrees; a back has 0.</param>
/// <param name="CameBack">False where the piece has not been back yet: then it says nothing of chips.</param>
/// <param name="ChipMm">Deepest chip with which it came back; 0 for none.</param>
/// <param name="Complaint">Whether the owner complained of it.</param>
public sealed record EdgeTried(DateTimeOffset When, SidePair Angles, bool CameBack, double ChipMm, bool Complaint);

/// <summary>
/// One edge to choose, with what it takes, how it compares and what the piece's own history says, as data; faces put it into words. A person decides.
/// </summary>
/// <param name="Angles">Per side, degrees.</param>
/// <param name="FacetMm">New facet widths, left and right; null where the section is not known.</param>
/// <param name="SteelMg">Steel it takes.</param>
/// <param name="HeightLostMm">Height it takes.</param>
/// <param name="VisitsUntilThinning">Visits until the thickness behind the edge passes the limit.</param>
/// <param name="Ratios">Strength, push and life against the edge as found.</param>
/// <param name="TriedAlike">Times the piece came back from about this angle.</param>
/// <param name="ChippedAlike">Of those, with a chip.</param>
/// <param name="ComplaintsAlike">Complaints at about this angle.</param>
/// <param name="Reasons">What speaks for it and against it.</param>
public sealed record EdgeAdvice(
    SidePair Angles, (double Left, double Right)? FacetMm, double? SteelMg, double? HeightLostMm, int? VisitsUntilThinning, EdgeRatios? Ratios,
    int TriedAlike, int ChippedAlike, int ComplaintsAlike, IReadOnlyList<Reason> Reasons)
{
    /// <summary>Angles that differ by no more than this are about the same (chosen, not derived: about what a setting can promise).</summary>
    public const double AlikeDeg = 0.75;

    /// <summary>A chip shallower than this is none (chosen, not derived).</summary>
    public const double LeastChipMm = 0.1;

    /// <summary>Step of the thinner and the stronger candidate, per side (chosen, not derived).</summary>
    public const double StepDeg = 2;

    /// <summary>No facet is offered closer to the flank than this, per side (chosen, not derived: below it facet and flank are hard to tell apart).</summary>
    public const double OverFlankDeg = 2;

    /// <summary>Flattest angle per side that is offered unasked (chosen, not derived).</summary>
    public const double FlattestDeg = 8;

    /// <summary>The edge a step flatter on every side that is ground; null where that would be no edge.</summary>
    /// <param name="found">As found.</param>
    /// <param name="flankDeg">Half the included angle of the flanks; with a back the flank stands at twice this.</param>
    /// <param name="back">The side that is the back; null for none.</param>
    public static SidePair? Thinner(SidePair found, double flankDeg, Side? back = null)
    {
        double least = Math.Max(FlattestDeg, (back is null ? flankDeg : 2 * flankDeg) + OverFlankDeg);
        SidePair made = Moved(found, -StepDeg, back);
        return GroundAngles(made, back).All(a => a >= least) ? made : null;
    }

    /// <summary>The edge a step steeper on every side that is ground; null above 40° per side.</summary>
    public static SidePair? Stronger(SidePair found, Side? back = null)
    {
        SidePair made = Moved(found, StepDeg, back);
        return GroundAngles(made, back).All(a => a <= 40) ? made : null;
    }

    /// <summary>Weighs one edge.</summary>
    /// <param name="angles">The edge.</param>
    /// <param name="found">As found; null where not known.</param>
    /// <param name="cost">Its section; null where that cannot be computed.</param>
    /// <param name="history">Edges the piece was given before.</param>
    /// <param name="steel">Steel data, where given.</param>
    /// <param name="back">The side that is the back; null for none.</param>
    public static EdgeAdvice Of(SidePair angles, SidePair? found, SectionResult? cost, IReadOnlyList<EdgeTried> history, SteelData? steel = null, Side? back = null)
    {
        EdgeRatios? ratios = found is null ? null : EdgeRatios.Of(found, angles, steel: steel);
        EdgeTried[] alike = [.. history.Where(h => Math.Abs(Mean(h.Angles, back) - Mean(angles, back)) <= AlikeDeg)];
        int tried = alike.Count(h => h.CameBack), chipped = alike.Count(h => h.CameBack && h.ChipMm >= LeastChipMm), complaints = alike.Count(h => h.Complaint);
        List<Reason> reasons = [.. Cost(cost), .. Compared(ratios), .. History(angles, history, tried, chipped, complaints, back)];
        return new(angles, cost is null ? null : (cost.Left.FacetWidthMm, cost.Right.FacetWidthMm), cost?.RemovedMg, cost?.HeightLostMm, cost?.VisitsUntilThinning, ratios,
            tried, chipped, complaints, reasons);
    }

    private static IEnumerable<Reason> Cost(SectionResult? cost)
    {
        if (cost is null)
        {
            yield return new("cost-not-known", "What it takes is not known: the thickness behind the edge and the primary angle are needed.");
            yield break;
        }

        if (cost.VisitsUntilThinning is { } visits and <= 2)
            yield return new("thinning-soon", visits == 0 ? "Too thick behind the edge after it: it needs thinning now." : string.Create(CultureInfo.InvariantCulture, $"It needs thinning after {visits} more {(visits == 1 ? "visit" : "visits")} at this angle."));
        if (cost.Cause == RecessionCause.Chip)
            yield return new("chip-decides", "The chip decides how much height goes, not the angle.");
    }

    private static IEnumerable<Reason> Compared(EdgeRatios? ratios)
    {
        if (ratios is null)
            yield break;
        if (ratios.SectionModulus is > 1.05 or < 0.95)
            yield return new(ratios.SectionModulus > 1 ? "stronger" : "weaker", string.Create(CultureInfo.InvariantCulture, $"The edge stands {ratios.SectionModulus:0.00} times the side load of the one found, at equal distance from the apex."));
        if (ratios.Push is > 1.03 or < 0.97)
            yield return new(ratios.Push > 1 ? "harder-to-push" : "easier-to-push", string.Create(CultureInfo.InvariantCulture, $"It takes {ratios.Push:0.00} times the push of the one found."));
        if (ratios.Life is { } life)
            yield return new("life-ratio", string.Create(CultureInfo.InvariantCulture, $"By a published card-cut fit it holds {life:0.00} times as long, chips and boards not counted."));
    }

    private static IEnumerable<Reason> History(SidePair angles, IReadOnlyList<EdgeTried> history, int tried, int chipped, int complaints, Side? back)
    {
        if (chipped > 0)
            yield return new("chipped-at-this-angle", string.Create(CultureInfo.InvariantCulture, $"It came back chipped {chipped} of {tried} times from about this angle."));
        else if (tried > 0)
            yield return new("held-at-this-angle", string.Create(CultureInfo.InvariantCulture, $"It came back without a chip {tried} of {tried} times from about this angle."));
        if (complaints > 0)
            yield return new("complaint-at-this-angle", complaints == 1 ? "There was a complaint at about this angle." : string.Create(CultureInfo.InvariantCulture, $"There were {complaints} complaints at about this angle."));
        double own = Mean(angles, back);
        EdgeTried? worst = history.Where(h => h.CameBack && h.ChipMm >= LeastChipMm && Math.Abs(Mean(h.Angles, back) - own) > AlikeDeg).MaxBy(h => Mean(h.Angles, back));
        if (worst is not null && Mean(worst.Angles, back) > own)
            yield return new("steeper-one-chipped", string.Create(CultureInfo.InvariantCulture, $"Even at {Mean(worst.Angles, back):0.#}°, steeper than this, it came back with a chip of {worst.ChipMm:0.0} mm ({worst.When:yyyy-MM-dd})."));
        else if (worst is not null && chipped == 0)
            yield return new("steeper-than-what-chipped", string.Create(CultureInfo.InvariantCulture, $"Steeper than the {Mean(worst.Angles, back):0.#}° at which it chipped ({worst.When:yyyy-MM-dd})."));
    }

    private static SidePair Moved(SidePair pair, double deg, Side? back) => new(
        back == Side.Left ? pair.LeftDeg : pair.LeftDeg + deg, back == Side.Right ? pair.RightDeg : pair.RightDeg + deg);

    private static IEnumerable<double> GroundAngles(SidePair pair, Side? back)
    {
        if (back != Side.Left)
            yield return pair.LeftDeg;
        if (back != Side.Right)
            yield return pair.RightDeg;
    }

    private static double Mean(SidePair pair, Side? back) => GroundAngles(pair, back).Average();
}
