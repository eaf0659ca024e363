using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;
using static Whetwright.Sight.Tests.Outlines.DrawnSections;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// Lines ruled on the mat end where the edge hides the paper, however dark its shadow. Photos drawn here: ink takes the same share of the light in sun and shadow, the
/// shadow falls evenly to the steel's own tone, so that no step is seen at the edge.
/// </summary>
public sealed class Where_ruled_lines_end
{
    private const int PxPerMm = 4, WidthPx = 600, HeightPx = 240;
    private const double PixelMm = 1.0 / PxPerMm;
    private const double Paper = 0.7, Steel = 0.3, ShadowMm = 1.2;
    private const double FirstMm = 7.3, EveryMm = 10, LineMm = 0.12, Ink = 0.19;

    /// <summary>Where the edge runs, a little askew.</summary>
    private static double EdgeAt(double x) => 30 + (0.03 * (x - 75));

    [Fact]
    public void Lines_that_run_in_under_the_edge_are_found_on_the_paper_before_it()
    {
        RuledLines ruled = RuledLines.Find(On(Drawn(down: true)), s_map, Stations(0.3), Inward)!;

        double[] expected = [.. Enumerable.Range(0, 15).Select(k => FirstMm + (EveryMm * k)).Where(x => x is > 6 and < 144)];
        Assert.All(ruled.Lines, l => Assert.True(l.Down));
        Assert.Equal(expected.Length, ruled.Lines.Count);
        Assert.All(expected.Zip(ruled.Lines), p => Assert.Equal(p.First, p.Second.AtMm, 0.1));
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.4)]
    [InlineData(-0.3)]
    public void Where_they_end_the_edge_lies_though_steel_is_as_dark_as_its_shadow(double outsideMm)
    {
        Point2[] stations = Stations(outsideMm);
        RuledLines ruled = RuledLines.Find(On(Drawn(down: true)), s_map, stations, Inward)!;

        IReadOnlyList<RuledEnd> ends = RuledEnd.Of(ruled, stations, Inward);
        double[] everywhere = RuledEnd.Everywhere(ends);
        double[][] costs = [.. ends.Select(e => e.Costs(everywhere, PixelMm, PixelMm))];
        double[] all = [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => costs.Sum(c => c[k]))];

        Assert.True(ends.Count >= 12, $"{ends.Count} ends.");
        double found = EdgeProfile.FromMm + (Array.IndexOf(all, all.Min()) * EdgeProfile.StepMm);
        Assert.Equal(outsideMm, found, 0.15);
        int Sample(double mm) => (int)Math.Round((mm - EdgeProfile.FromMm) / EdgeProfile.StepMm);
        Assert.True(all[Sample(outsideMm - 0.6)] - all.Min() > 12 && all[Sample(outsideMm + 0.6)] - all.Min() > 12, "An edge 0.6 mm off is as likely.");
    }

    [Fact]
    public void A_plain_mat_and_lines_along_the_edge_tell_nothing()
    {
        Assert.Null(RuledLines.Find(On(Drawn(down: null)), s_map, Stations(0.2), Inward));
        Assert.Null(RuledLines.Find(On(Drawn(down: false)), s_map, Stations(0.2), Inward));
    }

    [Fact]
    public void They_outweigh_an_explanation_of_the_light_that_has_the_edge_elsewhere()
    {
        // A wide low lamp's shadow nearly as dark as bevel and flank, sections drawn around its rim: by its light alone the edge is half a millimetre off.
        const double lean = 0.7;
        KnownHeight told = KnownHeight.Told(1.15);
        List<EdgeProfile> plain = DrawnSections.Drawn(share: 0.5, lean, bevel: _ => 0.2, flank: i => 0.18 + (0.1 * ((i * 3) % 10) / 10.0), spread: 0.3, behind: lean);
        double Truth(EdgeProfile s) => True(s.Share) + (lean * HeightAt(s.Share));
        EdgeProfile[] ruled = [.. plain.Select((s, i) => i % 5 != 2 ? s : s with
        {
            Ruled = [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => Math.Min(25, Math.Pow((EdgeProfile.FromMm + (k * EdgeProfile.StepMm) - Truth(s)) / 0.15, 2)))],
        })];

        (double alone, _) = Found(plain, told, Truth);
        (double with, double doubt) = Found(ruled, told, Truth);

        Assert.True(alone > 0.3, $"RMS {alone:0.000} mm by the light alone.");
        Assert.True(with < 0.12, $"RMS {with:0.000} mm with the lines' ends.");
        Assert.True(doubt < 0.15, $"Doubt {doubt:0.00} mm.");
    }

    [Fact]
    public void A_line_that_runs_along_the_edge_is_known_from_where_it_is_clear_of_it()
    {
        // Across the mat at 7.3, 17.3 and 27.3 mm; the last runs out from 0.5 mm before the edge to 4.9.
        Point2[] outline = [.. Enumerable.Range(0, 301).Select(i => new Point2(0.5 * i, EdgeAt(0.5 * i))), new(150, 80), new(0, 80)];

        RuledInk ink = RuledInk.Around(On(Drawn(down: false)), s_map, outline)!;

        Assert.Equal(2, ink.Count); // the first lies further off than is looked at
        Assert.Equal(0.15 * Ink, Enumerable.Range(-40, 81).Sum(k => ink.At(new(8, 27.3 + (0.02 * k)))) * 0.02, 0.1 * 0.15 * Ink); // drawn by fifths of a pixel: three of them, 0.15 mm broad
        Assert.True(ink.At(new(8, 27.3)) > 3 * ink.At(new(8, 27.7)));
        Assert.Equal(0, ink.At(new(8, 22)));
        Assert.Null(ink.Near([new(10, 19), new(90, 25)]));
        Assert.Equal(1, ink.Near([new(10, 19), new(90, 27)])!.Count);
        Assert.Null(RuledInk.Around(On(Drawn(down: null)), s_map, outline));
    }

    [Fact]
    public void Ink_that_runs_along_the_edge_is_not_taken_for_its_shadow()
    {
        // Steel about as bright as the paper; a line 0.9 mm outside the edge all along it.
        const double outMm = 0.9;
        KnownHeight told = KnownHeight.Told(1.15);
        List<EdgeProfile> clean = DrawnSections.Drawn(share: 0, lean: 0, bevel: _ => 0.5, flank: i => 0.45 + (0.08 * ((i * 3) % 10) / 10.0));
        double[] Taken(EdgeProfile s) => [.. Enumerable.Range(0, EdgeProfile.Count).Select(k => 0.15 * Math.Exp(-0.5 * Math.Pow((EdgeProfile.FromMm + (k * EdgeProfile.StepMm) - True(s.Share) + outMm) / 0.22, 2)))];
        EdgeProfile[] unknown = [.. clean.Select(s => s with { Light = [.. s.Light.Select(c => c.Select((v, k) => v * (1 - Taken(s)[k])).ToArray())] })];
        EdgeProfile[] known = [.. unknown.Select(s => s with { Ink = Taken(s) })];

        (double without, _) = Found(unknown, told, s => True(s.Share));
        (double with, _) = Found(known, told, s => True(s.Share));

        Assert.True(without > 0.2, $"RMS {without:0.000} mm not knowing the ink.");
        Assert.True(with < 0.1, $"RMS {with:0.000} mm knowing it.");
    }

    [Fact]
    public void Lines_that_cross_the_edge_fall_out_of_its_sections_and_those_along_it_do_not()
    {
        double[] profile = [.. Enumerable.Range(0, 33).Select(j => j is > 10 and < 22 ? 0.1 : 0)];
        Point2[] at = [.. Enumerable.Range(0, 25).Select(i => new Point2(40 + (0.25 * i), 30))];
        Vector2[] inward = [.. at.Select(_ => new Vector2(0, 1))];

        double[] along = EdgeProfile.InkOf(RuledInk.Of([new(Down: false, 29)], profile), at, inward)!;

        Assert.Equal(0.1, along[(int)((-1 - EdgeProfile.FromMm) / EdgeProfile.StepMm)], 0.01);
        Assert.Equal(0, along[(int)((0.2 - EdgeProfile.FromMm) / EdgeProfile.StepMm)]);
        Assert.Null(EdgeProfile.InkOf(RuledInk.Of([new(Down: true, 43)], profile), at, inward));
        Assert.Null(EdgeProfile.InkOf(RuledInk.Of([new(Down: false, 45)], profile), at, inward));
    }

    private static (double Rms, double DoubtMm) Found(IReadOnlyList<EdgeProfile> sections, KnownHeight told, Func<EdgeProfile, double> truth)
    {
        var fit = new EdgeLightFit(sections, BlurMm, 0.25, told);
        (EdgeLight light, EdgeLightFit.Places places) = fit.Find([new(new double[sections.Count]), .. EdgeSections.BehindRims(sections, told)]);
        return (Math.Sqrt(sections.Select((s, i) => places.InwardMm[i] - truth(s)).Average(d => d * d)), fit.DoubtMm(light, places.InwardMm));
    }

    private static readonly LensMap s_map = LensMap.From([PxPerMm / Focal, 0, -(WidthPx - 1) / 2.0 / Focal, 0, PxPerMm / Focal, -(HeightPx - 1) / 2.0 / Focal, 0, 0, 0, 0], WidthPx, HeightPx);

    private const double Focal = 0.75 * WidthPx;

    private static PhotoSampler On(Picture photo)
    {
        using (photo)
            return PhotoSampler.Around(photo, [new(0, 0), new(WidthPx, HeightPx)], 0);
    }

    private static Point2[] Stations(double outsideMm) => [.. Enumerable.Range(0, 1105).Select(i => new Point2(6 + (0.125 * i), EdgeAt(6 + (0.125 * i)) - outsideMm))];

    private static Vector2[] Inward => [.. Enumerable.Range(0, 1105).Select(_ => new Vector2(-0.03, 1).Normalized())];

    // Lines down the mat, across it, or none.
    private static Picture Drawn(bool? down)
    {
        const int parts = 5;
        using var mat = new Mat(HeightPx, WidthPx, MatType.CV_32FC1);
        for (int row = 0; row < HeightPx; row++)
        {
            for (int column = 0; column < WidthPx; column++)
            {
                double sum = 0;
                for (int part = 0; part < parts * parts; part++)
                {
                    double x = (column + (((part % parts) + 0.5) / parts) - 0.5) / PxPerMm;
                    double y = (row + (((part / parts) + 0.5) / parts) - 0.5) / PxPerMm;
                    double before = EdgeAt(x) - y;
                    double across = down == true ? x : y;
                    double off = Math.Abs(Math.IEEERemainder(across - FirstMm, EveryMm));
                    double ink = down is not null && off < LineMm / 2 ? Ink : 0;
                    sum += before < 0 ? Steel : (1 - ink) * Math.Min(Paper, Steel + ((Paper - Steel) * before / ShadowMm));
                }

                mat.Set(row, column, (float)(sum / (parts * parts)));
            }
        }

        using var soft = new Mat();
        Cv2.GaussianBlur(mat, soft, new Size(0, 0), 0.8);
        var picture = new Mat(HeightPx, WidthPx, MatType.CV_8UC3);
        var random = new Random(20261130);
        for (int row = 0; row < HeightPx; row++)
        {
            for (int column = 0; column < WidthPx; column++)
            {
                double code = 255 * SrgbCurve.ToCode(soft.Get<float>(row, column));
                byte Noisy() => (byte)Math.Clamp(Math.Round(code + (4 * random.NextDouble()) - 2), 0, 255);
                picture.Set(row, column, new Vec3b(Noisy(), Noisy(), Noisy()));
            }
        }

        return Picture.Own(picture);
    }
}
