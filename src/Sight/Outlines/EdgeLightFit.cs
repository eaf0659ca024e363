namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the light of a whole edge and, with it, where the steel begins in each section: tones of open paper, bevel and flank are solved in each
/// section and channel, the edge's places by dynamic programming (neighbours lie near each other), the light by a pattern search.
/// </summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>How far outside and inside the line the edge is looked for.</summary>
    private const double OutermostMm = -0.8;
    private const double InnermostMm = 2.6;

    /// <summary>Misfit that no model of ours gets below, as a share of the paper's light. Chosen.</summary>
    private const double Floor = 0.012;

    /// <summary>Neighbouring sections, 2 mm apart, differ by this. Chosen.</summary>
    private const double NeighbourMm = 0.04;

    /// <summary>Light that the camera no longer tells apart, and what it still counts. Chosen.</summary>
    private const double Full = 0.95;
    private const double OfFull = 0.05;

    /// <summary>What four more numbers must be worth in all. Chosen from trials.</summary>
    private const double LampMustGain = 24;

    /// <summary>What is known beforehand counts this much for each section: sections that miss the model miss it alike. Chosen from trials.</summary>
    private const double PriorPerSection = 0.2;

    /// <summary>From here inward a section counts less: far from the edge other things are seen than the model knows of. Chosen.</summary>
    private const double InsideMm = 1.5;

    private const double FarthestSigma2 = 6;

    private static readonly double[] s_shiftsMm = [-0.6, -0.3, 0.3, 0.6, 1, 1.5];

    private readonly IReadOnlyList<EdgeProfile> _profiles;
    private readonly double _blurMm;
    private readonly double _looks;

    private readonly KnownHeight? _known;

    /// <summary>Of the profiles along one edge.</summary>
    /// <param name="profiles">Light across the edge.</param>
    /// <param name="blurMm">The camera's blur on the mat.</param>
    /// <param name="pixelMm">A pixel on the mat.</param>
    /// <param name="known">Height of the middle of the edge over the mat, where it is known.</param>
    public EdgeLightFit(IReadOnlyList<EdgeProfile> profiles, double blurMm, double pixelMm, KnownHeight? known = null)
    {
        _profiles = profiles;
        _known = known;
        _blurMm = Math.Max(blurMm, 0.4 * pixelMm);
        _looks = 3.0 / Math.Max(pixelMm, 1.5 * _blurMm);
    }

    private EdgeLight Usual => _known is { } known ? EdgeLight.Usual.At(known) : EdgeLight.Usual;

    /// <summary>Places of the steel, inward from the line, with what each costs and how sharply.</summary>
    public sealed record Places(double[] InwardMm, double[] Cost, double[] Curvature, double Total);

    /// <summary>The light that fits best, and the edge's places under it.</summary>
    /// <param name="helds">Lines from which to begin too: the light is fitted with the edge held there, then let go.</param>
    /// <param name="begin">Where to begin from an earlier pass.</param>
    public (EdgeLight Light, Places Places) Find(IReadOnlyList<double[]> helds, EdgeLight? begin = null)
    {
        int every = Math.Max(1, _profiles.Count / 36);
        var few = new Grid([.. _profiles.Where((_, i) => i % every == 0)], 2, true, this);
        double Cost(EdgeLight? light) => light is null ? double.PositiveInfinity : few.Solve(light).Total + Beforehand(light);
        var starts = new List<(EdgeLight Light, double Cost)>();
        if (begin is not null)
        {
            starts.Add((begin, Cost(begin)));
        }
        else
        {
            foreach (double bevel in new[] { 0.25, 0.45, 0.75, 1.2 })
            {
                foreach (EdgeLamp[] lamps in new EdgeLamp[][] { [], [new(0.25, 0.25, 0, 0.12)], [new(0.25, 0.6, 0, 0.12)] })
                {
                    foreach (double z in _known is not null ? [Usual.HeelMm] : new[] { 0.6, 1.2, 2.5 })
                    {
                        EdgeLight light = EdgeLight.Usual with { BevelMm = bevel, HeelMm = z, TipMm = Math.Min(z, OutlineBudget.TipHeightMm), Lamps = lamps };
                        starts.Add((light, Cost(light)));
                    }
                }
            }
        }

        foreach (double[] held in helds)
        {
            double[] some = [.. held.Where((_, i) => i % every == 0)];
            EdgeLight light = Grow([.. new[] { 0.3, 0.6, 1.1 }.Select(b => Usual with { BevelMm = b })], l => l is null ? double.PositiveInfinity : few.At(l, some) + Beforehand(l)).Light;
            starts.Add((light, Cost(light)));
        }

        EdgeLight best = Grow([.. starts.OrderBy(s => s.Cost).Take(5).Select(s => s.Light)], Cost).Light;
        return (best, new Grid(_profiles, 1, false, this).Solve(best));
    }

    // Each start is searched; the best gets lamps as long as they are worth it.
    private static (EdgeLight Light, double Cost) Grow(IReadOnlyList<EdgeLight> starts, Func<EdgeLight?, double> cost)
    {
        (EdgeLight best, double least) = starts.Select(s => Search(s, cost(s), cost, 6)).MinBy(s => s.Cost);
        (best, least) = Search(best, least, cost, 8);
        while (best.Lamps.Count < 2)
        {
            EdgeLight with = best;
            double now = double.PositiveInfinity;
            foreach (double share in new[] { 0.15, 0.35 })
            {
                foreach (double lean in new[] { 0.1, 0.25, 0.45, 0.7, 1.0 })
                {
                    EdgeLamp lamp = new(share, lean, 0, 0.12);
                    Take(best with { Lamps = [.. best.Lamps, lamp], Sky = Math.Min(best.Sky, 0.9 - share) }, cost, ref with, ref now);
                }
            }

            (with, now) = Search(with, now, cost, 8);
            if (now > least - LampMustGain)
                break;
            (best, least) = (with, now);
        }

        return (best, least);
    }

    /// <summary>
    /// How far the whole edge may lie from where it was found, as the shadows tell it, mm: it is shifted inward and outward in the measure of its height, the light
    /// fitted anew to each shift, and the shifts weighed by how well they explain a section.
    /// </summary>
    public double DoubtMm(EdgeLight light, double[] inwardMm)
    {
        var grid = new Grid(_profiles, 1, false, this);
        double middle = Math.Max(0.2, light.HeightAt(0.5));
        double At(double shift)
        {
            double[] moved = [.. inwardMm.Select((v, i) => v + (shift * light.HeightAt(_profiles[i].Share) / middle))];
            double Cost(EdgeLight? l) => l is null ? double.PositiveInfinity : grid.At(l, moved) + Beforehand(l);
            return Search(light, Cost(light), Cost, 4).Cost / inwardMm.Length;
        }

        double here = At(0);
        double weights = 1;
        double sum = 0;
        foreach (double shift in s_shiftsMm)
        {
            double weight = Math.Exp(-0.25 * Math.Max(0, At(shift) - here)); // sections miss the model alike: half as sure as they were one by one
            weights += weight;
            sum += weight * shift * shift;
        }

        return Math.Sqrt(sum / weights);
    }

    private double Beforehand(EdgeLight light) => PriorPerSection * _profiles.Count * light.Prior(_known);

    private static void Take(EdgeLight light, Func<EdgeLight?, double> cost, ref EdgeLight best, ref double least)
    {
        double c = cost(light);
        if (c < least)
            (best, least) = (light, c);
    }

    private static (EdgeLight Light, double Cost) Search(EdgeLight from, double least, Func<EdgeLight?, double> cost, int rounds)
    {
        double[] p = from.ToRow();
        double[] step = EdgeLight.Steps(p.Length);
        EdgeLight best = from;
        for (int round = 0; round < rounds; round++)
        {
            double before = least;
            for (int k = 0; k < p.Length; k++)
            {
                bool better = false;
                foreach (int sign in new[] { 1, -1 })
                {
                    double[] q = [.. p];
                    q[k] += sign * step[k];
                    EdgeLight? light = EdgeLight.FromRow(q);
                    double c = cost(light);
                    if (c < least)
                    {
                        (p, least, best, better) = (q, c, light!, true);
                        break;
                    }
                }

                step[k] *= better ? 1.3 : 0.5;
            }

            if (before - least < 0.3 && round > 3)
                break;
        }

        return (best, least);
    }
}
