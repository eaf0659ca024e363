using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>An invented sheet drawn here, four pixels to a millimetre: dark steel below y = 20 mm, paper above it, lines ruled 0.4 mm broad of known ink.</summary>
public sealed class Ink_along_an_edge_whose_chips_are_sought
{
    private const double PxPerMm = 4, EdgeMm = 20, BlurMm = 0.15, HalfMm = 0.4, Taken = 0.25;
    private const double Paper = 0.6, Steel = 0.1;
    private const int WidthPx = 240, HeightPx = 160;

    [Theory]
    [InlineData(true, 30)] // across the edge
    [InlineData(false, EdgeMm - 1.2)] // along it, never over it
    public void Paper_beside_the_edge_is_as_bright_where_a_line_is_ruled_as_elsewhere(bool down, double atMm)
    {
        (EdgeStrip ruled, EdgeStrip plain, EdgeStrip inked) = (Strip(Paper, down, atMm, known: true), Strip(Paper, down, null, known: false), Strip(Paper, down, atMm, known: false));

        Assert.All(Cells(plain).Where(c => plain.DepthOf(c.Row) < -3 * BlurMm), c => Assert.Equal(plain[c.Column, c.Row, 1], ruled[c.Column, c.Row, 1], 0.03));
        Assert.Contains(Cells(plain), c => inked[c.Column, c.Row, 1] < 0.9 * ruled[c.Column, c.Row, 1]);
    }

    [Fact]
    public void Steel_that_a_line_would_cross_stays_as_it_is()
    {
        (EdgeStrip ruled, EdgeStrip plain) = (Strip(Paper, true, 30, known: true), Strip(Paper, true, null, known: false));

        Assert.All(Cells(plain).Where(c => plain.DepthOf(c.Row) > 3 * BlurMm), c => Assert.Equal(plain[c.Column, c.Row, 1], ruled[c.Column, c.Row, 1], 1e-6));
    }

    [Fact]
    public void Overexposed_paper_on_which_ink_is_not_seen_does_not_become_brighter_than_a_photo_can_hold()
    {
        EdgeStrip ruled = Strip(1.6, true, 30, known: true);

        Assert.All(Cells(ruled), c => Assert.InRange(ruled[c.Column, c.Row, 1], 0, 1));
    }

    private static IEnumerable<(int Column, int Row)> Cells(EdgeStrip strip) => Enumerable.Range(8, strip.Columns - 16).SelectMany(i => Enumerable.Range(0, strip.Rows).Select(k => (i, k)));

    private static EdgeStrip Strip(double paper, bool down, double? atMm, bool known)
    {
        using var mat = new Mat(HeightPx, WidthPx, MatType.CV_8UC3);
        for (int row = 0; row < HeightPx; row++)
        {
            for (int column = 0; column < WidthPx; column++)
            {
                (double x, double y) = (column / PxPerMm, row / PxPerMm);
                double light = y > EdgeMm ? Steel : paper * (1 - (atMm is { } at ? Ink((down ? x : y) - at) : 0));
                byte code = (byte)Math.Round(255 * SrgbCurve.ToCode(Math.Min(1, light)));
                mat.Set(row, column, new Vec3b(code, code, code));
            }
        }

        const double focal = 0.75 * WidthPx;
        var map = LensMap.From([PxPerMm / focal, 0, -(WidthPx - 1) / 2.0 / focal, 0, PxPerMm / focal, -(HeightPx - 1) / 2.0 / focal, 0, 0, 0, 0], WidthPx, HeightPx);
        using var photo = Picture.Own(mat.Clone());
        var sampler = PhotoSampler.Around(photo, [new(0, 0), new(WidthPx, HeightPx)], 0);
        if (known)
            sampler = sampler.With(RuledInk.Of([new(down, atMm!.Value)], [.. Enumerable.Range(0, 33).Select(j => Ink((j - 16) * RuledLines.LateralMm))]));
        Point2[] line = [.. Enumerable.Range(0, 180).Select(i => new Point2(10 + (i * 0.2), EdgeMm))];
        return EdgeStrip.Along(sampler, map, line, [.. line.Select(_ => new Vector2(0, 1))], 0.2, 1 / PxPerMm, BlurMm);
    }

    // Share of the light that a line takes, so far from its middle: as a pixel wide as high.
    private static double Ink(double offMm) => Taken * Math.Max(0, 1 - Math.Abs(offMm / HalfMm));
}
