using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Marks that cannot be what they are said to be. On one side of one mount the roll moves all marks alike, so primary &lt; edge &lt; micro must
/// hold as read (a facet flatter than the flank has no steel to stand in).
/// </summary>
internal static class MarkContradictions
{
    public static IReadOnlyList<Reason> In(IReadOnlyList<ReadingObservation> observations)
    {
        List<Reason> reasons = [];
        foreach (IGrouping<(int Mount, Side Target), ReadingObservation> place in observations.GroupBy(o => (o.Mount, o.Target)))
        {
            Compare(reasons, place, MarkRole.Primary, MarkRole.Edge, "primary-steeper-than-edge",
                "the primary grind lies nearer zero than the edge bevel; the two may be swapped");
            Compare(reasons, place, MarkRole.Edge, MarkRole.Micro, "micro-flatter-than-edge",
                "a micro-bevel lies farther out than the edge bevel; the two may be swapped");
            Compare(reasons, place, MarkRole.Primary, MarkRole.Micro, "primary-steeper-than-edge",
                "the primary grind lies nearer zero than a micro-bevel; the two may be swapped");
        }

        if (reasons.Count == 0)
            CheckIncluded(reasons, observations);
        return reasons;
    }

    private static void Compare(
        List<Reason> reasons, IEnumerable<ReadingObservation> place, MarkRole inner, MarkRole outer, string code, string rule)
    {
        ReadingObservation? near = place.FirstOrDefault(o => o.Role == inner);
        ReadingObservation? far = place.FirstOrDefault(o => o.Role == outer);
        if (near is null || far is null || near.AsRead < far.AsRead || reasons.Count > 0)
            return;
        string mine = near.AsRead.Degrees.ToString("0.0", CultureInfo.InvariantCulture);
        string other = far.AsRead.Degrees.ToString("0.0", CultureInfo.InvariantCulture);
        reasons.Add(new(code, string.Create(CultureInfo.InvariantCulture,
            $"Mount {near.Mount + 1}, {ReadingCombination.Word(near.Target)} of the target: the {ReadingCombination.Word(inner)} mark at {mine}° does not lie inside the {ReadingCombination.Word(outer)} mark at {other}°, but {rule}. Look again at which mark is which.")));
    }

    private static void CheckIncluded(List<Reason> reasons, IReadOnlyList<ReadingObservation> observations)
    {
        foreach (IGrouping<int, ReadingObservation> mount in observations.Where(o => o.Role == MarkRole.Edge).GroupBy(o => o.Mount))
        {
            ReadingObservation[] left = [.. mount.Where(o => o.Target == Side.Left)];
            ReadingObservation[] right = [.. mount.Where(o => o.Target == Side.Right)];
            if (left.Length == 0 || right.Length == 0)
                continue;
            double included = left.Average(o => o.AsRead.Degrees) + right.Average(o => o.AsRead.Degrees);
            if (included > 0)
                continue;
            reasons.Add(new("no-such-edge", string.Create(CultureInfo.InvariantCulture,
                $"Mount {mount.Key + 1}: the edge marks add up to an included angle of {included:0.0}°, which no edge has. Count each mark outward from zero; below zero only where it fell on the other side.")));
        }
    }
}
