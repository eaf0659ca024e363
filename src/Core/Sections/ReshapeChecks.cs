using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>What an outline must be before it can be repaired.</summary>
internal static class ReshapeChecks
{
    /// <summary>Throws on values that are none.</summary>
    public static void Values(ReshapeInput input)
    {
        if (!Enum.IsDefined(input.Repair))
            throw new ArgumentOutOfRangeException(nameof(input), input.Repair, "repair must be one of the known repairs.");
        Require.Positive(input.HeightMm, "heightMm");
        Require.Positive(input.BehindEdgeMm, "behindEdgeMm");
        Require.Positive(input.SpineThicknessMm, "spineThicknessMm");
        Require.NotNegative(input.BolsterClearanceMm, "bolsterClearanceMm");
        if (input.BolsterThicknessMm is { } thick) Require.Positive(thick, "bolsterThicknessMm");
        if (input.AtMm is { } at) Require.Finite(at, "atMm");
        if (input.ChipAtMm is { } chipAt) Require.Finite(chipAt, "chipAtMm");
        if (input.ChipDepthMm is { } depth) Require.Positive(depth, "chipDepthMm");
        if (input.RemovalMm3PerMinute is { } rate) Require.Positive(rate, "removalMm3PerMinute");
        foreach (Point2 p in input.EdgeMm.Concat(input.SpineMm ?? []))
        {
            Require.Finite(p.X, "edgeMm");
            Require.Finite(p.Y, "edgeMm");
        }
    }

    /// <summary>Why these lines are no outline; empty where they are one.</summary>
    public static IReadOnlyList<Reason> Outline(IReadOnlyList<Point2> edge, IReadOnlyList<Point2> spine)
    {
        if (edge.Count < 2 || spine.Count < 2)
            return [new Reason("empty-outline", string.Create(CultureInfo.InvariantCulture, $"An outline needs at least two points of edge and of spine; there are {edge.Count} and {spine.Count}. Trace the blade again."))];
        List<Point2> ring = [.. edge, .. spine.Reverse()];
        if (FirstCrossing(ring) is { } at)
            return [new Reason("self-crossing", string.Create(CultureInfo.InvariantCulture, $"The outline crosses itself near ({at.X:0.#}, {at.Y:0.#}) mm. Look for swapped points, or trace the blade again."))];
        foreach ((IReadOnlyList<Point2> line, string name) in (ReadOnlySpan<(IReadOnlyList<Point2>, string)>)[(edge, "edge"), (spine, "spine")])
        {
            for (int i = 1; i < line.Count; i++)
            {
                if (!(line[i].X > line[i - 1].X))
                    return [new Reason("not-heel-to-tip", string.Create(CultureInfo.InvariantCulture, $"The {name} runs back at x = {line[i].X:0.##} mm after {line[i - 1].X:0.##}: points must run from heel to tip with rising x. Order them, or leave out the part that curls back."))];
            }
        }
        var spineLine = new ProfileLine(spine);
        foreach (Point2 p in edge)
        {
            if (p.Y < spineLine.At(p.X) - 1e-9)
                return [new Reason("edge-above-spine", string.Create(CultureInfo.InvariantCulture, $"At x = {p.X:0.##} mm the edge lies behind the spine. Check the height and the direction of y (outward, from spine to edge)."))];
        }
        return [];
    }

    private static Point2? FirstCrossing(List<Point2> ring)
    {
        int n = ring.Count;
        for (int i = 0; i < n; i++)
        {
            for (int j = i + 2; j < n; j++)
            {
                if (i == 0 && j == n - 1)
                    continue;
                Point2 a = ring[i], b = ring[(i + 1) % n], c = ring[j], d = ring[(j + 1) % n];
                double c1 = (b - a).Cross(c - a), c2 = (b - a).Cross(d - a), c3 = (d - c).Cross(a - c), c4 = (d - c).Cross(b - c);
                if (c1 * c2 < 0 && c3 * c4 < 0)
                    return a + ((b - a) * (c3 / (c3 - c4)));
            }
        }
        return null;
    }
}
