using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>What a combined reading leaves out or leans on, in words.</summary>
internal static class ReadingReasons
{
    /// <summary>Above this angle per side light may leave the target (common practice, no source).</summary>
    private const double SteepDeg = 22;

    public static IReadOnlyList<Reason> For(
        ReadingSolution solution, ReadingKnowledge known, ScatterUsed scatter, bool rollKnown, WildMark? wild, bool read)
    {
        List<Reason> reasons = [];
        IReadOnlyList<ReadingObservation> marks = solution.Observations;
        if (wild is not null)
            reasons.Add(Wild(wild));
        if (!read)
            reasons.Add(NotBoth(marks, known));
        if (known.HasBack)
            reasons.Add(new("from-the-back", "A piece with a back: the included angle is the angle from the back, exact at any roll; there is no mid-plane to give sides from."));
        else if (!rollKnown)
            reasons.Add(RollNotKnown(marks, known));
        if (!known.TipKnown)
            reasons.Add(new("tip-not-noted", "Nobody noted where the tip was, so the blade's own sides are not named. Note tip up or tip down with each mount."));
        AddDefaults(reasons, known, scatter);
        if (!scatter.IsDefault && scatter.FromRepeats > 0 && scatter.Value.Degrees > 3 * known.Assumptions.Scatter.Degrees)
        {
            reasons.Add(new("scatter-large", string.Create(CultureInfo.InvariantCulture,
                $"The mounts differ by {scatter.Value.Degrees:0.0}° of roll from one clamping to the next. Clean the jaw and the flanks, seat the blade against its stop and read again.")));
        }

        double steepest = marks.Max(o => o.AsRead.Degrees);
        if (steepest >= SteepDeg)
        {
            reasons.Add(new("steep-bevel", string.Create(CultureInfo.InvariantCulture,
                $"At {steepest:0.0}° the light is turned by {2 * steepest:0}°: above about 22° per side it may leave the target. Screen the path, keep it below eye level and never look into the beam or its reflection.")));
        }

        return reasons;
    }

    private static Reason Wild(WildMark wild) => new("wild-mark", string.Create(CultureInfo.InvariantCulture,
        $"Left out: mount {wild.Mount + 1}, {ReadingCombination.Word(wild.Target)} of the target, {ReadingCombination.Word(wild.Role)} mark at {wild.AsRead.Degrees:0.0}°. It lies {Math.Abs(wild.OffBy.Degrees):0.0}° {(wild.OffBy > Angle.Zero ? "above" : "below")} where the others put it; odds {Odds(wild.Odds)} to 1 that it is a slip. Read it again."));

    private static string Odds(double odds) => odds >= 1e6
        ? "more than a million"
        : odds.ToString(odds >= 10 ? "0" : "0.0", CultureInfo.InvariantCulture);

    private static Reason NotBoth(IReadOnlyList<ReadingObservation> marks, ReadingKnowledge known)
    {
        Side[] seen = [.. marks.Where(o => o.Role == MarkRole.Edge).Select(o => o.Target).Distinct()];
        if (seen.Length == 0)
            return new("one-side", "No edge mark was read on either side: only other grinds are given. Look farther out for the edge bevel's mark.");
        string side = ReadingCombination.Word(seen[0]);
        double asRead = marks.First(o => o.Role == MarkRole.Edge).AsRead.Degrees;
        if (known.HasBack)
        {
            return new("one-side", string.Create(CultureInfo.InvariantCulture,
                $"Only the target's {side} has an edge mark. A back that lies along the beam throws nothing: roll the blade by about half the included angle, near {Math.Abs(asRead) / 2:0}°, so that both faces throw, and read again."));
        }

        return seen.Length == 2
            ? new("one-side", "No mount showed both sides at once, and the roll is not known, so the included angle is not known. Mount the blade so that both sides throw their light.")
            : new("one-side", $"Only the target's {side} has an edge mark, so the included angle is not known. Move the blade until the beam grazes both sides; if it still throws on one side only, roll it until both do.");
    }

    private static Reason RollNotKnown(IReadOnlyList<ReadingObservation> marks, ReadingKnowledge known)
    {
        int mounts = marks.Select(o => o.Mount).Distinct().Count();
        string who = mounts == 1 ? "One mount" : "Mounts with the tip always the same way";
        return new("roll-not-known", string.Create(CultureInfo.InvariantCulture,
            $"{who} cannot tell a rolled holder from a lopsided edge: left minus right is not identified. The sides lean on a chosen default, roll 0° ± {known.Assumptions.HolderRollUncertainty.Degrees:0.0}° (k = 1); the included angle does not. Turn the blade end for end and read again."));
    }

    private static void AddDefaults(List<Reason> reasons, ReadingKnowledge known, ScatterUsed scatter)
    {
        List<string> defaults = [.. known.DefaultsUsed];
        if (scatter.IsDefault && !known.HasBack)
            defaults.Add(string.Create(CultureInfo.InvariantCulture, $"re-clamping scatter {scatter.Value.Degrees:0.0#}°"));
        if (defaults.Count > 0)
            reasons.Add(new("defaults-used", $"Chosen defaults that nobody measured stand in for: {string.Join("; ", defaults)}. Calibrate the instrument to replace them."));
    }
}
