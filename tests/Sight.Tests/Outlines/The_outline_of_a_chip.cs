using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Place and shape of a chip that was found a little elsewhere and otherwise, on strips drawn here: blotched steel behind a dark line, seeded.</summary>
public sealed class The_outline_of_a_chip
{
    private const double StepMm = 0.1, BlurMm = 0.1, AtMm = 30;

    [Theory]
    [InlineData(true, 0.4, 0.75, 1.3)]
    [InlineData(true, -0.3, 1.3, 0.8)]
    [InlineData(false, 0.4, 0.75, 1.3)]
    [InlineData(false, -0.3, 1.3, 0.8)]
    public void It_is_found_from_a_shape_that_is_off(bool pointed, double asideMm, double deeper, double wider)
    {
        var truly = new NotchShape(1.8, 3.6, pointed);
        var sized = new NotchShape(1.8 * deeper, 3.6 * wider, !pointed);

        (double at, NotchShape told) = Of(truly, AtMm + asideMm, sized, (_, _) => 1);

        Assert.Equal(AtMm, at, 0.12);
        Assert.True(OffMm3(at - AtMm, told, truly) < 0.2 * OffMm3(asideMm, sized, truly), $"{OffMm3(at - AtMm, told, truly):0.00} of {OffMm3(asideMm, sized, truly):0.00} mm³ are left.");
        Assert.Equal(pointed, told.Roundness < 0.5);
    }

    [Theory]
    [InlineData(true, 1.8)]
    [InlineData(false, 1.8)]
    [InlineData(true, 0.7)]
    [InlineData(false, 0.7)]
    public void It_stays_where_it_was_found_right(bool pointed, double depthMm)
    {
        var truly = new NotchShape(depthMm, 2 * depthMm, pointed);

        (double at, NotchShape told) = Of(truly, AtMm, truly, (_, _) => 1);

        Assert.True(OffMm3(at - AtMm, told, truly) < 0.05, $"{OffMm3(at - AtMm, told, truly):0.00} mm³ off, {at:0.00} {told}.");
    }

    [Fact]
    public void The_shade_of_its_wall_is_part_of_it()
    {
        // Along one flank 0.4 mm of its ground are as dark as the line along the edge.
        var truly = new NotchShape(2, 4, false);

        (double at, NotchShape told) = Of(truly, AtMm + 0.2, new(1.7, 3.4, false), (x, v) => x > AtMm && v > truly.At((x - AtMm) * 1.25) - 0.4 ? 0.12 : 1);

        Assert.Equal(AtMm, at, 0.15);
        Assert.Equal(truly.WidthMm, told.WidthMm, 0.5);
        Assert.Equal(truly.DepthMm, told.DepthMm, 0.3);
    }

    [Fact]
    public void Where_the_edge_ends_beside_it_it_stays_as_it_was_found()
    {
        var sized = new NotchShape(1, 2, false);
        EdgeStrip strip = Drawn(sized, (_, _) => 1);

        Assert.Equal((2.5, sized), ChipShape.Of(strip, new(strip), 2.5, sized, BlurMm));
    }

    [Fact]
    public void Half_round_lies_between_pointed_and_round()
    {
        var half = new NotchShape(2, 4, false) { Roundness = 0.5 };

        // At half of its half width a V is half as deep, an ellipse √(1 − ¼) of its depth.
        Assert.Equal(2 * ((0.5 * 0.5) + (0.5 * Math.Sqrt(0.75))), half.At(1), 1e-9);
        Assert.Equal(0, new NotchShape(2, 4, true).Roundness);
        Assert.Equal(1, new NotchShape(2, 4, false).Roundness);
    }

    private static (double AtMm, NotchShape Shape) Of(NotchShape truly, double foundMm, NotchShape sized, Func<double, double, double> ground)
    {
        EdgeStrip strip = Drawn(truly, ground);
        return ChipShape.Of(strip, new(strip), foundMm, sized, BlurMm);
    }

    private static double OffMm3(double asideMm, NotchShape a, NotchShape b) => Enumerable.Range(-500, 1001).Sum(i => 0.01 * Math.Pow(a.At((i * 0.01) - asideMm) - b.At(i * 0.01), 2));

    // Four by four places in each cell are averaged, as a pixel does.
    private static EdgeStrip Drawn(NotchShape chip, Func<double, double, double> ground)
    {
        var random = new Random(20261201);
        double[,] blotch = new double[60, 8];
        for (int i = 0; i < blotch.Length; i++)
            blotch[i / 8, i % 8] = 0.25 + (0.3 * random.NextDouble());
        double Steel(double x, double v) => v < 0.4 ? 0.12 : blotch[Math.Clamp((int)x, 0, 59), Math.Clamp((int)(v / 0.7), 0, 7)];
        double Tone(double x, double v) => v < 0 ? 0.8 : v < chip.At(x - AtMm) ? 0.8 * ground(x, v) : Steel(x, v);
        return new(60, StepMm, (x, v) =>
        {
            float tone = (float)Enumerable.Range(0, 16).Average(n => Tone(x + (((n % 4) - 1.5) * StepMm / 2), v + (((n / 4) - 1.5) * StepMm / 2)));
            return (tone, tone, tone);
        });
    }
}
