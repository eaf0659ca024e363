using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Whether an outline lies on a rim. Where steel mirrors as bright as the paper the outline runs through the middle of the steel, along a gentle change of what is mirrored: no
/// step of tone is there, and where the blade ends was not seen.
/// </summary>
internal static class RimSeen
{
    /// <summary>A step of tone (natural logarithm, averaged over 2 mm along) less the slopes on both sides; below it there is no rim. Chosen.</summary>
    private const double LeastStep = 0.03;

    /// <summary>The step is sought so far to either side of the outline, mm; taken over a millimetre.</summary>
    private const double ReachMm = 1.2, HalfStepMm = 0.5;

    /// <summary>A longer stretch without a rim is no part of an outline, mm. Chosen: on 60 rendered blades sound outlines have up to 8, torn ones 14 and more.</summary>
    public const double LongestMissingMm = 12;

    /// <summary>Length of the longest stretch without a rim, mm.</summary>
    /// <param name="outline">Closed, points <see cref="EdgeSide.OutlineStepMm"/> apart.</param>
    /// <param name="light">Linear light at a place on the mat, all channels together.</param>
    /// <param name="cut">Whether the photo or the mat ends at a place: there the outline has no rim of its own.</param>
    public static double LongestMissing(Point2[] outline, Func<Point2, double> light, Func<Point2, bool> cut)
    {
        int n = outline.Length;
        bool[] missing = [.. Enumerable.Range(0, n).Select(i => !cut(outline[i]) && Step(outline, i, light) < LeastStep)];
        int run = 0;
        int longest = 0;
        for (int i = 0; i < 2 * n; i++)
        {
            run = missing[i % n] ? run + 1 : 0;
            longest = Math.Max(longest, Math.Min(run, n));
        }

        return longest * EdgeSide.OutlineStepMm;
    }

    public static double LongestMissing(Point2[] outline, PhotoSampler sampler, LensMap map, Func<Point2, bool> cut) =>
        LongestMissing(outline, p => sampler.At(map.ToPhoto(p)) is var (b, g, r) ? b + g + r : 0, cut);

    private static double Step(Point2[] outline, int i, Func<Point2, double> light)
    {
        const int chord = 6;
        const double dark = 0.03;
        int n = outline.Length;
        Vector2 along = outline[(i + chord) % n] - outline[(i - chord + n) % n];
        if (along.Norm < 1e-6)
            return double.PositiveInfinity;
        along = along.Normalized();
        Vector2 across = new(-along.Y, along.X);
        double Tone(double off) => Enumerable.Range(-2, 5).Average(k => Math.Log(light(outline[i] + (along * (0.5 * k)) + (across * off)) + dark));
        double most = 0;
        for (double off = -ReachMm; off <= ReachMm + 0.01; off += 0.3)
        {
            (double before, double from, double to, double after) = (Tone(off - (3 * HalfStepMm)), Tone(off - HalfStepMm), Tone(off + HalfStepMm), Tone(off + (3 * HalfStepMm)));
            most = Math.Max(most, Math.Abs(to - from) - ((Math.Abs(after - to) + Math.Abs(from - before)) / 2));
        }

        return most;
    }
}
