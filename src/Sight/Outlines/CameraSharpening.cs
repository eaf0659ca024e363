using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// A camera sharpens its pictures: what it writes is v + a·(v − v∗G), v the light or the code of a pixel, G a normal distribution of some pixels' breadth (unsharp masking).
/// Beside every step that leaves a bright and a dark line which no paper and no shadow has. The printed borders of the fiducials, black beside white and known
/// to be plain, show both lines: there a and G are measured, and with them the sharpening is undone. Nothing finer is gained or lost: noise grows less with it.
/// </summary>
/// <param name="Amount">a.</param>
/// <param name="RadiusPx">Standard deviation of G, px.</param>
/// <param name="OfCodes">Whether v is the code written (after the tone curve) or the light.</param>
/// <param name="BlurPx">Standard deviation of the edge's spread before it was sharpened, px.</param>
/// <param name="Rms">What of the border's profile is left unexplained, as a share of its step.</param>
internal readonly record struct CameraSharpening(double Amount, double RadiusPx, bool OfCodes, double BlurPx, double Rms)
{
    /// <summary>A bright line fainter than this, as a share of the step, is not worth undoing; a profile explained worse than this is not that of a sharpened step. Chosen.</summary>
    private const double LeastLine = 0.01, MostRms = 0.02;

    /// <summary>What a bounded number of steps leaves of the sharpening. Chosen.</summary>
    private const double Left = 0.002;

    /// <summary>Rows undone at once, so that a photo of many megapixels needs no more memory than it has itself, and what they need of their neighbours, in radii.</summary>
    private const int BandRows = 256;
    private const double Neighbours = 14;

    /// <summary>How bright the line beside the step is, as a share of the step: the greatest a·(Φ(x/σ) − Φ(x/√(σ² + r²))).</summary>
    public double LineShare
    {
        get
        {
            (double a, double s, double wide) = (Amount, BlurPx, Math.Sqrt((BlurPx * BlurPx) + (RadiusPx * RadiusPx)));
            return Enumerable.Range(1, 60).Max(i => a * (BlurredStep.Phi(0.1 * i / s) - BlurredStep.Phi(0.1 * i / wide)));
        }
    }

    /// <summary>Measures the sharpening on the fiducials; null where they are too small or cut off, show no sharpened step, or none to speak of.</summary>
    public static CameraSharpening? Of(Picture photo, FoundSheet sheet)
    {
        photo.Bgr.GetArray(out Vec3b[] pixels);
        CameraSharpening? best = null;
        foreach (bool ofCodes in new[] { true, false })
        {
            if (BorderProfile.Of(pixels, photo.WidthPx, photo.HeightPx, sheet, ofCodes) is not { } profile)
                return null;
            CameraSharpening fit = Fit(profile, ofCodes);
            if (best is null || fit.Rms < best.Value.Rms)
                best = fit;
        }

        return best is { LineShare: >= LeastLine, Rms: <= MostRms } ? best : null;
    }

    /// <summary>The photo as it was before the camera sharpened it; null where it did not, or so that it cannot be told. Belongs to the caller.</summary>
    public static Picture? Undone(Picture photo, FoundSheet sheet) => Of(photo, sheet)?.Undone(photo);

    /// <summary>The photo before it was sharpened: v = (w + a·v∗G)/(1 + a), w what was written, settled in steps. Belongs to the caller.</summary>
    public Picture Undone(Picture photo)
    {
        int margin = (int)Math.Ceiling(Neighbours * RadiusPx);
        int steps = (int)Math.Ceiling(Math.Log(Left) / Math.Log(Amount / (1 + Amount)));
        Mat bgr = new(photo.HeightPx, photo.WidthPx, MatType.CV_8UC3);
        for (int from = 0; from < photo.HeightPx; from += BandRows)
        {
            int to = Math.Min(photo.HeightPx, from + BandRows);
            (int above, int below) = (Math.Max(0, from - margin), Math.Min(photo.HeightPx, to + margin));
            using Mat seen = photo.Bgr.RowRange(above, below);
            using Mat written = new();
            seen.ConvertTo(written, MatType.CV_32FC3, 1 / 255.0);
            if (!OfCodes)
                Each(written, SrgbCurve.ToLight);
            using Mat before = written.Clone();
            using Mat smooth = new();
            for (int step = 0; step < steps; step++)
            {
                Cv2.GaussianBlur(before, smooth, new(0, 0), RadiusPx);
                Cv2.AddWeighted(written, 1 / (1 + Amount), smooth, Amount / (1 + Amount), 0, before);
            }

            if (!OfCodes)
                Each(before, SrgbCurve.ToCode);
            using Mat part = before.RowRange(from - above, to - above);
            using Mat into = bgr.RowRange(from, to);
            part.ConvertTo(into, MatType.CV_8UC3, 255);
        }

        return Picture.Own(bgr);
    }

    // The profile of a blurred step that was sharpened: Φ(x/σ) + a·(Φ(x/σ) − Φ(x/√(σ² + r²))). a is solved, σ and r are sought on a grid, then more finely.
    internal static CameraSharpening Fit(double[] profile, bool ofCodes)
    {
        (double sigma, double radius) = (1, 1.5);
        (double amount, double rms) = (0, double.PositiveInfinity);
        foreach ((double reach, double step) in new[] { (1.0, 0.1), (0.1, 0.02) })
        {
            (double s0, double r0) = (sigma, radius);
            for (double s = Math.Max(0.3, s0 - (0.7 * reach)); s <= s0 + (1.5 * reach); s += step)
            {
                for (double r = Math.Max(0.7, r0 - reach); r <= r0 + (1.5 * reach); r += step)
                {
                    (double a, double left) = Amounts(profile, s, r);
                    if (left < rms)
                        (sigma, radius, amount, rms) = (s, r, a, left);
                }
            }
        }

        return new(amount, radius, ofCodes, sigma, rms);
    }

    private static (double Amount, double Rms) Amounts(double[] profile, double sigma, double radius)
    {
        double wide = Math.Sqrt((sigma * sigma) + (radius * radius));
        (double dd, double de, double ee) = (1e-12, 0, 0);
        for (int i = 0; i < profile.Length; i++)
        {
            double x = BorderProfile.AtPx(i);
            double plain = BlurredStep.Phi(x / sigma);
            double d = plain - BlurredStep.Phi(x / wide);
            double e = profile[i] - plain;
            dd += d * d;
            de += d * e;
            ee += e * e;
        }

        double a = Math.Clamp(de / dd, 0, 2);
        return (a, Math.Sqrt(Math.Max(0, ee - (2 * a * de) + (a * a * dd)) / profile.Length));
    }

    private static void Each(Mat mat, Func<double, double> curve)
    {
        Span<Vec3f> at = mat.AsSpan<Vec3f>();
        for (int i = 0; i < at.Length; i++)
            at[i] = new((float)curve(at[i].Item0), (float)curve(at[i].Item1), (float)curve(at[i].Item2));
    }
}
