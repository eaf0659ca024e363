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

    /// <summary>A handle is thick, and its shadow reaches so far beside it at most, mm. Chosen.</summary>
    private const double ShadowMm = 20;

    /// <summary>A handle's own rim inside its shadow: a step of a tenth in tone; steel that mirrors runs evenly. Chosen.</summary>
    private const double HandleStep = 0.1;

    /// <summary>Length of the longest stretch without a rim, mm.</summary>
    /// <param name="outline">Closed, points <see cref="EdgeSide.OutlineStepMm"/> apart.</param>
    /// <param name="light">Linear light at a place on the mat, all channels together.</param>
    /// <param name="cut">Whether the photo or the mat ends at a place: there the outline has no rim of its own.</param>
    /// <param name="lie">
    /// How the blade lies, where it is known. A handle's soft shadow joins the outline and has no step of its own; where the handle's rim is seen inside it, nothing was lost.
    /// </param>
    public static double LongestMissing(Point2[] outline, Func<Point2, double> light, Func<Point2, bool> cut, BladeLie? lie = null)
    {
        int n = outline.Length;
        bool[] missing = [.. Enumerable.Range(0, n).Select(i => !cut(outline[i]) && Step(outline, i, light) < LeastStep && !HandleInside(outline, i, light, lie))];
        int run = 0;
        int longest = 0;
        for (int i = 0; i < 2 * n; i++)
        {
            run = missing[i % n] ? run + 1 : 0;
            longest = Math.Max(longest, Math.Min(run, n));
        }

        return longest * EdgeSide.OutlineStepMm;
    }

    public static double LongestMissing(Point2[] outline, PhotoSampler sampler, LensMap map, Func<Point2, bool> cut, BladeLie? lie = null) =>
        LongestMissing(outline, p => sampler.At(map.ToPhoto(p)) is var (b, g, r) ? b + g + r : 0, cut, lie);

    /// <summary>Whether a place lies beside a handle whose rim is seen further in.</summary>
    private static bool HandleInside(Point2[] outline, int i, Func<Point2, double> light, BladeLie? lie)
    {
        if (lie is not { HasHandle: true })
            return false;
        (double s, double t) = lie.Of(outline[i]);
        if (s > lie.BladeFromMm)
            return false;
        (double low, double high) = lie.At(s);
        Vector2 inward = lie.Across * (t > (low + high) / 2 ? -1 : 1);
        return Most(outline[i], lie.Axis, inward, 0, Math.Min(ShadowMm, high - low), light) > HandleStep;
    }

    private static double Step(Point2[] outline, int i, Func<Point2, double> light)
    {
        const int chord = 6;
        int n = outline.Length;
        Vector2 along = outline[(i + chord) % n] - outline[(i - chord + n) % n];
        if (along.Norm < 1e-6)
            return double.PositiveInfinity;
        along = along.Normalized();
        return Most(outline[i], along, new(-along.Y, along.X), -ReachMm, ReachMm, light);
    }

    /// <summary>The largest step across a direction between two places beside a place.</summary>
    private static double Most(Point2 at, Vector2 along, Vector2 across, double fromMm, double toMm, Func<Point2, double> light)
    {
        const double dark = 0.03;
        double Tone(double off) => Enumerable.Range(-2, 5).Average(k => Math.Log(light(at + (along * (0.5 * k)) + (across * off)) + dark));
        double most = 0;
        for (double off = fromMm; off <= toMm + 0.01; off += 0.3)
        {
            (double before, double from, double to, double after) = (Tone(off - (3 * HalfStepMm)), Tone(off - HalfStepMm), Tone(off + HalfStepMm), Tone(off + (3 * HalfStepMm)));
            most = Math.Max(most, Math.Abs(to - from) - ((Math.Abs(after - to) + Math.Abs(from - before)) / 2));
        }

        return most;
    }
}
