using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// What the first millimetre of steel says of a long side. An edge's bevel is a facet of its own: a band of another tone along the rim, begun and ended sharply. A spine's flank goes on
/// evenly to its rim; where the camera looks from the spine's own side it sees the spine's face, a dark band too, so that there a dark one says nothing. A lamp's shadow
/// taken for steel is a dark band as well, but darkens by degrees toward the steel.
/// </summary>
internal static class RimBand
{
    /// <summary>Samples across, from so far outside to so far inside, mm.</summary>
    public const double FromMm = -1, ToMm = 2.5, StepMm = 0.1;

    /// <summary>The band is looked for here, and held against the flank's tone there, mm inside.</summary>
    private const double BandFromMm = 0.3, BandToMm = 0.7, FlankFromMm = 1.5;

    /// <summary>Darker than the flank by less than the first is no band, by more than the second plainly one (natural logarithm). From 160 rendered blades, chosen in between.</summary>
    private const double NoBand = 0.08, PlainBand = 0.25;

    /// <summary>
    /// Logarithms of odds, edge to spine, of a plain band and of none, where the face of a spine cannot be seen: on 97 edges and 114 spines of rendered blades 53 and 3 have one, 20 and 93
    /// none; none counts for less than that, for at few pixels a narrow bevel is not seen. Bright bands are half what a blurred rim makes.
    /// </summary>
    private const double Banded = 2.2, Plain = -1, Bright = -0.4;

    /// <summary>A band brighter than its flank, seen from its own side: a spine's face lies in its own shade. 24 edges and 1 spine of 73 and 64.</summary>
    private const double BrightFromSide = 1.5;

    /// <summary>The paper falls off to the band over so many times what the photo's blur makes of a step: below, a facet's rim; above, a shadow's. Chosen: nine of ten edges lie below 1.5.</summary>
    private const double SharpFall = 1.5, SoftFall = 1.9;

    /// <summary>Quarter to three quarters of a step blurred by a normal one, in its standard deviations.</summary>
    private const double Quartiles = 1.349;

    /// <summary>The camera sees a spine's face where it stands outward of it by more than this (place over height), give or take so much. Chosen: a face a tenth of a millimetre wide.</summary>
    private const double FacingView = 0.05, FacingGive = 0.03;

    private const double Foot = 0.02;

    private const int SectionPoints = 30;

    /// <summary>Logarithm of the odds of a side to be the edge, against the spine.</summary>
    public static double Odds(SmoothEdge side, PhotoSampler sampler, LensMap map, MatCamera camera, double blurMm)
    {
        Point2[] line = Contour.Open([.. side.Points()], 0.4);
        Vector2[] inward = OutlineView.Inward(line, side.Outward);
        var sections = new List<double[]>();
        for (int from = 3; from + SectionPoints < line.Length - 3; from += SectionPoints)
        {
            var light = new double[(int)Math.Round((ToMm - FromMm) / StepMm) + 1];
            for (int k = 0; k < light.Length; k++)
            {
                double at = FromMm + (k * StepMm);
                light[k] = Median(Enumerable.Range(from, SectionPoints).Select(i => sampler.At(map.ToPhoto(line[i] + (inward[i] * at))) is var (b, g, r) ? (double)b + g + r : 0));
            }

            sections.Add(light);
        }

        return sections.Count == 0 ? 0 : Odds(sections, camera.Parallax(line[line.Length / 2], 1).Dot(side.Outward), blurMm);
    }

    /// <summary>The same from the light across it.</summary>
    /// <param name="sections">Linear light of places along the side, each from <see cref="FromMm"/> to <see cref="ToMm"/> inside.</param>
    /// <param name="outwardView">How far a millimetre of height moves what is seen outward, mm: positive where the camera stands over the blade's other side.</param>
    /// <param name="blurMm">Standard deviation of the photo's blur on the mat.</param>
    public static double Odds(IReadOnlyList<double[]> sections, double outwardView, double blurMm)
    {
        double band = Median(sections.Select(BandOf));
        double[] falls = [.. sections.Select(FallMm).OfType<double>()];
        double fall = falls.Length > sections.Count / 2 ? Median(falls) / (Quartiles * blurMm) : 1;
        double plainly = Math.Clamp((-band - NoBand) / (PlainBand - NoBand), 0, 1);
        double sharp = Math.Clamp((SoftFall - fall) / (SoftFall - SharpFall), 0, 1);
        double hidden = band > NoBand ? Bright : ((1 - plainly) * Plain) + (plainly * sharp * Banded);
        double facing = BrightFromSide * Math.Clamp((band - (NoBand / 2)) / NoBand, 0, 1);
        double share = 1 / (1 + Math.Exp(-(outwardView + FacingView) / FacingGive));
        return (share * hidden) + ((1 - share) * facing);
    }

    private static int Index(double mm) => (int)Math.Round((mm - FromMm) / StepMm);

    // The darkest of the band against the flank.
    private static double BandOf(double[] light)
    {
        double darkest = Darkest(light) is var k ? light[k] : 0;
        return Math.Log(darkest + Foot) - Median(light[Index(FlankFromMm)..].Select(l => Math.Log(l + Foot)));
    }

    private static int Darkest(double[] light) => Enumerable.Range(Index(BandFromMm), Index(BandToMm) - Index(BandFromMm) + 1).MinBy(k => light[k]);

    // Over how much the light falls from a quarter to three quarters of the way from the paper to the band.
    private static double? FallMm(double[] light)
    {
        const double least = 0.05;
        double paper = light[Index(-0.75)];
        int end = Darkest(light);
        double depth = paper - light[end];
        return depth < least * paper ? null : Cross(0.75) - Cross(0.25);

        double Cross(double share)
        {
            double level = paper - (share * depth);
            int k = end;
            while (k > 0 && light[k] < level)
                k--;
            return FromMm + (StepMm * (k + ((light[k] - level) / Math.Max(1e-9, light[k] - light[k + 1]))));
        }
    }

    private static double Median(IEnumerable<double> values)
    {
        double[] v = [.. values.Order()];
        return v[v.Length / 2];
    }
}
