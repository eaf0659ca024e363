using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// What speaks for a stretch of outline being the edge and not the spine: a second step of tone that runs along it a little inside (the shoulder
/// of the bevel) or another tone of the last millimetre, chips, and the light that the blade takes from the paper.
/// </summary>
internal static class EdgeEvidence
{
    private const int Section = 30;

    /// <summary>A chip is narrower and shallower than this, mm. Chosen.</summary>
    private const double BroadestDentMm = 8, DeepestDentMm = 4;

    /// <summary>What is shorter is the grain of the photo, mm. Chosen.</summary>
    private const double ShortestDentMm = 0.7;

    /// <summary>Where the halo is taken, and where the open paper's light, mm inside. Chosen: a halo is nearly over 4 mm out.</summary>
    private const double HaloAtMm = -2;

    private static readonly double[] s_openMm = [.. Enumerable.Range(0, 17).Select(i => -12 + (0.5 * i))];

    /// <summary>More dents than any side is credited with: an outline that is torn.</summary>
    private const int Torn = 99;

    /// <summary>Steel must be darker than the paper by this (logarithm of the coded tone) to show a bevel: on brighter steel the shadow's rim looks like one. Chosen.</summary>
    private const double DarkerThanPaper = 0.04;

    /// <summary>
    /// The strongest step between 0.3 and 2 mm inside, median over sections of the stretch, each a median along 12 mm. Null where most of the steel is as
    /// bright as the paper: then it says nothing.
    /// </summary>
    public static double? Shoulder(SmoothEdge edge, PhotoSampler sampler, LensMap map, double pxMm)
    {
        Point2[] line = Contour.Open([.. edge.Points()], 0.4);
        if (line.Length < Section + 8)
            return null;
        Vector2[] inward = OutlineView.Inward(line, edge.Outward);
        const double dv = 0.1;
        const int m = 34;
        int half = Math.Max(2, (int)Math.Round(pxMm / dv));
        var best = new List<double>();
        int sections = 0;
        for (int from = 3; from + Section < line.Length - 3; from += Section / 2)
        {
            sections++;
            if (Green(sampler, map, line, inward, from, 3) > Green(sampler, map, line, inward, from, -2.5) - DarkerThanPaper)
                continue;
            double[][] tone = [new double[m], new double[m], new double[m]];
            for (int k = 0; k < m; k++)
            {
                List<double>[] values = [[], [], []];
                for (int i = from; i < from + Section; i++)
                {
                    var (b, g, r) = sampler.At(map.ToPhoto(line[i] + (inward[i] * (k * dv))));
                    values[0].Add(Tone(b));
                    values[1].Add(Tone(g));
                    values[2].Add(Tone(r));
                }

                for (int c = 0; c < 3; c++)
                    tone[c][k] = values[c].Order().ElementAt(Section / 2);
            }

            double strongest = 0;
            int first = Math.Max(3 + half, (2 * half) + 1);
            for (int k = first; k < m - (2 * half) && k * dv < 2; k++)
            {
                foreach (double[] t in tone)
                {
                    // A step, not a slope: what the neighbours on either side do is taken off.
                    double step = t[k + half] - t[k - half];
                    double slope = (t[Math.Min(m - 1, k + (3 * half))] - t[k + half] + t[k - half] - t[Math.Max(0, k - (2 * half))]) / 2;
                    strongest = Math.Max(strongest, Math.Abs(step) - Math.Abs(slope));
                }
            }

            best.Add(strongest);
        }

        best.Sort();
        return best.Count < Math.Max(1, 0.4 * sections) ? null : best[best.Count / 2];
    }

    private static double Green(PhotoSampler sampler, LensMap map, Point2[] line, Vector2[] inward, int from, double atMm) =>
        Enumerable.Range(from, Section).Select(i => Tone(sampler.At(map.ToPhoto(line[i] + (inward[i] * atMm))).G)).Order().ElementAt(Section / 2);

    /// <summary>
    /// How much darker the paper is 2 mm outside than its own light further out, carried on to there (natural logarithm of linear light, median of sections; 0 where it is not
    /// darker): sky light that the blade takes. A wall of height h takes (1 − cos atan(h/d))/2 of an even sky from a place d before it: a spine is thick and stands high, an
    /// edge is thin, so the spine's reaches further. Nearer than 2 mm the rims of lamps' shadows and what the outline is off weigh more. A lamp's light falls off along the
    /// mat, brighter beside one side the nearer to the blade and darker beside the other, by as much as a halo over some millimetres: its slope is taken off.
    /// </summary>
    public static double Halo(SmoothEdge edge, PhotoSampler sampler, LensMap map)
    {
        const double dark = 0.01;
        double[] halos = [.. Sections(edge, sampler, map).Select(light =>
        {
            double[] open = [.. s_openMm.Select(v => Math.Log(light(v) + dark))];
            return RobustPolynomial.Fit(s_openMm, open, 1, 0.02).At(HaloAtMm) - Math.Log(light(HaloAtMm) + dark);
        }).Order()];
        return halos.Length == 0 ? 0 : Math.Max(0, halos[halos.Length / 2]);
    }

    /// <summary>
    /// The logarithm of the halo's size beside the first third of the stretch over that beside the last: a spine thins toward the tip, and the blade lies nearer to the
    /// mat there. Halos below <paramref name="least"/> are not told from noise.
    /// </summary>
    public static double HaloFades(SmoothEdge edge, PhotoSampler sampler, LensMap map, double least)
    {
        double[] halos = Ratios(edge, sampler, map, -5, -2, 0.01);
        int third = halos.Length / 3;
        return third == 0 ? 0 : Math.Log((Middle(halos[..third]) + least) / (Middle(halos[^third..]) + least));

        static double Middle(double[] v) => Math.Max(0, v.Order().ElementAt(v.Length / 2));
    }

    /// <summary>
    /// How far the tone 1 mm inside departs from that 2 mm inside (size of the natural logarithm of linear light, median of sections): the bevel and the shoulder behind an
    /// edge against the even flank below a spine.
    /// </summary>
    public static double Ground(SmoothEdge edge, PhotoSampler sampler, LensMap map)
    {
        double[] ratios = [.. Ratios(edge, sampler, map, 1, 2, 0.02).Select(Math.Abs).Order()];
        return ratios.Length == 0 ? 0 : ratios[ratios.Length / 2];
    }

    private static double[] Ratios(SmoothEdge edge, PhotoSampler sampler, LensMap map, double overMm, double underMm, double dark) =>
        [.. Sections(edge, sampler, map).Select(light => Math.Log((light(overMm) + dark) / (light(underMm) + dark)))];

    // The light so far inside, median along it, for each 12 mm in order from heel to tip.
    private static IEnumerable<Func<double, double>> Sections(SmoothEdge edge, PhotoSampler sampler, LensMap map)
    {
        Point2[] line = Contour.Open([.. edge.Points()], 0.4);
        Vector2[] inward = OutlineView.Inward(line, edge.Outward);
        for (int from = 3; from + Section < line.Length - 3; from += Section)
        {
            int first = from;
            yield return inMm =>
            {
                var all = Enumerable.Range(first, Section).Select(i => sampler.At(map.ToPhoto(line[i] + (inward[i] * inMm)))).ToList();
                return all.Select(v => v.B).Order().ElementAt(Section / 2) + all.Select(v => v.G).Order().ElementAt(Section / 2) + all.Select(v => v.R).Order().ElementAt(Section / 2);
            };
        }
    }

    /// <summary>Runs of stations that lie well inside the smooth line and come back; broader ones are steel lost to the paper, and where one is deeper than a chip the outline is torn.</summary>
    public static int Dents(SmoothEdge edge)
    {
        int runs = 0;
        int length = 0;
        double stationMm = edge.AlongMm.Length < 2 ? 0 : (edge.AlongMm[^1] - edge.AlongMm[0]) / (edge.AlongMm.Length - 1);
        for (int i = 0; i < edge.AlongMm.Length; i++)
        {
            if (edge.SmoothMm[i] - edge.RawMm[i] > DeepestDentMm)
                return Torn;
            bool inside = edge.SmoothMm[i] - edge.RawMm[i] > 0.3;
            bool end = edge.AlongMm[i] < edge.AlongMm[0] + 3 || edge.AlongMm[i] > edge.AlongMm[^1] - 3;
            if (inside && !end)
            {
                length++;
            }
            else
            {
                runs += length * stationMm is >= ShortestDentMm and < BroadestDentMm ? 1 : 0;
                length = 0;
            }
        }

        return runs;
    }

    private static double Tone(float linear) => Math.Log(Math.Pow(linear, 1 / 2.2) + 0.05);
}
