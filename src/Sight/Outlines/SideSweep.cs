namespace Whetwright.Sight.Outlines;

/// <summary>
/// How likely a long side is an edge that sweeps up to one of its ends, against a side that is straight to both. A sweep bends evenly, the more the nearer the corner; an outline
/// that goes over from steel to a shadow's rim, or back, steps at once and runs on in parallel. So steps are taken out, and the whole side is laid on straight lines with sweeps
/// that begin here or there and rise by little or much.
/// </summary>
internal static class SideSweep
{
    /// <summary>Length of side that one median stands for, mm. Chosen: chips are seldom broader.</summary>
    private const double BlockMm = 4;

    /// <summary>The corner's own rounding, mm.</summary>
    private const double CornerMm = 1.5;

    /// <summary>A step from one block to the next, beyond what those around do: so many millimetres, or this share of theirs. Chosen: a shadow's rim lies 0.3 mm and more off.</summary>
    private const double StepMm = 0.12, StepShare = 0.6;

    private const int StepBlocks = 7;

    /// <summary>A side with more steps than this is frayed: they are left in. Chosen.</summary>
    private const int MostSteps = 6;

    /// <summary>What a step that is taken out leaves behind, standard deviation in mm. Chosen.</summary>
    private const double AfterStepMm = 0.04;

    /// <summary>
    /// What a quiet outline is off its line, standard deviation in mm; what a sweep differs from a power of the distance, as a share; and how many blocks are off
    /// altogether, by up to so much. Estimated on rendered blanks.
    /// </summary>
    private const double QuietMm = 0.03, OfSweep = 0.1, Astray = 0.1, AstrayMm = 4;

    /// <summary>Blocks beside each other are off alike: so many of them count as one. From the same.</summary>
    private const double Together = 5;

    /// <summary>Most edges sweep, in the mean by so much (mm, rarer evenly with size); the others are straight to the corner. Estimates from 45 rendered blanks.</summary>
    private const double MeanSweepMm = 2, Straight = 0.25;

    private const double LeastSweepMm = 0.12, SweepRatio = 1.22;
    private const int Sizes = 21;

    /// <summary>Where along the side a sweep begins, and with what power of the distance it rises. Chosen.</summary>
    private static readonly double[] s_begins = [0.25, 0.35, 0.45, 0.54, 0.62, 0.69, 0.75, 0.8, 0.84, 0.88];
    private const double Power = 2.2;

    /// <summary>Logarithms of the odds that a side is an edge with its tip at an end, against a side that is straight to both.</summary>
    /// <param name="insideMm">How far the side lies inside a straight line at stations from its near end to its far end, mm.</param>
    /// <param name="stationMm">Distance of the stations.</param>
    public static (double Near, double Far) Odds(ReadOnlySpan<double> insideMm, double stationMm)
    {
        (double[] off, int steps) = WithoutSteps(Blocks(insideMm, stationMm));
        int n = off.Length;
        if (n < 2 * StepBlocks)
            return (0, 0);
        double[] at = [.. Enumerable.Range(0, n).Select(i => (i + 0.5) / n)];
        double[] back = [.. at.Select(u => 1 - u)];
        double noise = Math.Sqrt((QuietMm * QuietMm) + (steps * AfterStepMm * AfterStepMm) + Math.Pow(1.5 * Unevenness(off, at, back), 2));
        double straight = Likelihood(off, at, new double[n], noise).Log;
        return (Against(back), Against(at));

        double Against(double[] toward)
        {
            double sum = Straight;
            double least = 0;
            for (int k = 0; k < Sizes; k++)
            {
                double size = SizeMm(k);
                double above = k == Sizes - 1 ? 0 : Math.Exp(-(size + SizeMm(k + 1)) / 2 / MeanSweepMm);
                double share = (1 - Straight) * (Math.Exp(-least / MeanSweepMm) - above) / s_begins.Length;
                least = (size + SizeMm(k + 1)) / 2;
                foreach (double begin in s_begins)
                    sum += share * Math.Exp(Math.Min(300, (Likelihood(off, at, Sweep(toward, begin, size), noise).Log - straight) / Together));
            }

            return Math.Log(sum);
        }
    }

    private static double SizeMm(int k) => LeastSweepMm * Math.Pow(SweepRatio, k);

    private static double[] Sweep(double[] toward, double begin, double sizeMm) =>
        [.. toward.Select(u => u <= begin ? 0 : sizeMm * Math.Pow((u - begin) / (1 - begin), Power))];

    private static double[] Blocks(ReadOnlySpan<double> insideMm, double stationMm)
    {
        int corner = (int)(CornerMm / stationMm);
        int block = (int)(BlockMm / stationMm);
        int count = Math.Max(0, (insideMm.Length - (2 * corner)) / block);
        int first = (insideMm.Length - (count * block)) / 2;
        double[] blocks = new double[count];
        for (int k = 0; k < count; k++)
        {
            double[] part = insideMm.Slice(first + (k * block), block).ToArray();
            Array.Sort(part);
            blocks[k] = (part[(block - 1) / 2] + part[block / 2]) / 2;
        }

        return blocks;
    }

    /// <summary>The same with what goes up or down at once laid together again, and how often it does; as it is where that is often.</summary>
    private static (double[] OffMm, int Steps) WithoutSteps(double[] off)
    {
        int n = off.Length - 1;
        if (n < StepBlocks)
            return (off, 0);
        double[] rise = [.. Enumerable.Range(0, n).Select(i => off[i + 1] - off[i])];
        double[] even = new double[off.Length];
        int steps = 0;
        for (int i = 0; i < n; i++)
        {
            int from = Math.Clamp(i - (StepBlocks / 2), 0, n - StepBlocks);
            double around = rise[from..(from + StepBlocks)].Order().ElementAt(StepBlocks / 2);
            bool abrupt = Math.Abs(rise[i] - around) > Math.Max(StepMm, StepShare * Math.Abs(around));
            even[i + 1] = even[i] + (abrupt ? around : rise[i]);
            steps += abrupt ? 1 : 0;
        }

        return steps > MostSteps ? (off, 0) : (even, steps);
    }

    // Half of the blocks lie within this of the line, straight or swept, that they follow best.
    private static double Unevenness(double[] off, double[] at, double[] back)
    {
        double least = Likelihood(off, at, new double[off.Length], QuietMm).Middle;
        foreach (double[] toward in new[] { at, back })
        {
            foreach (double begin in new[] { 0.3, 0.6 })
            {
                foreach (double size in new[] { 0.5, 1, 2, 3, 4, 5 })
                    least = Math.Min(least, Likelihood(off, at, Sweep(toward, begin, size), QuietMm).Middle);
            }
        }

        return least;
    }

    /// <summary>Of the line, laid through by weights, that with this sweep comes nearest to the blocks; and the median of what they are off it.</summary>
    private static (double Log, double Middle) Likelihood(double[] off, double[] at, double[] sweep, double noise)
    {
        int n = off.Length;
        double[] y = [.. off.Zip(sweep, (a, b) => a - b)];
        double[] sigma = [.. sweep.Select(v => Math.Sqrt((noise * noise) + (OfSweep * OfSweep * v * v)))];
        double middle = y.Order().ElementAt(n / 2);
        double wide = Math.Max(3 * noise, y.Select(v => Math.Abs(v - middle)).Order().ElementAt(n / 2)) / noise;
        double[] weight = [.. Enumerable.Repeat(1.0, n)];
        double a = 0;
        double b = 0;
        for (int pass = 0; pass < 8; pass++)
        {
            (double w, double wx, double wxx, double wy, double wxy) = (0, 0, 1e-9, 0, 0);
            for (int i = 0; i < n; i++)
            {
                double g = weight[i] / (sigma[i] * sigma[i]);
                double x = at[i] - 0.5;
                (w, wx, wxx, wy, wxy) = (w + g, wx + (g * x), wxx + (g * x * x), wy + (g * y[i]), wxy + (g * x * y[i]));
            }

            b = ((w * wxy) - (wx * wy)) / ((w * wxx) - (wx * wx));
            a = (wy - (b * wx)) / w;
            for (int i = 0; i < n; i++)
            {
                double s = sigma[i] * wide;
                double near = Near(y[i] - a - (b * (at[i] - 0.5)), s);
                weight[i] = (near / (near + (Astray / AstrayMm))) + 1e-6;
            }

            wide = Math.Max(1, 0.6 * wide);
        }

        double[] left = [.. y.Select((v, i) => v - a - (b * (at[i] - 0.5)))];
        return (left.Zip(sigma, (r, s) => Math.Log(Near(r, s) + (Astray / AstrayMm))).Sum(), left.Select(Math.Abs).Order().ElementAt(n / 2));
    }

    private static double Near(double off, double sigma) => (1 - Astray) * Math.Exp(-off * off / (2 * sigma * sigma)) / (sigma * Math.Sqrt(2 * Math.PI));
}
