namespace Whetwright.Sight.Outlines;

/// <summary>
/// The place and shape to tell of a chip that was found. Shapes around the one found are weighed together: how much of what is seen a notch of that shape leaves unexplained, with paper in it that
/// is darker the deeper in and the nearer to its walls, how deep the chip is by <see cref="ChipSize"/>, and how broad chips are that deep. Told is the mean of place, depth, width and roundness.
/// </summary>
internal sealed class ChipShape
{
    // How much each says, in the logarithm of a shape's share: fitted to 149 chips on photographs of Darkroom, judged on thirds left out (bench/Outlines/README.md, "Chips").
    private const double Unexplained = -13, OtherDepth = -18, OtherBreadth = -3;

    /// <summary>So many depths chips are usually wide. Chosen.</summary>
    private const double UsualBreadth = 1.8;

    /// <summary>Shapes that are tried: moved by shares of the width, deeper and wider by factors. Chosen.</summary>
    private static readonly double[] s_aside = [-0.32, -0.18, -0.1, -0.04, 0, 0.04, 0.1, 0.18, 0.32];
    private static readonly double[] s_deeper = [0.5, 0.62, 0.74, 0.86, 1, 1.16, 1.35, 1.6, 1.9];
    private static readonly double[] s_wider = [0.52, 0.64, 0.76, 0.88, 1, 1.14, 1.3, 1.5, 1.75];

    /// <summary>Bounds of what is tried, mm, and widths in depths. Chosen.</summary>
    private const double LeastDeepMm = 0.35, MostDeepMm = 3.6, MostWideMm = 9.5, LeastBreadth = 0.9, MostBreadth = 4.5;

    /// <summary>The edge on both sides that the notch is compared with begins so far from it and is so long, mm. Chosen.</summary>
    private const double BesideFromMm = 0.45, BesideMm = 2;

    /// <summary>Rows that are weighed: from so far outside, to so many depths and so much behind them, mm. Chosen.</summary>
    private const double OutsideMm = 1, DeepestMm = 4.2, OfDepth = 1.9, BehindMm = 0.7;

    /// <summary>Behind this the steel's own tone is seen, mm. Chosen.</summary>
    private const double SteelFromMm = 0.35;

    /// <summary>The shade of a notch's wall falls to a third in so much of its ground, mm. Chosen: 0.3 tells outlines about as well.</summary>
    private const double WallMm = 0.6;

    /// <summary>Unevenness that every row is taken to have, in parts of the paper's light. As in <see cref="NotchModel"/>.</summary>
    private const double UnevenFloor = 0.03;

    /// <summary>Light in a notch, parts of the open paper's, and how much of it depth and either wall take. As in <see cref="NotchLight"/>.</summary>
    private static readonly (double Least, double Most)[] s_bounds = [(0.2, 1.15), (0, 0.9), (0, 0.9), (0, 0.9)];

    /// <summary>Each light is settled in turn so often: further rounds change nothing that matters. Chosen.</summary>
    private const int Rounds = 12;

    /// <summary>So many standard deviations of the blur from a rim it is not seen.</summary>
    private const double HiddenBlurs = 3.5;

    private readonly EdgeStrip _strip;
    private readonly double _atMm, _blurMm, _paper, _none;
    private readonly NotchShape _sized;
    private readonly int _firstColumn, _firstRow, _columns, _rows;
    private readonly double[,] _departs, _steel;
    private readonly double[] _weight, _unbroken;

    private ChipShape(EdgeStrip strip, StripTones tones, double atMm, NotchShape sized, double blurMm)
    {
        (_strip, _atMm, _sized, _blurMm) = (strip, atMm, sized, blurMm);
        double h = strip.StepMm;
        int Column(double mm) => Math.Clamp((int)Math.Round((atMm + mm) / h), 0, strip.Columns - 1);
        int Row(double mm) => Math.Clamp((int)Math.Ceiling((mm - EdgeStrip.FromMm) / h), 0, strip.Rows - 1);
        double half = sized.WidthMm / 2;
        (int before, int beforeTo) = (Column(-half - BesideFromMm - BesideMm), Column(-half - BesideFromMm));
        (int after, int afterTo) = (Column(half + BesideFromMm), Column(half + BesideFromMm + BesideMm));
        double reach = ((s_wider[^1] / 2) + s_aside[^1]) * sized.WidthMm;
        _firstColumn = Column(-reach - (HiddenBlurs * blurMm));
        _columns = Column(reach + (HiddenBlurs * blurMm)) - _firstColumn + 1;
        _firstRow = Row(-OutsideMm);
        _rows = Row(Math.Min(DeepestMm, (OfDepth * sized.DepthMm) + BehindMm)) - _firstRow;
        int steelRow = Row(SteelFromMm);
        double[] meanBefore = new double[strip.Rows];
        double[] meanAfter = new double[strip.Rows];
        double[] uneven = new double[strip.Rows];
        for (int k = 0; k < strip.Rows; k++)
        {
            (meanBefore[k], double varianceBefore) = Spread(before, beforeTo, k);
            (meanAfter[k], double varianceAfter) = Spread(after, afterTo, k);
            uneven[k] = ((varianceBefore + varianceAfter) / 2) + (Math.Pow(meanBefore[k] - meanAfter[k], 2) / 12);
        }

        _weight = [.. Enumerable.Range(_firstRow, _rows).Select(k => 1 / (uneven[k] + (UnevenFloor * UnevenFloor)))];
        double usual = _weight.Average();
        _weight = [.. _weight.Select(w => w / usual)];
        _unbroken = [.. Enumerable.Range(_firstRow, _rows).Select(k => BlurredStep.Phi(-strip.DepthOf(k) / blurMm))];
        _paper = Enumerable.Range(0, 4).Average(k => tones.Mean(_firstColumn, _firstColumn + _columns - 1, k, 0));
        (_departs, _steel) = (new double[_columns, _rows], new double[_columns, _rows]);
        double apart = half + BesideFromMm + (BesideMm / 2);
        for (int i = 0; i < _columns; i++)
        {
            double t = Math.Clamp((((_firstColumn + i) * h) - atMm + apart) / (2 * apart), 0, 1);
            double Plain(int k) => ((1 - t) * meanBefore[k]) + (t * meanAfter[k]);
            for (int k = 0; k < _rows; k++)
            {
                _departs[i, k] = tones[_firstColumn + i, _firstRow + k, 0] - Plain(_firstRow + k);
                _steel[i, k] = Plain(Math.Max(steelRow, _firstRow + k));
                _none += _weight[k] * _departs[i, k] * _departs[i, k];
            }
        }

        (double Mean, double Variance) Spread(int from, int to, int row)
        {
            double mean = tones.Mean(from, to, row, 0);
            double sum = 0;
            for (int i = from; i <= to; i++)
                sum += Math.Pow(tones[i, row, 0] - mean, 2);
            return (mean, sum / (to - from + 1));
        }
    }

    /// <summary>Where its middle lies along the strip, and its shape; as it is where the strip ends beside it.</summary>
    /// <param name="strip">The photo along the edge.</param>
    /// <param name="tones">Its tones.</param>
    /// <param name="atMm">Where it was found.</param>
    /// <param name="sized">As it was found, its depth by <see cref="ChipSize"/>.</param>
    /// <param name="blurMm">Standard deviation of the photo's blur.</param>
    public static (double AtMm, NotchShape Shape) Of(EdgeStrip strip, StripTones tones, double atMm, NotchShape sized, double blurMm)
    {
        double reach = (sized.WidthMm / 2) + BesideFromMm + BesideMm;
        return atMm < reach || atMm + reach > strip.LengthMm ? (atMm, sized) : new ChipShape(strip, tones, atMm, sized, blurMm).Mean();
    }

    private (double AtMm, NotchShape Shape) Mean()
    {
        var tried = new List<(double AsideMm, NotchShape Shape, double Log)>();
        foreach (bool pointed in new[] { true, false })
        {
            foreach (double depth in s_deeper.Select(d => d * _sized.DepthMm).Where(d => d is > LeastDeepMm and < MostDeepMm))
            {
                foreach (double width in s_wider.Select(w => w * _sized.WidthMm).Where(w => w < MostWideMm && w / depth is > LeastBreadth and < MostBreadth))
                {
                    var shape = new NotchShape(depth, width, pointed);
                    tried.AddRange(s_aside.Select(a => a * _sized.WidthMm).Select(a => (a, shape, Log(a, shape))));
                }
            }
        }

        if (tried.Count == 0)
            return (_atMm, _sized);
        double most = tried.Max(t => t.Log);
        (double all, double aside, double deep, double wide, double round) = (0, 0, 0, 0, 0);
        foreach ((double a, NotchShape shape, double log) in tried)
        {
            double share = Math.Exp(log - most);
            (all, aside, deep, wide, round) = (all + share, aside + (share * a), deep + (share * Math.Log(shape.DepthMm)), wide + (share * Math.Log(shape.WidthMm)), round + (share * shape.Roundness));
        }

        return (_atMm + (aside / all), new(Math.Exp(deep / all), Math.Exp(wide / all), round < all / 2) { Roundness = round / all });
    }

    private double Log(double asideMm, NotchShape shape) =>
        (Unexplained * Math.Log(Math.Max(1e-6, Left(asideMm, shape)) / Math.Max(1e-12, _none)))
        + (OtherDepth * Math.Pow(Math.Log(shape.DepthMm / _sized.DepthMm), 2))
        + (OtherBreadth * Math.Pow(Math.Log(shape.WidthMm / shape.DepthMm / UsualBreadth), 2));

    // What a notch leaves of the squares: paper in it, less light the deeper in and beside either wall.
    private double Left(double asideMm, NotchShape shape)
    {
        double h = _strip.StepMm;
        double reach = (shape.WidthMm / 2) + (HiddenBlurs * _blurMm);
        int from = Math.Max(0, (int)((_atMm + asideMm - reach) / h) - _firstColumn);
        int to = Math.Min(_columns - 1, (int)((_atMm + asideMm + reach) / h) + 1 - _firstColumn);
        double square = _none;
        Span<double> light = stackalloc double[4];
        Span<double> both = stackalloc double[16];
        Span<double> seen = stackalloc double[4];
        both.Clear();
        seen.Clear();
        for (int i = from; i <= to; i++)
        {
            double x = ((_firstColumn + i) * h) - _atMm - asideMm;
            double depth = shape.At(x);
            double slope = Math.Clamp((shape.At(x + h) - shape.At(x - h)) / (2 * h), -3, 3);
            double aslant = Math.Sqrt(1 + (slope * slope));
            for (int k = 0; k < _rows; k++)
            {
                double y = _strip.DepthOf(_firstRow + k);
                double within = (depth - y) / aslant;
                double z = within / _blurMm;
                double share = z < -HiddenBlurs ? 0 : Math.Max(0, (z > HiddenBlurs ? 1 : BlurredStep.Phi(z)) - _unbroken[k]);
                if (share < 1e-4)
                    continue;
                double d = _departs[i, k] + (share * _steel[i, k]);
                double w = _weight[k];
                square += w * ((d * d) - (_departs[i, k] * _departs[i, k]));
                light[0] = share * _paper;
                light[1] = -light[0] * Math.Clamp(y / shape.DepthMm, 0, 1);
                double wall = -light[0] * Math.Exp(-Math.Max(0, within) / WallMm);
                (light[2], light[3]) = x < 0 ? (wall, 0.0) : (0.0, wall);
                for (int p = 0; p < 4; p++)
                {
                    seen[p] += w * d * light[p];
                    for (int q = 0; q <= p; q++)
                        both[(4 * p) + q] += w * light[p] * light[q];
                }
            }
        }

        return both[0] < 1e-9 ? _none : square - Explained(both, seen);
    }

    // Least squares, each light within its bounds, one after the other: 2·b·c − c·M·c, of which the lower half of M is given.
    private static double Explained(Span<double> both, Span<double> seen)
    {
        for (int p = 0; p < 4; p++)
        {
            for (int q = p + 1; q < 4; q++)
                both[(4 * p) + q] = both[(4 * q) + p];
        }

        Span<double> c = [1, 0, 0, 0];
        for (int round = 0; round < Rounds; round++)
        {
            for (int p = 0; p < 4; p++)
            {
                double own = both[5 * p];
                if (own > 1e-12)
                    c[p] = Math.Clamp(c[p] + ((seen[p] - Times(both, c, p)) / own), s_bounds[p].Least, s_bounds[p].Most);
            }
        }

        double explained = 0;
        for (int p = 0; p < 4; p++)
            explained += c[p] * ((2 * seen[p]) - Times(both, c, p));
        return explained;

        static double Times(Span<double> both, Span<double> c, int p) => (both[4 * p] * c[0]) + (both[(4 * p) + 1] * c[1]) + (both[(4 * p) + 2] * c[2]) + (both[(4 * p) + 3] * c[3]);
    }
}
