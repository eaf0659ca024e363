using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>A chip of the edge.</summary>
/// <param name="From">First station.</param>
/// <param name="To">Last station.</param>
/// <param name="DepthMm">Greatest depth.</param>
/// <param name="WidthMm">Width at the edge.</param>
/// <param name="Middle">Station of the middle.</param>
internal sealed record SeenChip(int From, int To, double DepthMm, double WidthMm, int Middle);

/// <summary>Finds chips: notches that explain the photo along the smooth edge better than stains of the steel do (<see cref="NotchModel"/>, <see cref="ChipEvidence"/>).</summary>
internal sealed class ChipFinder(PhotoSampler sampler, LensMap map, double sigmaPx)
{
    /// <summary>Log odds from which a place is called a chip. Chosen so that one in thirty training photos shows one that is none.</summary>
    public const double LeastLogOdds = 0;

    /// <summary>
    /// Depth to tell for a fitted one. Of small notches the blur hides the ground, a deep fit has at times taken steel in; 0.26 mm + 0.85 of the fit,
    /// from some 560 chips on training photos.
    /// </summary>
    public static double DepthMm(double fittedMm) => 0.26 + (0.85 * fittedMm);

    /// <summary>Chips along a line of evenly spaced stations, with their depth at each station.</summary>
    /// <param name="line">The smooth edge.</param>
    /// <param name="inward">Normals toward the steel.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    public (IReadOnlyList<SeenChip> Chips, double[] DepthMm) Find(Point2[] line, Vector2[] inward, double pxMm)
    {
        double ds = line[0].DistanceTo(line[1]);
        double[] depth = new double[line.Length];
        var chips = new List<SeenChip>();
        foreach ((NotchFit notch, ChipEvidence evidence) in Weighed(line, inward, pxMm))
        {
            if (evidence.LogOdds < LeastLogOdds)
                continue;
            int Station(double mm) => Math.Clamp((int)Math.Round(mm / ds), 0, line.Length - 1);
            NotchShape shape = notch.Shape with { DepthMm = DepthMm(notch.Shape.DepthMm) };
            double half = shape.WidthMm / 2;
            SeenChip chip = new(Station(notch.AtMm - half), Station(notch.AtMm + half), shape.DepthMm, shape.WidthMm, Station(notch.AtMm));
            for (int i = chip.From; i <= chip.To; i++)
                depth[i] = Math.Max(depth[i], shape.At((i * ds) - notch.AtMm));
            chips.Add(chip);
        }

        return ([.. chips.OrderBy(c => c.Middle)], depth);
    }

    /// <summary>All places that look like notches, with what speaks for and against them.</summary>
    internal IReadOnlyList<(NotchFit Notch, ChipEvidence Evidence)> Weighed(Point2[] line, Vector2[] inward, double pxMm)
    {
        if (line.Length < 2)
            return [];
        var search = new NotchSearch(EdgeStrip.Along(sampler, map, EvenEdge.Of(line), inward, line[0].DistanceTo(line[1]), pxMm), Math.Max(0.45, sigmaPx) * pxMm);
        return [.. search.Find().Select(f => (f, search.Weigh(f)))];
    }
}
