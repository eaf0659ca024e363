using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The place and shape to tell of a chip that was found. Shapes around the one found are weighed together: how much of what is seen a notch of that shape leaves unexplained, how far the rim of
/// the dark line along the edge lies from its own, how much brighter it is within its rim than behind (where a wall's shade begins is not where the steel does), how deep the chip is by
/// <see cref="ChipSize"/>, and how broad chips are that deep. Told is the mean of place, depth, width and roundness.
/// </summary>
internal sealed class ChipShape
{
    // Weights of the logarithm of what each says, and how they were found: bench/Outlines/README.md, "Chips".
    private const double Unexplained = -6.3, RimOff = -11, Brighter = -17, OtherDepth = -6, OtherBreadth = -3;

    /// <summary>So many depths chips are usually wide. Chosen.</summary>
    private const double UsualBreadth = 1.8;

    /// <summary>Shapes that are tried: moved by shares of the width, deeper and wider by factors. Chosen.</summary>
    private static readonly double[] s_aside = [-0.36, -0.24, -0.16, -0.1, -0.05, 0, 0.05, 0.1, 0.16, 0.24, 0.36];
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

    /// <summary>Light is compared so far within a notch's rim and behind it, mm, at so many places. Chosen.</summary>
    private const double BesideRimMm = 0.25;
    private const int RimPlaces = 39;

    /// <summary>Unevenness that every row is taken to have, in parts of the paper's light. As in <see cref="NotchModel"/>.</summary>
    private const double UnevenFloor = 0.03;

    /// <summary>Light in a notch, parts of the open paper's, and how much its ground may lose. As in <see cref="NotchLight"/>.</summary>
    private const double LeastOpen = 0.2, MostOpen = 1.15, MostShade = 0.9;

    /// <summary>A rim further off than this counts no more, mm. Chosen.</summary>
    private const double MostOffMm = 1;

    /// <summary>So many standard deviations of the blur from a rim it is not seen.</summary>
    private const double HiddenBlurs = 3.5;

    private readonly StripTones _tones;
    private readonly EdgeStrip _strip;
    private readonly RimDips _rim;
    private readonly double _atMm, _blurMm, _paper, _none;
    private readonly NotchShape _sized;
    private readonly int _firstColumn, _firstRow, _columns, _rows;
    private readonly double[,] _departs, _steel;
    private readonly double[] _weight, _unbroken;

    private ChipShape(EdgeStrip strip, StripTones tones, RimDips rim, double atMm, NotchShape sized, double blurMm)
    {
        (_strip, _tones, _rim, _atMm, _sized, _blurMm) = (strip, tones, rim, atMm, sized, blurMm);
        double h = strip.StepMm;
        int Column(double mm) => Math.Clamp((int)Math.Round((atMm + mm) / h), 0, strip.Columns - 1);
        int Row(double mm) => Math.Clamp((int)Math.Ceiling((mm - EdgeStrip.FromMm) / h), 0, strip.Rows - 1);
        double half = sized.WidthMm / 2;
        (int before, int beforeTo) = (Column(-half - BesideFromMm - BesideMm), Column(-half - BesideFromMm));
        (int after, int afterTo) = (Column(half + BesideFromMm), Column(half + BesideFromMm + BesideMm));
        double reach = ((s_wider[^1] / 2) + s_aside[^1]) * sized.WidthMm;
        _firstColumn = Column(-reach - HiddenBlurs * blurMm);
        _columns = Column(reach + HiddenBlurs * blurMm) - _firstColumn + 1;
        _firstRow = Row(-OutsideMm);
        _rows = Row(Math.Min(DeepestMm, (OfDepth * sized.DepthMm) + BehindMm)) - _firstRow;
        int steelRow = Row(SteelFromMm);
        double[] mean0 = new double[strip.Rows];
        double[] mean1 = new double[strip.Rows];
        double[] uneven = new double[strip.Rows];
        for (int k = 0; k < strip.Rows; k++)
        {
            (mean0[k], double variance0) = Spread(before, beforeTo, k);
            (mean1[k], double variance1) = Spread(after, afterTo, k);
            uneven[k] = ((variance0 + variance1) / 2) + (Math.Pow(mean0[k] - mean1[k], 2) / 12);
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
            double Plain(int k) => ((1 - t) * mean0[k]) + (t * mean1[k]);
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
    /// <param name="rim">The rim of the dark line along it, halfway down.</param>
    /// <param name="atMm">Where it was found.</param>
    /// <param name="sized">As it was found, its depth by <see cref="ChipSize"/>.</param>
    /// <param name="blurMm">Standard deviation of the photo's blur.</param>
    public static (double AtMm, NotchShape Shape) Of(EdgeStrip strip, StripTones tones, RimDips rim, double atMm, NotchShape sized, double blurMm)
    {
        double reach = (sized.WidthMm / 2) + BesideFromMm + BesideMm;
        return atMm < reach || atMm + reach > strip.LengthMm ? (atMm, sized) : new ChipShape(strip, tones, rim, atMm, sized, blurMm).Mean();
    }

    private (double AtMm, NotchShape Shape) Mean()
    {
        var tried = new List<(double AsideMm, NotchShape Shape, double Log)>();
        foreach (bool pointed in new[] { true, false })
        {
            foreach (double depth in s_deeper.Select(d => d * _sized.DepthMm).Where(d => d is > LeastDeepMm and < MostDeepMm))
            {
                foreach (double width in s_wider.Select(w => w * _sized.WidthMm).Where(w => w < MostWideMm && w / depth is > LeastBreadth and < MostBreadth))
                    tried.AddRange(s_aside.Select(a => a * _sized.WidthMm).Select(a => (a, new NotchShape(depth, width, pointed), Log(a, new(depth, width, pointed)))));
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
        + (RimOff * RimOffMm(asideMm, shape))
        + (Brighter * BrighterWithin(asideMm, shape))
        + (OtherDepth * Math.Pow(Math.Log(shape.DepthMm / _sized.DepthMm), 2))
        + (OtherBreadth * Math.Pow(Math.Log(shape.WidthMm / shape.DepthMm / UsualBreadth), 2));

    // What a notch leaves of the squares: paper in it, less light the deeper in.
    private double Left(double asideMm, NotchShape shape)
    {
        double h = _strip.StepMm;
        double reach = (shape.WidthMm / 2) + (HiddenBlurs * _blurMm);
        int from = Math.Max(0, (int)((_atMm + asideMm - reach) / h) - _firstColumn);
        int to = Math.Min(_columns - 1, (int)((_atMm + asideMm + reach) / h) + 1 - _firstColumn);
        (double square, double oo, double os, double ss, double o, double s) = (_none, 0, 0, 0, 0, 0);
        for (int i = from; i <= to; i++)
        {
            double x = ((_firstColumn + i) * h) - _atMm - asideMm;
            double depth = shape.At(x);
            double slope = Math.Clamp((shape.At(x + h) - shape.At(x - h)) / (2 * h), -3, 3);
            double soft = _blurMm * Math.Sqrt(1 + (slope * slope));
            for (int k = 0; k < _rows; k++)
            {
                double y = _strip.DepthOf(_firstRow + k);
                double z = (depth - y) / soft;
                double share = z < -HiddenBlurs ? 0 : Math.Max(0, (z > HiddenBlurs ? 1 : BlurredStep.Phi(z)) - _unbroken[k]);
                if (share < 1e-4)
                    continue;
                double d = _departs[i, k] + (share * _steel[i, k]);
                double open = share * _paper;
                double shade = -open * Math.Clamp(y / shape.DepthMm, 0, 1);
                double w = _weight[k];
                square += w * ((d * d) - (_departs[i, k] * _departs[i, k]));
                (oo, os, ss) = (oo + (w * open * open), os + (w * open * shade), ss + (w * shade * shade));
                (o, s) = (o + (w * d * open), s + (w * d * shade));
            }
        }

        if (oo < 1e-9)
            return _none;
        double both = (oo * ss) - (os * os);
        double dim = both > 1e-9 * oo * ss ? Math.Clamp(((s * oo) - (o * os)) / both, 0, MostShade) : 0;
        double light = Math.Clamp((o - (dim * os)) / oo, LeastOpen, MostOpen);
        dim = Math.Min(dim, light);
        return square - (2 * ((light * o) + (dim * s))) + (light * light * oo) + (dim * dim * ss) + (2 * light * dim * os);
    }

    private double RimOffMm(double asideMm, NotchShape shape)
    {
        (double sum, int count) = (0, 0);
        for (int i = 0; i < _columns; i++)
        {
            double x = (_firstColumn + i) * _strip.StepMm;
            if (_rim.InwardMm(x) is { } inward)
                (sum, count) = (sum + Math.Min(MostOffMm, Math.Abs(inward - shape.At(x - _atMm - asideMm))), count + 1);
        }

        return count == 0 ? 0 : sum / count;
    }

    private double BrighterWithin(double asideMm, NotchShape shape)
    {
        (double sum, double length) = (0, 0);
        double half = shape.WidthMm / 2;
        for (int n = 1; n <= RimPlaces; n++)
        {
            double t = shape.Pointed ? (2.0 * n / (RimPlaces + 1)) - 1 : Math.Cos(Math.PI * n / (RimPlaces + 1));
            double root = Math.Sqrt(Math.Max(0, 1 - (t * t)));
            var rim = new Point2(_atMm + asideMm + (t * half), shape.At(t * half));
            Vector2 behind = (shape.Pointed ? new Vector2(Math.Sign(t) * shape.DepthMm / half, 1) : new Vector2(t / half, root / shape.DepthMm)).Normalized();
            double piece = shape.Pointed ? 1 : Math.Sqrt((half * half * root * root) + (shape.DepthMm * shape.DepthMm * t * t));
            sum += piece * (Light(rim + (behind * -BesideRimMm)) - Light(rim + (behind * BesideRimMm)));
            length += piece;
        }

        return sum / length;
    }

    private double Light(Point2 p)
    {
        double h = _strip.StepMm;
        double x = Math.Clamp(p.X / h, 0, _strip.Columns - 1.001);
        double y = Math.Clamp((p.Y - EdgeStrip.FromMm) / h, 0, _strip.Rows - 1.001);
        (int i, int k) = ((int)x, (int)y);
        (double u, double v) = (x - i, y - k);
        return ((1 - v) * (((1 - u) * _tones[i, k, 0]) + (u * _tones[i + 1, k, 0]))) + (v * (((1 - u) * _tones[i, k + 1, 0]) + (u * _tones[i + 1, k + 1, 0])));
    }
}
