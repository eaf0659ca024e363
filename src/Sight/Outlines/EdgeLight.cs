using System.Numerics;

namespace Whetwright.Sight.Outlines;

/// <summary>A lamp whose light the blade keeps from the paper beside its edge.</summary>
/// <param name="Share">Its share of the light on open paper.</param>
/// <param name="Lean">How far the shadow's rim lies outside the edge per millimetre of the edge's height, along the edge's mean normal; negative of a lamp that shades the spine's side.</param>
/// <param name="Along">The same along the mean direction of the edge.</param>
/// <param name="Spread">Half-width of the rim's penumbra per millimetre of height: of an evenly bright lamp, a ramp.</param>
internal readonly record struct EdgeLamp(double Share, double Lean, double Along, double Spread);

/// <summary>
/// Light on the paper along a whole edge, and the steel behind it: an even sky that the blade half hides, up to three lamps whose shadows' rims are
/// the edge's own line shifted by the edge's height times the lamp's lean, and a bevel of one width. One set for all sections across the edge.
/// </summary>
/// <param name="HeelMm">Height of the edge over the paper at the heel.</param>
/// <param name="TipMm">The same at the tip.</param>
/// <param name="Sky">Share of the sky in the light on open paper.</param>
/// <param name="Blur">The camera's blur against what the fiducials said.</param>
/// <param name="BevelMm">Width of the bevel as seen; 0 of a bare side, such as spine or heel, which has none.</param>
/// <param name="Lamps">None to three.</param>
internal sealed record EdgeLight(double HeelMm, double TipMm, double Sky, double Blur, double BevelMm, IReadOnlyList<EdgeLamp> Lamps)
{
    private const double LeastHeightMm = 0.11;

    private static readonly double NormalDensity = 1 / Math.Sqrt(2 * Math.PI);

    private const double UsualHeelMm = 1.2;

    /// <summary>What is usual before a photo is seen. Chosen.</summary>
    public static EdgeLight Usual { get; } = new(UsualHeelMm, OutlineBudget.TipHeightMm, 0.45, 1, 0.5, []);

    /// <summary>Parts of a millimetre that a lamp's rim is never sharper than: paper spreads light.</summary>
    private const double SharpestRimMm = 0.08;

    /// <summary>The same at a known height; a search cannot begin on the mat itself.</summary>
    public EdgeLight At(KnownHeight known) => this with { HeelMm = Math.Max(LeastHeightMm, known.HeelMm), TipMm = Math.Max(LeastHeightMm, known.TipMm) };

    /// <summary>A penumbra narrower than this share of its blur is not told from it. Chosen.</summary>
    private const double LeastRamp = 0.3;

    private bool Bare => BevelMm <= 0;

    /// <summary>A wall narrower than this is not told from blur, mm. Chosen.</summary>
    private const double LeastWallMm = 0.12;

    /// <summary>What is known of a bare side's light before it is looked at: that of the edge beside it, but for its lamps, which other sides shade otherwise.</summary>
    /// <param name="heelMm">Height of the side toward the heel.</param>
    /// <param name="tipMm">The same toward the tip.</param>
    public EdgeLight ForBare(double heelMm, double tipMm) => WithSpine(heelMm, tipMm, wallMm: 0) with { Lamps = [] };

    /// <summary>The same of the spine, across the blade from the edge: a lamp that shades the paper beside the one lights it beside the other.</summary>
    /// <param name="heelMm">Height of the spine's upper rim toward the heel.</param>
    /// <param name="tipMm">The same toward the tip.</param>
    /// <param name="wallMm">How much of the spine's own wall is seen outside its upper rim; stands for the bevel.</param>
    public EdgeLight ForSpine(double heelMm, double tipMm, double wallMm) =>
        WithSpine(heelMm, tipMm, wallMm) with { Lamps = [], Elsewhere = Lamps.Sum(l => l.Share * Math.Clamp(l.Lean / SurelyAside, 0, 1)) };

    /// <summary>The same light, lamps and all, on the spine.</summary>
    /// <param name="heelMm">Height of the spine's upper rim at the heel.</param>
    /// <param name="tipMm">The same at the tip.</param>
    /// <param name="wallMm">How much of the spine's own wall is seen outside its upper rim.</param>
    public EdgeLight WithSpine(double heelMm, double tipMm, double wallMm) =>
        this with { HeelMm = Math.Max(LeastHeightMm, heelMm), TipMm = Math.Max(LeastHeightMm, tipMm), BevelMm = wallMm < LeastWallMm ? 0 : wallMm };

    /// <summary>A lamp that leans this much shades one side alone, mm per mm. Chosen.</summary>
    private const double SurelyAside = 0.2;

    /// <summary>Share of lamps that cannot shade this side, for they shade the other.</summary>
    public double Elsewhere { get; init; }

    /// <summary>Height at a share of the way from heel to tip.</summary>
    public double HeightAt(double share) => HeelMm + ((TipMm - HeelMm) * share);

    /// <summary>Half-width of the line of light where bevel meets flank, mm: a shoulder is never quite sharp. Chosen.</summary>
    private const double ShoulderMm = 0.07;

    /// <summary>
    /// What a section shows for tones 1 of open paper, bevel and flank, and for a line of light along the shoulder between them, at the depth x behind the edge as
    /// seen (negative: before it). A camera that looks from the side sees the paper at x + view·z behind the edge. Paper's light is p = 1 − sky·g(x/z + view), which falls
    /// within the blur: seen is p·(1 − Φ(x/σ)) − p′·σ·φ(x/σ), less share·(R(x + (lean + view)·z) − Φ(x/σ)) of each lamp, R its rim's even ramp, blurred.
    /// </summary>
    /// <param name="paper">To be filled.</param>
    /// <param name="bevel">To be filled.</param>
    /// <param name="flank">To be filled.</param>
    /// <param name="shoulder">To be filled.</param>
    /// <param name="from">Depth of the first sample, mm.</param>
    /// <param name="step">Spacing, mm.</param>
    /// <param name="section">Where along the edge, its turn, and how the camera sees it.</param>
    /// <param name="blurMm">The camera's blur by the fiducials, mm on the mat.</param>
    public void Fill(Span<double> paper, Span<double> bevel, Span<double> flank, Span<double> shoulder, double from, double step, EdgeProfile section, double blurMm)
    {
        double z = Math.Max(0.05, HeightAt(section.Share));
        double sigma = Blur * blurMm;
        double line = Math.Sqrt((sigma * sigma) + (ShoulderMm * ShoulderMm));
        (double sin, double cos) = Math.SinCos(section.TurnRad);
        Vector<double> ahead = Vector.CreateSequence(0.0, step);
        for (int k = 0; k < paper.Length; k += Vector<double>.Count)
        {
            Vector<double> x = ahead + Vector.Create(from + (k * step));
            Vector<double> steel = Phi(x / sigma);
            Vector<double> behind = Bare ? steel : Phi((x - Vector.Create(BevelMm)) / sigma);
            Vector<double> t = (x / z) + Vector.Create(section.View);
            Vector<double> root = Vector.SquareRoot((t * t) + Vector<double>.One);
            Vector<double> light = (Vector<double>.One - (Sky * 0.5 * (Vector<double>.One + (t / root)))) * (Vector<double>.One - steel);
            light += Sky * 0.5 * sigma * NormalDensity / z * Exp(x * x * (-0.5 / (sigma * sigma))) / (root * root * root);
            foreach (EdgeLamp lamp in Lamps)
            {
                Vector<double> shade = Rim(x + Vector.Create(RimMm(lamp, z, sin, cos, section.View)), lamp.Spread * z, Math.Sqrt((sigma * sigma) + (SharpestRimMm * SharpestRimMm)));
                light -= lamp.Share * Vector.Max(Vector<double>.Zero, shade - steel);
            }

            Vector<double> off = (x - Vector.Create(BevelMm)) / line;
            Put(Vector.Max(Vector<double>.Zero, light), paper[k..]);
            Put(steel - behind, bevel[k..]);
            Put(behind, flank[k..]);
            Put(Bare ? Vector<double>.Zero : Exp(off * off * -0.5), shoulder[k..]);
        }
    }

    /// <summary>How far outside the edge, as seen, the rim of a lamp's shadow lies in a section, mm.</summary>
    public double RimMm(EdgeLamp lamp, EdgeProfile section)
    {
        (double sin, double cos) = Math.SinCos(section.TurnRad);
        return RimMm(lamp, HeightAt(section.Share), sin, cos, section.View);
    }

    private static double RimMm(EdgeLamp lamp, double z, double sin, double cos, double view) => z * ((lamp.Lean * cos) + (lamp.Along * sin) + view);

    // The blurred ramp of half-width h: the integral of Φ from x − h to x + h over 2h, with ∫Φ(t)dt = t·Φ(t) + φ(t).
    private static Vector<double> Rim(Vector<double> x, double half, double blur)
    {
        if (half < LeastRamp * blur)
            return Phi(x / Math.Sqrt((blur * blur) + (half * half / 3)));
        Vector<double> Integral(Vector<double> t) => (t * Phi(t)) + (NormalDensity * Exp(t * t * -0.5));
        return (Integral((x + Vector.Create(half)) / blur) - Integral((x - Vector.Create(half)) / blur)) * (blur / (2 * half));
    }

    // As BlurredStep.Phi, several at once.
    private static Vector<double> Phi(Vector<double> x) => Vector<double>.One / (Vector<double>.One + Exp(-x * (Vector.Create(1.5976) + (0.07056 * x * x))));

    // Beyond ±80 it is nothing, or all there is.
    private static Vector<double> Exp(Vector<double> x) => FastExp.Of(Vector.Clamp(x, Vector.Create(-80.0), Vector.Create(80.0)));

    private static void Put(Vector<double> from, Span<double> to)
    {
        if (from.TryCopyTo(to))
            return;
        for (int i = 0; i < to.Length; i++)
            to[i] = from[i];
    }

    /// <summary>−2 log of how likely such light is beforehand, but for a constant. All chosen from what lamps and blades are like.</summary>
    /// <param name="known">Height of the middle of the edge where it is known.</param>
    /// <param name="beside">Of a bare side: what the light found along the edge of the same blade tells of it.</param>
    /// <param name="bothSides">Whether the spine's side is seen under it too, so that the lamps are all that the room has, whichever side they shade.</param>
    public double Prior(KnownHeight? known, EdgeLight? beside = null, bool bothSides = false)
    {
        double lift = known is { } height ? Sq((((HeelMm + TipMm) / 2) - height.MiddleMm) / Math.Max(KnownHeight.ToldUMm, height.UMm)) : Sq(Math.Log(HeelMm / UsualHeelMm) / 0.7);
        double tipU = known?.Tip is { } tip ? Math.Max(LeastTipU, tip.UMm / tip.Mm) : UsualTipU;
        double sum = beside is null
            ? lift + Sq(Math.Log(TipMm / Math.Max(LeastHeightMm, known?.TipMm ?? OutlineBudget.TipHeightMm)) / tipU) + Sq((Sky - 0.45) / 0.2) + Sq((Blur - 1) / 0.09) + Sq(Math.Log(BevelMm / 0.55) / 0.5)
            : lift + Sq(Math.Log(TipMm * beside.HeelMm / (HeelMm * beside.TipMm)) / 0.3) + (Bare ? 0 : Sq(Math.Log(BevelMm / beside.BevelMm) / 0.25)) + Sq((Sky - beside.Sky) / 0.1) + Sq((Blur - beside.Blur) / 0.04);
        double total = Sky;
        foreach (EdgeLamp lamp in Lamps)
        {
            total += lamp.Share;
            sum += bothSides ? OfRoom(lamp) : OfOneSide(lamp);
        }

        if (beside is not null)
            sum += Sq(Math.Max(0, total + beside.Elsewhere - 1) / AllU);
        if (bothSides)
            sum += Sq((1 - total) / AllU);
        return sum + (total > 1 + 1e-9 ? double.PositiveInfinity : 0);
    }

    /// <summary>A tip's height that a spine tells is known to this share of it at best; where nothing tells it, to that. Chosen.</summary>
    private const double LeastTipU = 0.1, UsualTipU = 0.4;

    /// <summary>Sky and lamps are all the light there is, but for what the room's walls make of it. Chosen.</summary>
    private const double AllU = 0.07;

    private static double OfOneSide(EdgeLamp lamp) => Sq((lamp.Share - 0.3) / 0.22) + Sq((lamp.Lean - 0.35) / 0.45) + Sq(lamp.Along / 0.35) + Spreading(lamp);

    /// <summary>
    /// Of a lamp that may stand on any side: a room has few, seldom far down, and none straight above, where the photographer's head and hand would shade the blade.
    /// </summary>
    private static double OfRoom(EdgeLamp lamp)
    {
        double aside = Sq(lamp.Lean) + Sq(lamp.Along);
        return 1 + Sq((lamp.Share - 0.3) / 0.3) + (aside / Sq(0.9)) - (2 * Math.Log(1 - Math.Exp(-(aside + 4e-4) / Sq(0.15)))) + Spreading(lamp);
    }

    private static double Spreading(EdgeLamp lamp) => Sq(Math.Log(lamp.Spread / 0.14) / 0.7);

    private static double Sq(double v) => v * v;

    /// <summary>
    /// As a row of numbers for a search, logarithms where they must stay positive. The sky as a share of what the lamps leave it: sky and lamps are at most all of the light,
    /// most rooms lie at that bound, and there neither could change alone.
    /// </summary>
    public double[] ToRow() =>
        [Math.Log(HeelMm), Math.Log(TipMm), Math.Min(1, Sky / Math.Max(LeastSky, 1 - Lamps.Sum(l => l.Share))), Blur, Math.Log(BevelMm), .. Lamps.SelectMany(l => new[] { l.Share, l.Lean, l.Along, Math.Log(l.Spread) })];

    /// <summary>Lamps leave the sky at least this share of the light. Chosen.</summary>
    private const double LeastSky = 0.05;

    /// <summary>From such a row; null where the numbers cannot be.</summary>
    public static EdgeLight? FromRow(double[] p)
    {
        var lamps = new EdgeLamp[(p.Length - 5) / 4];
        double left = 1;
        for (int i = 0; i < lamps.Length; i++)
        {
            int k = 5 + (4 * i);
            if (p[k] is < 0.03 or > 0.9)
                return null;
            left -= p[k];
            lamps[i] = new(p[k], p[k + 1], p[k + 2], Math.Exp(p[k + 3]));
        }

        return p[2] is < 0 or > 1 || left < LeastSky || p[3] is < 0.8 or > 1.4 || (p[4] < Math.Log(0.12) && !double.IsNegativeInfinity(p[4])) || p[4] > Math.Log(2.5) || p[0] < Math.Log(0.1) || p[0] > Math.Log(8) || p[1] < Math.Log(0.1)
            ? null : new(Math.Exp(p[0]), Math.Exp(p[1]), p[2] * left, p[3], Math.Exp(p[4]), lamps);
    }

    /// <summary>First steps of a search along such a row.</summary>
    public static double[] Steps(int length) =>
        [.. new[] { 0.3, 0.3, 0.1, 0.06, 0.25 }.Concat(Enumerable.Range(0, (length - 5) / 4).SelectMany(_ => new[] { 0.08, 0.12, 0.1, 0.4 }))];
}
