using System.Numerics;
using OpenCvSharp;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Our own fast sums against the libraries' plain ones.</summary>
public sealed class What_is_computed_several_at_once
{
    [Fact]
    public void Exponentials_are_those_of_the_library_to_some_parts_in_ten_to_the_tenth()
    {
        var random = new Random(11);
        double[] x = [0, -0.0, Math.Log(2) / 2, -Math.Log(2) / 2, 80, -80, .. Enumerable.Range(0, 2000).Select(_ => 160 * (random.NextDouble() - 0.5))];
        foreach (double v in x)
            Assert.InRange(Math.Abs((FastExp.Of(Vector.Create(v))[Vector<double>.Count - 1] / Math.Exp(v)) - 1), 0, 3e-10);
    }

    /// <summary>Reference: OpenCV's separable filter, its border replicated.</summary>
    [Theory]
    [InlineData(61, 40, 1.4)]
    [InlineData(64, 33, 5.0)] // whole blocks alone
    [InlineData(7, 5, 0.6)] // less than a block
    [InlineData(20, 9, 11.0)] // a spot wider than the field
    public void A_field_blurred_by_a_normal_spot_is_that_of_the_library(int wide, int high, double sigma)
    {
        var random = new Random(12);
        double[] field = [.. Enumerable.Range(0, wide * high).Select(_ => random.NextDouble())];
        int reach = (int)Math.Ceiling(3 * sigma);
        double[] kernel = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(i => Math.Exp(-0.5 * i * i / (sigma * sigma)))];
        using Mat weights = Mat.FromPixelData(kernel.Length, 1, MatType.CV_64FC1, kernel.Select(k => k / kernel.Sum()).ToArray());
        using Mat given = Mat.FromPixelData(high, wide, MatType.CV_64FC1, field);
        using Mat blurred = new();
        Cv2.SepFilter2D(given, blurred, MatType.CV_64F, weights, weights, borderType: BorderTypes.Replicate);
        blurred.GetArray(out double[] expected);

        double[] found = NormalSpot.Blurred(field, wide, high, sigma);

        Assert.All(found.Zip(expected), p => Assert.Equal(p.Second, p.First, 1e-12));
    }

    [Fact]
    public void A_spot_smaller_than_a_fifth_of_a_cell_changes_nothing()
    {
        double[] field = [1, 2, 3, 4];
        Assert.Same(field, NormalSpot.Blurred(field, 2, 2, 0.19));
    }

    [Fact]
    public void The_share_of_the_sky_that_is_kept_is_that_of_the_same_steel_and_of_no_other()
    {
        var shape = new TipShape(0.2, 0.1, 0, 0, 0.8, 0, 1, 0.5, []);
        TipPatch Patch() => new((u, v) => (v > 0 && u < 0 ? 0.3 : 0.8 - (0.1 * Math.Exp(-Math.Abs(v))), false), 0.25, 0.2, 0.9, EdgeLight.Usual, shape, new(0, 0));
        TipShape[] after = [shape with { TipMm = -0.6 }, shape with { AngleRad = 1.2 }, shape with { EdgeMm = -0.3 }, shape with { EdgeSlope = 0.1 }, shape with { SpineBend = 0.05 }, shape with { EdgeBend = 0.02 }, shape with { BevelMm = 0.2 }, shape with { Blur = 1.2 }];
        TipPatch one = Patch();
        foreach (TipShape next in after)
        {
            one.Explain(shape);
            Assert.Equal(Patch().Explain(next).Residual, one.Explain(next).Residual);
        }
    }
}
