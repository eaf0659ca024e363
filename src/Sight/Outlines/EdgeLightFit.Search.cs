namespace Whetwright.Sight.Outlines;

/// <summary>The search of a light from one beginning.</summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>What four more numbers must be worth in all; less where the room's prior counts the lamp already. Chosen from trials.</summary>
    private const double LampMustGain = 24, LampOfRoomMustGain = 6;

    private static readonly double[] s_newLeans = [-1, -0.7, -0.45, -0.25, -0.1, 0.1, 0.25, 0.45, 0.7, 1.0];

    // The light with a held edge let go as a whole, in the measure of its height.
    private EdgeLight Shifted(Grid grid, EdgeLight from, double[] inwardMm)
    {
        double At(EdgeLight? light, double shift) => light is null ? double.PositiveInfinity
            : grid.At(light, [.. inwardMm.Select((v, i) => v + (shift * light.HeightAt(grid.Share(i)) / Math.Max(0.2, light.HeightAt(0.5))))]) + Beforehand(light, grid.Count);
        double[] row = [.. from.ToRow(), 0];
        (row, _) = Search(row, At(from, 0), [.. EdgeLight.Steps(row.Length - 1), 0.1], r => At(EdgeLight.FromRow(r[..^1]), r[^1]), 10);
        return EdgeLight.FromRow(row[..^1]) ?? from;
    }

    // Each start is searched; the best of them get lamps as long as they are worth it.
    private (EdgeLight Light, double Cost) Grow(IReadOnlyList<EdgeLight> starts, Func<EdgeLight?, double> cost, int rounds, int best)
    {
        var begun = starts.Select(s => Search(s, cost(s), cost, rounds)).OrderBy(s => s.Cost).Take(best);
        return begun.Select(s => Lit(s.Light, s.Cost, cost)).MinBy(s => s.Cost);
    }

    // Lamps are added as long as each is worth it.
    private (EdgeLight Light, double Cost) Lit(EdgeLight from, double at, Func<EdgeLight?, double> cost)
    {
        (EdgeLight best, double least) = Search(from, at, cost, 8);
        while (best.Lamps.Count < (Spine is null ? 2 : 3))
        {
            (EdgeLight with, double now) = WithLamps(best).Select(l => (l, cost(l))).MinBy(l => l.Item2);
            (with, now) = Search(with, now, cost, 8);
            if (now > least - (Spine is null ? LampMustGain : LampOfRoomMustGain))
                break;
            (best, least) = (with, now);
        }

        return Spine is null ? (best, least) : Turned(best, least, cost);
    }

    // Along a straight edge a lamp toward its heel shades as one toward its tip does, but for how the rest of the light goes with it.
    private static (EdgeLight Light, double Cost) Turned(EdgeLight best, double least, Func<EdgeLight?, double> cost)
    {
        for (int k = 0; k < best.Lamps.Count; k++)
        {
            EdgeLight turned = best with { Lamps = [.. best.Lamps.Select((l, i) => i == k ? l with { Along = -l.Along } : l)] };
            (turned, double now) = Search(turned, cost(turned), cost, 8);
            if (now < least)
                (best, least) = (turned, now);
        }

        return (best, least);
    }

    // A lamp more takes its light from the sky, and where that has too little, from the other lamps.
    private IEnumerable<EdgeLight> WithLamps(EdgeLight light)
    {
        double lamps = light.Lamps.Sum(l => l.Share);
        foreach (double share in new[] { 0.15, 0.35 })
        {
            double kept = Math.Min(1, (0.9 - share) / Math.Max(0.01, lamps));
            foreach (double lean in s_newLeans.Where(l => l > 0 || Spine is not null))
            {
                EdgeLamp[] all = [.. light.Lamps.Select(l => l with { Share = kept * l.Share }), new(share, lean, 0, SmallLamp)];
                yield return light with { Lamps = all, Sky = Math.Min(light.Sky, 1 - all.Sum(l => l.Share)) };
            }
        }
    }

    private static (EdgeLight Light, double Cost) Search(EdgeLight from, double least, Func<EdgeLight?, double> cost, int rounds)
    {
        double[] row = from.ToRow();
        (row, least) = Search(row, least, EdgeLight.Steps(row.Length), r => cost(EdgeLight.FromRow(r)), rounds);
        return (EdgeLight.FromRow(row) ?? from, least);
    }

    // Along each number in turn, forth or back, steps growing where that helps.
    private static (double[] Row, double Cost) Search(double[] p, double least, double[] step, Func<double[], double> cost, int rounds)
    {
        for (int round = 0; round < rounds; round++)
        {
            (double before, double[] begun) = (least, p);
            for (int k = 0; k < p.Length; k++)
            {
                bool better = false;
                foreach (int sign in new[] { 1, -1 })
                {
                    double[] q = [.. p];
                    q[k] += sign * step[k];
                    double c = cost(q);
                    if (c < least)
                    {
                        (p, least, better) = (q, c, true);
                        break;
                    }
                }

                step[k] *= better ? 1.3 : 0.5;
            }

            // A valley runs aslant to the numbers: the round's way once more, as long as that is better.
            for (bool on = !ReferenceEquals(p, begun); on;)
            {
                double[] q = [.. p.Select((v, k) => (2 * v) - begun[k])];
                double c = cost(q);
                on = c < least;
                if (on)
                    (begun, p, least) = (p, q, c);
            }

            if (before - least < 0.3 && round > 3)
                break;
        }

        return (p, least);
    }
}
