using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// A band of shaded paper between a shadow's rim, where the outline was drawn, and steel: along a side that has no bevel a second step inside the
/// first, the band before it no darker than a lamp's shadow and well apart from the steel. Not for the edge: there the band may be the bevel.
/// </summary>
internal sealed class PaperBand(PhotoSampler sampler, LensMap map, bool lifted)
{
    private const double StepMm = 0.15;
    private const double OutMm = 2.4;
    private const double InMm = 7.5;

    /// <summary>Narrower bands are not told from blur, mm.</summary>
    private const double NarrowestMm = 0.6;

    /// <summary>Wider ones are no shadow under lamps, mm: of a blade that a handle lifts, and of one that lies flat. Chosen.</summary>
    private readonly double _widestMm = lifted ? 5 : 2.5;

    /// <summary>Least step to the steel (natural logarithm of linear light). Chosen from trials.</summary>
    private const double LeastStep = 0.12;

    /// <summary>Least step to the steel against the shadow's own step. Chosen from trials.</summary>
    private const double Nearer = 0.8;

    /// <summary>No lamp's shadow is darker than this against the paper (natural logarithm): room light fills it. Chosen.</summary>
    private const double Darkest = 0.9;

    private const int StepCells = (int)(OutMm / StepMm);

    /// <summary>Width of the band at the middle of a stretch and its growth per millimetre along it; null where there is none.</summary>
    /// <param name="line">Places along the stretch.</param>
    /// <param name="inward">Unit vector toward the steel at each.</param>
    /// <param name="mostTiltDeg">How far the steel's line may be turned against the shadow's.</param>
    public (double WideMm, double PerMm)? Of(IReadOnlyList<Point2> line, IReadOnlyList<Vector2> inward, double mostTiltDeg)
    {
        int n = line.Count;
        double[] along = new double[n];
        for (int i = 1; i < n; i++)
            along[i] = along[i - 1] + line[i].DistanceTo(line[i - 1]);
        double half = along[^1] / 2;
        (double Wide, double Slope, double Step)? best = null;
        for (double deg = -mostTiltDeg; deg <= mostTiltDeg; deg += 1.5)
        {
            double slope = Math.Tan(double.DegreesToRadians(deg));
            double[] tone = Profile(line, inward, i => (along[i] - half) * slope);
            if (Band(tone) is { } band && (best is null || band.Step > best.Value.Step))
                best = (band.Wide, slope, band.Step);
        }

        return best is { } b ? (b.Wide, b.Slope) : null;
    }

    private double[] Profile(IReadOnlyList<Point2> line, IReadOnlyList<Vector2> inward, Func<int, double> shift)
    {
        int m = (int)((OutMm + InMm) / StepMm);
        double[] tone = new double[m];
        double[] values = new double[line.Count];
        for (int k = 0; k < m; k++)
        {
            double v = (k * StepMm) - OutMm;
            for (int i = 0; i < line.Count; i++)
            {
                // Outside and at the rim the line is the shadow's own; inside it is turned step by step.
                double turned = v + (Math.Clamp(v, 0, 1) * shift(i));
                var (b, g, r) = sampler.At(map.ToPhoto(line[i] + (inward[i] * turned)));
                values[i] = Math.Log(((b + g + r) / 3) + 0.008);
            }

            Array.Sort(values);
            tone[k] = values[values.Length / 2];
        }

        return tone;
    }

    private (double Wide, double Step)? Band(double[] tone)
    {
        double paper = Mean(tone, -OutMm, -0.8);
        int from = Index(NarrowestMm);
        int to = Index(_widestMm);
        double[] step = new double[tone.Length];
        for (int k = Index(0.4); k <= to + 1; k++)
            step[k] = Math.Abs(((tone[k + 1] + tone[k + 2] + tone[k + 3]) - (tone[k - 1] + tone[k - 2] + tone[k - 3])) / 3);
        int at = from;
        for (int k = from; k <= to; k++)
        {
            if (step[k] > step[at])
                at = k;
        }

        double wide = (at * StepMm) - OutMm;
        double band = Mean(tone, Math.Min(0.4, wide / 2), Math.Max(wide - 0.45, (wide / 2) + 0.05));
        double steel = Mean(tone, wide + 0.4, wide + 1.2);
        double size = Math.Abs(steel - band);
        if (size < LeastStep || size < Nearer * Math.Abs(band - paper) || band < paper - Darkest || band > paper + 0.02 || at == from || at == to)
            return null;
        double bow = step[at - 1] - (2 * step[at]) + step[at + 1];
        double part = bow < 0 ? 0.5 * (step[at - 1] - step[at + 1]) / bow : 0;
        return (wide + (Math.Clamp(part, -0.5, 0.5) * StepMm), step[at]);
    }

    private static int Index(double mm) => StepCells + (int)Math.Round(mm / StepMm);

    private static double Mean(double[] tone, double fromMm, double toMm)
    {
        int from = Index(fromMm);
        int to = Math.Max(from, Index(toMm));
        double sum = 0;
        for (int k = from; k <= to; k++)
            sum += tone[k];
        return sum / (to - from + 1);
    }
}
