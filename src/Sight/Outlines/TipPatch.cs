using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The photo around a tip on a square grid, and what a shape of the tip would show there: steel over paper under the sky, which the steel half hides, and under lamps
/// whose shadows are the steel's own shape shifted; all blurred by the camera. Tones are solved.
/// </summary>
internal sealed partial class TipPatch
{
    /// <summary>What is looked at, mm from where the tip was supposed. Chosen.</summary>
    private const double BehindMm = 6, BeyondMm = 3.5, OutsideMm = 3, InsideMm = 5;

    /// <summary>Steel deeper than this and paper further off count less. Chosen.</summary>
    private const double DeepMm = 1.2, FarMm = 1.8, FadeMm = 0.8;

    /// <summary>Nor does what lies further from the tip than this, mm, unless told otherwise. Chosen.</summary>
    public const double UsualReachMm = 4;

    /// <summary>Shadows fall no further than this, mm. Chosen.</summary>
    private const double MarginMm = 3;

    /// <summary>How far the tones of steel and of its bevel may be off the paper's, in the paper's light: what mirrors a lamp is many times as bright. Chosen.</summary>
    private const double AnyTone = 50;

    /// <summary>The sky's shade: k(r) = z²/(π(r² + z²)²) is a mixture of normal spots; four of equal weight, deviations in heights (χ² of two degrees at its octiles: σ² = 1/(−2 ln U)).</summary>
    private static readonly double[] s_sky = [0.490, 0.714, 1.031, 1.935];

    private const double CoarseMm = 0.35;

    /// <summary>Where among the parts the sky's and the lamps' shares begin, after the paper and its slopes.</summary>
    private const int FirstLight = 3;

    private readonly int _columns, _rows, _margin;
    private readonly double _step;
    private readonly double[] _seen, _weight, _cut;

    /// <summary>Share of the paper's light that no ink takes; null where there is none.</summary>
    private readonly double[]? _clean;

    private readonly double _sigmaMm, _heightMm;
    private readonly EdgeLight _light;
    private readonly Vector2 _view;

    public TipPatch(Func<double, double, (double Light, bool Cut)> light, double pixelMm, double sigmaMm, double heightMm, EdgeLight edge, TipShape supposed, Vector2 view, double reachMm = UsualReachMm, Func<double, double, double>? ink = null)
    {
        _view = view;
        _step = Math.Max(0.06, 0.7 * pixelMm);
        (_sigmaMm, _heightMm, _light) = (sigmaMm, heightMm, edge);
        (_columns, _rows, _margin) = ((int)((BehindMm + BeyondMm) / _step) + 1, (int)((OutsideMm + InsideMm) / _step) + 1, (int)(MarginMm / _step));
        _seen = new double[_columns * _rows];
        _weight = new double[_columns * _rows];
        _cut = new double[_columns * _rows];
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
            {
                (double seen, bool cut) = light(U(c), V(r));
                (_seen[(r * _columns) + c], _cut[(r * _columns) + c]) = (seen, cut ? 1 : 0);
            }
        }

        Level = Math.Max(0.02, _seen.Order().ElementAt((int)(0.6 * _seen.Length)));
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
            {
                int k = (r * _columns) + c;
                double d = Depth(supposed, U(c), V(r));
                double from = Math.Sqrt((U(c) * U(c)) + (V(r) * V(r)));
                double weight = Fade(d - DeepMm) * Fade(-d - FarMm) * Fade((from - reachMm) / 1.5);
                (_weight[k], _cut[k]) = _cut[k] > 0 ? (0.0, weight) : (weight, 0.0);
                _seen[k] /= Level;
            }
        }

        _clean = ink is null ? null : [.. Enumerable.Range(0, _seen.Length).Select(k => 1 - ink(U(k % _columns), V(k / _columns)))];
        AreaMm2 = _weight.Sum() * _step * _step;
    }

    /// <summary>Light of open paper hereabouts, roughly.</summary>
    public double Level { get; }

    /// <summary>How much of the photo counts.</summary>
    public double AreaMm2 { get; }

    private double U(int column) => -BehindMm + (column * _step);

    private double V(int row) => -OutsideMm + (row * _step);

    /// <summary>Weight that holds a tone within a spread, both in the paper's light, against what is seen with its noise. Chosen.</summary>
    private static double Held(double spread) => 0.0004 / (spread * spread);

    private static double Fade(double over) => over > 0 ? Math.Exp(-Math.Pow(over / FadeMm, 2)) : 1;

    private static double Depth(TipShape s, double u, double v) => Math.Min(v - s.EdgeAt(u), ToSpine(s, Math.SinCos(s.AngleRad), u, v));

    private static double ToSpine(TipShape s, (double Sin, double Cos) angle, double u, double v)
    {
        (double sin, double cos) = angle;
        (double x, double y) = (u - s.TipMm, v - s.EdgeAt(s.TipMm));
        double along = Math.Max(0, (-cos * x) + (sin * y));
        return (-sin * x) - (cos * y) - (0.5 * s.SpineBend * along * along);
    }

    /// <summary>Share of a cell that is steel: what two straight sides leave of it.</summary>
    private static double Steel(TipShape s, (double Sin, double Cos) angle, double u, double v, double cell)
    {
        double a = Math.Clamp(0.5 + ((v - s.EdgeAt(u)) / cell), 0, 1);
        if (a <= 0)
            return 0;
        double b = Math.Clamp(0.5 + (ToSpine(s, angle, u, v) / cell), 0, 1);
        double slender = Math.Max(0, angle.Cos);
        return (slender * Math.Max(0, a + b - 1)) + ((1 - slender) * a * b);
    }

    /// <summary>Sum of the weights.</summary>
    public double Weight => _weight.Sum();

    private static double Dot(double[] a, double[] b) => Product(a, b);

    /// <summary>What shows of paper, sky, lamps, flank and bevel for tones 1; their ratio to the paper's tone beforehand and how strongly it is held.</summary>
    private (double[][] Parts, double[] Prior, double[] Tie) Parts(TipShape s)
    {
        double sigma = s.Blur * _sigmaMm / _step;
        int wide = _columns + (2 * _margin);
        int high = _rows + (2 * _margin);
        double[] steel = new double[wide * high];
        (double Sin, double Cos) angle = Math.SinCos(s.AngleRad);
        for (int r = 0; r < high; r++)
        {
            for (int c = 0; c < wide; c++)
                steel[(r * wide) + c] = Steel(s, angle, U(c - _margin), V(r - _margin), _step);
        }

        double[] own = Inner(steel, wide);
        double[] seen = NormalSpot.Blurred(own, _columns, _rows, sigma);
        double[] paper = [.. seen.Select(v => 1 - v)];
        var parts = new List<double[]> { paper };
        var prior = new List<double> { 1 };
        var tie = new List<double> { 0 };
        void Add(double[] part, double ratio, double held)
        {
            parts.Add(part);
            prior.Add(ratio);
            tie.Add(held);
        }

        Add(Sloped(paper, 1, 0), 0, Held(0.01));
        Add(Sloped(paper, 0, 1), 0, Held(0.01));
        double[] sky = Sky(s);
        Add(NormalSpot.Blurred([.. own.Select((v, k) => -(1 - v) * sky[k])], _columns, _rows, sigma), _light.Sky, Held(0.15));
        for (int i = 0; i < s.Lamps.Count; i++)
        {
            double[] soft = NormalSpot.Blurred(steel, wide, high, s.Lamps[i].WidthMm / _step);
            double[] shade = new double[own.Length];
            for (int r = 0; r < _rows; r++)
            {
                for (int c = 0; c < _columns; c++)
                    shade[(r * _columns) + c] = -(1 - own[(r * _columns) + c]) * At(soft, wide, high, c + _margin - (s.Lamps[i].U / _step), r + _margin - (s.Lamps[i].V / _step));
            }

            Add(NormalSpot.Blurred(shade, _columns, _rows, sigma), i < _light.Lamps.Count ? _light.Lamps[i].Share : Math.Clamp(1 - _light.Sky - _light.Lamps.Sum(l => l.Share), 0.05, 0.5), Held(0.15));
        }

        double[] bevel = new double[own.Length];
        double[] shoulder = new double[own.Length];
        double line = Math.Sqrt((sigma * sigma * _step * _step) + 0.005);
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
            {
                int k = (r * _columns) + c;
                double d = V(r) - s.EdgeAt(U(c)) - s.BevelMm;
                bevel[k] = own[k] * Math.Clamp(0.5 - (d / _step), 0, 1);
                shoulder[k] = seen[k] * Math.Exp(-0.5 * d * d / (line * line));
            }
        }

        double[] ground = NormalSpot.Blurred(bevel, _columns, _rows, sigma);
        double[] flank = [.. seen.Select((v, k) => v - ground[k])];
        Add(flank, 1, Held(AnyTone));
        Add(Sloped(flank, 1, 0), 0, Held(0.1));
        Add(Sloped(flank, 0, 1), 0, Held(0.1));
        Add(ground, 1, Held(AnyTone));
        Add(Sloped(ground, 1, 0), 0, Held(0.05));
        Add(shoulder, 0, Held(0.5));
        for (int i = 0; _clean is not null && i < FirstLight + 1 + s.Lamps.Count; i++)
            parts[i] = Times(parts[i], _clean);
        return ([.. parts], [.. prior], [.. tie]);
    }

    private static double[] Times(double[] a, double[] b)
    {
        double[] product = new double[a.Length];
        for (int k = 0; k < product.Length; k++)
            product[k] = a[k] * b[k];
        return product;
    }

    private double[] Sloped(double[] part, double u, double v)
    {
        double[] sloped = new double[part.Length];
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
                sloped[(r * _columns) + c] = part[(r * _columns) + c] * ((u * U(c)) + (v * V(r)));
        }

        return sloped;
    }

    private double[] Inner(double[] all, int wide)
    {
        double[] inner = new double[_columns * _rows];
        for (int r = 0; r < _rows; r++)
            Array.Copy(all, ((r + _margin) * wide) + _margin, inner, r * _columns, _columns);
        return inner;
    }

    private (TipShape Of, double[] Share)[] _skies = [];

    /// <summary>Share of the sky that the steel hides from the paper under what is seen; the last two kept, for most steps of a search change the light alone.</summary>
    private double[] Sky(TipShape s)
    {
        (TipShape Of, double[] Share)[] known = _skies;
        foreach ((TipShape of, double[] share) in known)
        {
            if (of.SameSteel(s))
                return share;
        }

        double[] sky = SkyOf(s);
        _skies = [(s, sky), .. known.Take(1)];
        return sky;
    }

    private double[] SkyOf(TipShape s)
    {
        double margin = 3 * _heightMm;
        int wide = (int)((BehindMm + BeyondMm + (2 * margin)) / CoarseMm) + 2;
        int high = (int)((OutsideMm + InsideMm + (2 * margin)) / CoarseMm) + 2;
        double[] steel = new double[wide * high];
        (double Sin, double Cos) angle = Math.SinCos(s.AngleRad);
        for (int r = 0; r < high; r++)
        {
            for (int c = 0; c < wide; c++)
                steel[(r * wide) + c] = Steel(s, angle, -BehindMm - margin + (c * CoarseMm), -OutsideMm - margin + (r * CoarseMm), CoarseMm);
        }

        double[] sum = new double[steel.Length];
        foreach (double spot in s_sky)
        {
            double[] one = NormalSpot.Blurred(steel, wide, high, spot * _heightMm / CoarseMm);
            for (int k = 0; k < sum.Length; k++)
                sum[k] += one[k] / s_sky.Length;
        }

        double[] sky = new double[_columns * _rows];
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
                sky[(r * _columns) + c] = At(sum, wide, high, ((c * _step) + margin + _view.X) / CoarseMm, ((r * _step) + margin + _view.Y) / CoarseMm);
        }

        return sky;
    }

    private static double At(double[] field, int wide, int high, double x, double y)
    {
        x = Math.Clamp(x, 0, wide - 1.001);
        y = Math.Clamp(y, 0, high - 1.001);
        (int i, int j) = ((int)x, (int)y);
        (double fx, double fy) = (x - i, y - j);
        int k = (j * wide) + i;
        return ((1 - fy) * (field[k] + (fx * (field[k + 1] - field[k])))) + (fy * (field[k + wide] + (fx * (field[k + wide + 1] - field[k + wide]))));
    }
}
