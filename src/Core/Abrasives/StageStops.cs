using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Abrasives;

/// <summary>Why to stop.</summary>
public enum StopFor
{
    /// <summary>Ink on the facet, one light pass, look where it went.</summary>
    PenTest = 0,

    /// <summary>Feel for the burr.</summary>
    Burr = 1,

    /// <summary>Dip, wait, look for colour.</summary>
    Cooling = 2,
}

/// <summary>A stop within a stage.</summary>
/// <param name="What">Why.</param>
/// <param name="Side">While this side is ground; null for both.</param>
/// <param name="FromPass">Before this pass (the first is 1), at the earliest.</param>
/// <param name="ToPass">Before this pass, at the latest.</param>
/// <param name="Text">What to do.</param>
public sealed record StageStop(StopFor What, Side? Side, int FromPass, int ToPass, string Text);

/// <summary>
/// When to stop and look in a stage. The burr is looked for from the fewest to the most passes that the rate's 95 % interval allows; pen test before the first pass of
/// the first stage and again a third of the way, where steel can still be saved (common practice, no source; the third is chosen).
/// </summary>
public static class StageStops
{
    /// <summary>The stops of one stage, in the order of passes.</summary>
    /// <param name="stage">The stage.</param>
    /// <param name="first">True for the first of the chain.</param>
    public static IReadOnlyList<StageStop> Of(AbrasiveStage stage, bool first)
    {
        List<StageStop> stops = [];
        foreach ((Side side, int passes, double cut) in (ReadOnlySpan<(Side, int, double)>)[(Side.Left, stage.PassesLeft, stage.CutLeftMm2), (Side.Right, stage.PassesRight, stage.CutRightMm2)])
        {
            if (passes == 0)
                continue;
            (double slow, double fast) = stage.Abrasive.Rate.NextVisit();
            int fewest = AbrasivePlanner.Passes(cut, fast), most = AbrasivePlanner.Passes(cut, slow);
            if (first)
            {
                stops.Add(new(StopFor.PenTest, side, 1, 1, "Ink the facet, one light pass, and look where the ink went before the first full pass."));
                if (passes >= 3)
                    stops.Add(new(StopFor.PenTest, side, 1 + (passes / 3), 1 + (passes / 3), "Ink again: the bare strip should run to the apex as planned."));
            }

            if (stage.Abrasive.Medium is { } medium && HeatCare.For(medium) is { NeedsCooling: true } care)
                stops.Add(new(StopFor.Cooling, side, 1, most, care.Text));
            stops.Add(new(StopFor.Burr, side, Math.Max(1, fewest), Math.Max(1, most) + 1, string.Create(CultureInfo.InvariantCulture,
                $"Feel for the burr along the whole edge after pass {Math.Max(1, fewest)} and from then on; none by pass {most}: read the edge, the rate or the setting is off.")));
        }

        return stops;
    }
}
