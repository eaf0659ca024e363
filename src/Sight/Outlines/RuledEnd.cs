using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Where a ruled line runs in under the edge: at each depth how much of its ink is seen, in the light of the paper that it darkens, beside what the same look finds where no
/// line is. The ink ends where the paper does.
/// </summary>
/// <param name="AtMm">Where it crosses the line of stations, along it.</param>
/// <param name="Ink">Its ink at each sample of a profile (<see cref="EdgeProfile"/>): the light of paper that has such a dip.</param>
/// <param name="Paper">Light beside the line.</param>
/// <param name="Nothing">What the same look finds to both sides, where there is no line: noise, stains, streaks.</param>
internal sealed record RuledEnd(double AtMm, double[] Ink, double[] Paper, IReadOnlyList<double[]> Nothing)
{
    /// <summary>Where no line is, mm aside; lines lie further apart than that. Chosen.</summary>
    private static readonly double[] s_asideMm = [-4, -3.2, -2.4, 2.4, 3.2, 4];

    /// <summary>Nearer to an end of the edge than this the steel turns away under the line, mm. Chosen.</summary>
    private const double FromEndsMm = 4;

    /// <summary>The edge's direction is that of its chord over twice this, mm. Chosen: the path of an outline is jagged.</summary>
    private const double ChordMm = 1.5;

    /// <summary>A line is as dark as its mean to this share: pixels cut it differently, print is uneven. Chosen.</summary>
    private const double DarknessU = 0.25;

    /// <summary>Noise is never taken for less than this share of the ink. Chosen.</summary>
    private const double LeastNoise = 0.1;

    /// <summary>Degrees of freedom of the noise's distribution (Student's t; Lange, Little and Taylor, 1989, doi 10.2307/2290063): stains and specks lie far out. Chosen.</summary>
    private const double Freedom = 3;

    /// <summary>So many blurs before the edge what is seen is paper alone. Chosen.</summary>
    private const double ClearOfBlur = 1.5;

    /// <summary>Noise hangs together over so many pixels along a line: the camera's compression spreads it. Chosen from trials.</summary>
    private const double PixelsAlike = 1.5;

    /// <summary>How likely it is, against the likeliest place, that a line's end tells nothing: a chip, a speck, a word of print. Chosen.</summary>
    private const double Astray = 0.011;

    private static readonly double[] s_darkness = [0.6, 0.8, 1, 1.2, 1.4];

    /// <summary>The ends of lines along an edge.</summary>
    /// <param name="ruled">The lines.</param>
    /// <param name="line">Stations along the edge on the mat, evenly spaced.</param>
    /// <param name="inward">Their normals, toward the steel.</param>
    public static IReadOnlyList<RuledEnd> Of(RuledLines ruled, Point2[] line, Vector2[] inward)
    {
        double ds = line[0].DistanceTo(line[1]);
        double last = ((line.Length - 1) * ds) - FromEndsMm;
        return [.. ruled.Lines.SelectMany(rule => RuledLines.Crossings(rule, line).Where(at => at * ds > FromEndsMm && at * ds < last).Select(at => Of(ruled, rule, at, line, inward, ds)).OfType<RuledEnd>())];
    }

    /// <summary>−2 log likelihood of the edge at each sample of a profile, above the likeliest.</summary>
    /// <param name="everywhere">What is found beside all the lines (<see cref="Everywhere"/>).</param>
    /// <param name="pixelMm">A pixel on the mat: samples nearer than some of them tell the same.</param>
    /// <param name="blurMm">The camera's blur on the mat.</param>
    public double[] Costs(double[] everywhere, double pixelMm, double blurMm)
    {
        double[] noise = Noise(everywhere);
        double looks = Math.Min(1, EdgeProfile.StepMm / (PixelsAlike * pixelMm));
        double[] costs = [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => Cost(Depth(k), noise, looks, blurMm))];
        double least = costs.Min();
        return [.. costs.Select(c => -2 * Math.Log((Math.Exp(-0.5 * (c - least)) + Astray) / (1 + Astray)))];
    }

    // The paper's light before the edge, as far as it is seen clear of the blur, falls with what the edge covers of it.
    private double Cost(double edgeMm, double[] noise, double looks, double blurMm)
    {
        double clear = edgeMm - (ClearOfBlur * blurMm);
        double[] paper = [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => Paper[Sample(Math.Min(Depth(k), clear))] * BlurredStep.Phi((edgeMm - Depth(k)) / blurMm))];
        double least = double.PositiveInfinity;
        foreach (double darkness in s_darkness)
        {
            double sum = 0;
            for (int k = 0; k < paper.Length; k++)
                sum += Math.Log(1 + (Sq((Ink[k] - (darkness * paper[k])) / noise[k]) / Freedom));
            least = Math.Min(least, Sq((darkness - 1) / DarknessU) + (looks * (Freedom + 1) * sum));
        }

        return least;
    }

    // Half from what is found beside this line, half from beside all lines, at one depth: stains lie here or there, and six looks alone tell a spread badly.
    private double[] Noise(double[] everywhere)
    {
        double[] noise = new double[EdgeProfile.Count];
        for (int k = 0; k < noise.Length; k++)
        {
            double here = SpreadAt(Nothing, k);
            noise[k] = Math.Sqrt(Sq(LeastNoise * Paper[k]) + (0.5 * (Sq(here) + Sq(everywhere[k]))) + 1e-12);
        }

        return noise;
    }

    /// <summary>How far what is found where no line is spreads at each sample, beside all the ends along an edge.</summary>
    public static double[] Everywhere(IReadOnlyList<RuledEnd> all)
    {
        double[][] nothing = [.. all.SelectMany(e => e.Nothing)];
        return [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => SpreadAt(nothing, k))];
    }

    private static double SpreadAt(IReadOnlyList<double[]> nothing, int sample) =>
        Spread([.. nothing.SelectMany(v => new[] { sample - 2, sample, sample + 2 }.Where(j => j >= 0 && j < v.Length).Select(j => v[j]))]);

    /// <summary>Root mean square of all but the tenth furthest from nothing, times what that takes from a normal one: 1/√(1 − 2·z·φ(z)/0.9), z = 1.645.</summary>
    private static double Spread(double[] v)
    {
        double[] squares = [.. v.Select(Sq).Order()];
        return 1.267 * Math.Sqrt(squares.Take(Math.Max(1, (int)(0.9 * squares.Length))).Average());
    }

    private static RuledEnd? Of(RuledLines ruled, RuledLines.RuledLine rule, double at, Point2[] line, Vector2[] inward, double ds)
    {
        int i = Math.Min((int)at, line.Length - 2);
        Vector2 under = rule.Under(inward[i]);
        double sine = under.Dot(inward[i]);
        if (sine < RuledLines.LeastSine)
            return null;
        double cotangent = under.Dot(Chord(line, i, ds)) / sine;
        Point2 crossing = line[i] + ((line[i + 1] - line[i]) * (at - i));
        double[] ink = new double[EdgeProfile.Count];
        double[] paper = new double[EdgeProfile.Count];
        double[][] nothing = [.. s_asideMm.Select(_ => new double[EdgeProfile.Count])];
        for (int k = 0; k < ink.Length; k++)
        {
            double depth = Depth(k);
            int Station(double asideMm) => Math.Clamp((int)Math.Round(at + (((depth * cotangent) + asideMm) / ds)), 0, line.Length - 1);
            (ink[k], paper[k]) = Look(ruled, crossing + (under * (depth / sine)), Chord(line, Station(0), ds), sine);
            for (int j = 0; j < nothing.Length; j++)
            {
                int there = Station(s_asideMm[j] / sine);
                nothing[j][k] = Look(ruled, line[there] + (inward[there] * depth), Chord(line, there, ds), sine).Ink;
            }
        }

        return new(at * ds, ink, paper, nothing);
    }

    // Least squares for the ink that a line's profile would show here, against a straight course of the light from the paper on one side to that on the other. Along the
    // edge, not across the line: to both sides the shadow is then as deep.
    private static (double Ink, double Paper) Look(RuledLines ruled, Point2 p, Vector2 along, double sine)
    {
        IReadOnlyList<double> profile = ruled.Profile;
        int half = profile.Count / 2;
        const int rim = 5;
        Span<double> light = stackalloc double[profile.Count];
        for (int j = 0; j < light.Length; j++)
            light[j] = ruled.Light(p + (along * ((j - half) * RuledLines.LateralMm / sine)));
        double left = Mean(light[..rim]);
        double right = Mean(light[^rim..]);
        (double squares, double products) = (0, 0);
        for (int j = 0; j < light.Length; j++)
        {
            squares += profile[j] * profile[j];
            products += profile[j] * (left + ((right - left) * j / (light.Length - 1)) - light[j]);
        }

        return (products / squares, 0.5 * (left + right));
    }

    private static double Mean(ReadOnlySpan<double> v)
    {
        double sum = 0;
        foreach (double x in v)
            sum += x;
        return sum / v.Length;
    }

    private static Vector2 Chord(Point2[] line, int i, double ds)
    {
        int reach = Math.Max(1, (int)(ChordMm / ds));
        return (line[Math.Min(line.Length - 1, i + reach)] - line[Math.Max(0, i - reach)]).Normalized();
    }

    private static double Depth(int sample) => EdgeProfile.FromMm + (sample * EdgeProfile.StepMm);

    private static int Sample(double depthMm) => Math.Clamp((int)((depthMm - EdgeProfile.FromMm) / EdgeProfile.StepMm), 0, EdgeProfile.Count - 1);

    private static double Sq(double v) => v * v;
}
