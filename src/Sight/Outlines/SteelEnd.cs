using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Where steel ends along the edge, by what lies just behind the edge's line: gone along from the blade's middle toward its heel, bevel and flank change gently or in stains, and the first sharp
/// step greater than any before it is where the steel is left. Shadows beside the heel's face lie beyond that, whatever outline they make.
/// </summary>
internal static class SteelEnd
{
    /// <summary>It is sought so far inside the supposed heel and beyond it, and steel's own steps are told from so far on, mm. Chosen.</summary>
    private const double InsideMm = 8, BeyondMm = 7, SteelFromMm = 25;

    /// <summary>The step must be so many times greater than any before it, and at least this (natural logarithm of light). Chosen.</summary>
    private const double TimesGreater = 1.6, LeastStep = 0.08;

    /// <summary>Steps next to each other are one, mm. Chosen.</summary>
    private const double OneStepMm = 1;

    /// <summary>Rows behind the edge's line: on the bevel, and on the flank, mm. Chosen.</summary>
    private static readonly (double FromMm, double ToMm)[] s_strips = [(0.15, 0.55), (1, 3)];

    private const double StepMm = 0.05;
    private const int Rows = 6;

    /// <summary>Places along the edge, mm from the supposed heel toward the tip; at most one for bevel and flank each.</summary>
    /// <param name="lightAt">The photo's light at a place on the mat.</param>
    /// <param name="heel">The supposed heel.</param>
    /// <param name="forward">Along the edge toward the tip.</param>
    /// <param name="face">Along the heel's face, into the blade.</param>
    /// <param name="blurMm">The camera's blur on the mat.</param>
    public static IEnumerable<double> Along(Func<Point2, double> lightAt, Point2 heel, Vector2 forward, Vector2 face, double blurMm)
    {
        const double dark = 0.02;
        double half = (1.5 * blurMm) + StepMm;
        int n = (int)((SteelFromMm + BeyondMm + (2 * half)) / StepMm);
        int apart = (int)(half / StepMm);
        foreach ((double from, double to) in s_strips)
        {
            double[] depths = [.. Enumerable.Range(0, Rows).Select(i => from + blurMm + ((to - from) * i / (Rows - 1)))];
            double At(int i) => SteelFromMm + half - (i * StepMm);
            double[] tone = [.. Enumerable.Range(0, n).Select(i => depths.Average(d => Math.Log(lightAt(heel + (forward * At(i)) + (face * (d / Math.Max(0.3, Math.Abs(face.Cross(forward)))))) + dark)))];
            double Step(int i) => Math.Abs(tone[i + apart] - tone[i - apart]);
            double greatest = 0;
            for (int i = apart; i < n - apart; i++)
            {
                int before = i - (int)(OneStepMm / StepMm);
                if (before >= apart)
                    greatest = Math.Max(greatest, Step(before));
                if (At(i) > InsideMm || Step(i) < Math.Max(LeastStep, TimesGreater * greatest))
                    continue;
                int end = Enumerable.Range(i, Math.Min(2 * apart, n - apart - i)).MaxBy(Step);
                yield return At(end);
                break;
            }
        }
    }
}
