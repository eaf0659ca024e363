namespace Whetwright.Sight.Outlines;

/// <summary>
/// How much likelier the photo is with a notch at a place of the edge than with an unbroken edge there. Without one, what is seen departs from the edge on both sides as
/// it does elsewhere along this edge, row by row: widely where the steel is stained, hardly where there is paper. With one, paper is seen in it, even and of the paper's
/// colour. Departures follow Student's distribution, for stains and glints have long tails.
/// </summary>
internal sealed class NotchLikelihood
{
    /// <summary>Degrees of freedom of the departures. Chosen.</summary>
    private const double Freedom = 5;

    /// <summary>Places nearer than this depart alike and count as one. Chosen.</summary>
    private const double AlikeMm = 0.35;

    /// <summary>Colour is blurred by the camera's compression and counts half. Chosen.</summary>
    private const double OfColour = 0.5;

    private const double AroundMm = 25;
    private const double EveryMm = 4;
    private const double MarginMm = 0.5;
    private const double LeastShare = 0.01;

    /// <summary>How unevenly the paper's light falls in a notch, and how far its colour may be off in light and in shade, in parts of the paper's light. Chosen.</summary>
    private const double InLight = 0.08;
    private const double InColour = 0.03;
    private const double ColourInShade = 0.08;

    /// <summary>Noise and compression leave no row evener than this, variances of light and colour. Chosen.</summary>
    private const double EvenestLight = 4e-5;
    private const double EvenestColour = 1e-5;

    /// <summary>What is usual must have been seen at so many places. Chosen.</summary>
    private const int Fewest = 5;

    /// <summary>Squares of a normal variable's median and 85th percentile.</summary>
    private const double MedianSquare = 0.455;
    private const double LargeSquare = 2.07;

    private readonly EdgeStrip _strip;
    private readonly double _blurMm;
    private readonly double[] _unbroken;
    private readonly int _steel;
    private readonly int _rim;
    private readonly double[] _floor;
    private readonly Dictionary<int, float[,,]> _usual = [];

    public NotchLikelihood(EdgeStrip strip, double blurMm)
    {
        (_strip, Model, _blurMm, Tones) = (strip, new(strip, blurMm), blurMm, new(strip));
        _unbroken = Model.Unbroken;
        _steel = NotchModel.SteelFrom(_unbroken);
        _rim = Array.FindLastIndex(_unbroken, u => u > 0.95);
        _floor = [Math.Max(EvenestLight, Tones.Noise(0)), Math.Max(EvenestColour, Tones.Noise(1)), Math.Max(EvenestColour, Tones.Noise(2))];
    }

    /// <summary>The strip's light and colour against the paper.</summary>
    public StripTones Tones { get; }

    /// <summary>The notches that are weighed.</summary>
    public NotchModel Model { get; }

    /// <summary>What a notch and the light through it change, to be tried at many places.</summary>
    public IReadOnlyList<Opened> Of(NotchShape shape, LitPatch patch)
    {
        var opened = new List<Opened>();
        int half = (int)Math.Ceiling(((shape.WidthMm / 2) + MarginMm + Math.Abs(patch.AlongMm)) / _strip.StepMm);
        NotchModel.Terms terms = Model.Of(shape, patch);
        for (int j = -half; j <= half; j++)
        {
            for (int k = 0; k < _strip.Rows; k++)
            {
                (double share, double shade, double lit) = terms.At(j, k, _unbroken[k]);
                if (share >= LeastShare || lit >= LeastShare)
                    opened.Add(new(j, k, share, shade, lit));
            }
        }

        return opened;
    }

    /// <summary>Log of the ratio of likelihoods at a place, the notch's light as it fits best; null too near to an end.</summary>
    public double? At(double atMm, NotchShape shape, LitPatch patch, IReadOnlyList<Opened> opened)
    {
        double h = _strip.StepMm;
        int middle = (int)Math.Round(atMm / h);
        (int gap, int side) = Beside(shape.WidthMm);
        int half = opened.Count == 0 ? 0 : opened.Max(o => Math.Abs(o.Column));
        if (middle - Math.Max(half, gap + side) < 0 || middle + Math.Max(half, gap + side) >= _strip.Columns)
            return null;
        double[] before = new double[3 * _strip.Rows];
        double[] after = new double[3 * _strip.Rows];
        for (int i = 0; i < before.Length; i++)
        {
            before[i] = Tones.Mean(middle - gap - side + 1, middle - gap, i / 3, i % 3);
            after[i] = Tones.Mean(middle + gap, middle + gap + side - 1, i / 3, i % 3);
        }

        double reach = gap + (side / 2.0);
        double Plain(int column, int i) => before[i] + ((after[i] - before[i]) * (column + reach) / (2 * reach));
        double paper = (before[0] + before[3] + before[6] + after[0] + after[3] + after[6]) / 6;
        float[,,] usual = Usual(shape.WidthMm);
        int place = Math.Min(usual.GetLength(0) - 1, (int)Math.Round(atMm / EveryMm));
        var fit = default(NotchLight);
        foreach (Opened o in opened)
        {
            double d = Tones[middle + o.Column, o.Row, 0] - Plain(o.Column, 3 * o.Row) + (o.Share * Plain(o.Column, 3 * Math.Max(o.Row, _steel)));
            fit.Add(1 / Variance(usual[place, o.Row, 0], o, _floor[0], InLight), d, paper * o.Share, paper * o.Shade, paper * o.Lit);
        }

        (_, NotchMix mix) = fit.Best(NotchModel.MostLit(patch, 1 - ((before[3 * _rim] + after[3 * _rim]) / 2 / Math.Max(1e-3, paper))));
        double sum = 0;
        foreach (Opened o in opened)
        {
            double light = (mix.Open * o.Share) + (mix.Shade * o.Shade) + (mix.Lit * o.Lit);
            double shaded = Math.Min(1, Math.Abs(1 - (light / Math.Max(o.Share, 0.05))));
            for (int c = 0; c < 3; c++)
            {
                double without = Tones[middle + o.Column, o.Row, c] - Plain(o.Column, (3 * o.Row) + c);
                double with = without + (o.Share * Plain(o.Column, (3 * Math.Max(o.Row, _steel)) + c)) - (c == 0 ? light * paper : 0);
                double wide = usual[place, o.Row, c];
                double narrow = Variance(wide, o, _floor[c], c == 0 ? InLight : InColour + (ColourInShade * shaded));
                double ratio = ((Freedom + 1) / 2 * Math.Log((1 + (without * without / (Freedom * wide))) / (1 + (with * with / (Freedom * narrow))))) + (0.5 * Math.Log(wide / narrow));
                sum += c == 0 ? ratio : OfColour * ratio;
            }
        }

        return sum * h * h / (AlikeMm * AlikeMm);
    }

    // Variance where a share has been opened: the steel that is left departs as usual, the paper hardly.
    private double Variance(double usual, Opened o, double floor, double own)
    {
        double left = _unbroken[o.Row] > 0.97 ? 1 : Math.Max(0, 1 - (o.Share / (1 - _unbroken[o.Row])));
        return floor + (left * left * Math.Max(0, usual - floor)) + (o.Share * o.Share * own * own);
    }

    private (int Gap, int Side) Beside(double widthMm) => ((int)Math.Ceiling(NotchModel.GapMm(widthMm, _blurMm) / _strip.StepMm), (int)Math.Ceiling(NotchModel.BesideMm / _strip.StepMm));

    /// <summary>
    /// How widely each row departs from what is beside a notch of such a width: places every 4 mm, rows, light and colours; variances. Between the median and the largest that is no
    /// exception: chips themselves are no rule.
    /// </summary>
    private float[,,] Usual(double widthMm)
    {
        const double Wider = 0.25;
        int key = (int)Math.Round(Math.Log(Math.Max(0.3, widthMm)) / Wider);
        if (_usual.TryGetValue(key, out float[,,]? usual))
            return usual;
        double h = _strip.StepMm;
        (int gap, int side) = Beside(Math.Exp(key * Wider));
        int reach = gap + side;
        int every = Math.Max(1, (int)(AlikeMm / h));
        int[] at = [.. Enumerable.Range(0, _strip.Columns).Where(i => i % every == 0 && i - reach >= 0 && i + reach < _strip.Columns)];
        usual = new float[(int)(_strip.LengthMm / EveryMm) + 1, _strip.Rows, 3];
        for (int k = 0; k < _strip.Rows; k++)
        {
            for (int c = 0; c < 3; c++)
            {
                double[] square = [.. at.Select(i => Tones[i, k, c] - ((Tones.Mean(i - reach + 1, i - gap, k, c) + Tones.Mean(i + gap, i + reach - 1, k, c)) / 2)).Select(d => d * d)];
                for (int p = 0; p < usual.GetLength(0); p++)
                {
                    int from = Array.FindIndex(at, i => i * h > (p * EveryMm) - AroundMm);
                    int to = Array.FindLastIndex(at, i => i * h < (p * EveryMm) + AroundMm);
                    double[] near = from < 0 || to < from ? [] : square[from..(to + 1)];
                    Array.Sort(near);
                    usual[p, k, c] = (float)(_floor[c] + (near.Length < Fewest ? 0.01 : Math.Max(near[near.Length / 2] / MedianSquare, near[(int)(0.85 * near.Length)] / LargeSquare)));
                }
            }
        }

        return _usual[key] = usual;
    }

    /// <summary>What a notch changes at a place of the strip.</summary>
    /// <param name="Column">From the notch's middle.</param>
    /// <param name="Row">Of the strip.</param>
    /// <param name="Share">Steel that is gone.</param>
    /// <param name="Shade">Light that its depth takes, negative.</param>
    /// <param name="Lit">A lamp's light through it.</param>
    internal readonly record struct Opened(int Column, int Row, double Share, double Shade, double Lit);
}
