using CsCheck;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Quantities;

/// <summary>Lengths: typed, shown, added. 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).</summary>
public sealed class LengthTests
{
    [Theory]
    [InlineData("140 mm", 140)]
    [InlineData("140mm", 140)]
    [InlineData("14 cm", 140)]
    [InlineData("0,25 m", 250)]
    [InlineData("12,5", 12.5)]
    [InlineData("30 µm", 0.03)]
    [InlineData("30 um", 0.03)]
    [InlineData("1/2\"", 12.7)]
    [InlineData("3/8 in", 9.525)]
    [InlineData("1 1/2 in", 38.1)]
    [InlineData("1-1/2 inches", 38.1)]
    [InlineData("5.5\"", 139.7)]
    [InlineData("5.5″", 139.7)]
    [InlineData("5,5”", 139.7)]
    [InlineData("½\"", 12.7)]
    [InlineData("1½ inch", 38.1)]
    [InlineData("-2 MM", -2)]
    [InlineData("2e1 mm", 20)]
    public void A_length_with_one_reading_is_read(string text, double millimetres) =>
        Assert.Equal(millimetres, Assert.IsType<Typed<Length>.Value>(Length.Parse(text)).Of.Millimetres, 10);

    [Fact]
    public void A_bare_number_is_in_the_unit_that_was_asked_for()
    {
        Assert.Equal(50.8, Assert.IsType<Typed<Length>.Value>(Length.Parse("2", LengthUnit.Inch)).Of.Millimetres, 10);
        Assert.Equal(2, Assert.IsType<Typed<Length>.Value>(Length.Parse("2 mm", LengthUnit.Inch)).Of.Millimetres, 10);
    }

    [Fact]
    public void A_thousand_millimetres_or_one_is_asked_about_with_its_unit()
    {
        var asked = Assert.IsType<Typed<Length>.Ambiguous>(Length.Parse("1,000 mm"));

        Assert.Equal(1, asked.AsDecimal.Millimetres);
        Assert.Equal(1000, asked.AsThousands.Millimetres);
    }

    [Theory]
    [InlineData("12 furlong", "furlong")]
    [InlineData("12 m m", "m m")]
    [InlineData("1/2'", "'")]
    [InlineData("mm", "mm")]
    [InlineData("NaN mm", "NaN")]
    [InlineData("12..5 mm", "12..5")]
    [InlineData("1e mm", "1e")]
    [InlineData("", "140 mm")]
    [InlineData("1e308 m", "too large")]
    [InlineData("long", "long")]
    public void What_is_not_a_length_is_refused_by_name(string text, string named)
    {
        var refused = Assert.IsType<Typed<Length>.Refused>(Length.Parse(text));

        Assert.Contains(named, refused.Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void What_is_not_finite_is_no_length(double value)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Length.FromMillimetres(value));
        Assert.Throws<ArgumentOutOfRangeException>(() => Length.FromInches(value));
        Assert.Throws<ArgumentOutOfRangeException>(() => Angle.FromDegrees(value));
        Assert.Throws<ArgumentOutOfRangeException>(() => Angle.FromRadians(value));
        Assert.Throws<ArgumentOutOfRangeException>(() => MeasuredLength.FromMillimetres(1, value));
    }

    [Fact]
    public void A_negative_uncertainty_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MeasuredLength.FromMillimetres(1, -0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MeasuredAngle.FromDegrees(1, -0.1));
    }

    [Theory]
    [InlineData(139.7, "139.70 mm", "5.500 in", "5 1/2 in")]
    [InlineData(12.7, "12.70 mm", "0.500 in", "1/2 in")]
    [InlineData(0, "0.00 mm", "0.000 in", "0 in")]
    [InlineData(-0.0001, "0.00 mm", "0.000 in", "0 in")]
    [InlineData(-38.1, "-38.10 mm", "-1.500 in", "-1 1/2 in")]
    [InlineData(10, "10.00 mm", "0.394 in", "25/64 in")]
    public void It_is_shown_in_millimetres_decimal_inches_or_sixty_fourths(double mm, string inMm, string inInches, string inFractions)
    {
        Length length = Length.FromMillimetres(mm);

        Assert.Equal(inMm, length.ToText(LengthUnit.Millimetre));
        Assert.Equal(inInches, length.ToText(LengthUnit.Inch));
        Assert.Equal(inFractions, length.ToInchFraction());
    }

    [Fact]
    public void What_is_shown_is_read_back_within_half_its_last_place() =>
        Gen.Double[-3000, 3000].Sample(mm =>
        {
            Length length = Length.FromMillimetres(mm);
            Assert.Equal(mm, ReadBack(length.ToText(LengthUnit.Millimetre)), 0.005000001);
            Assert.Equal(mm, ReadBack(length.ToText(LengthUnit.Millimetre, 4)), 0.0000500001);
            Assert.Equal(mm, ReadBack(length.ToText(LengthUnit.Inch, 4)), 25.4 * 0.000005000001);
            Assert.Equal(mm, ReadBack(length.ToInchFraction()), 25.4 / 128 * 1.000001);
        }, iter: 2000, seed: "0000KL30sV5u");

    [Fact]
    public void Lengths_add_scale_and_compare()
    {
        Length a = Length.FromMillimetres(3), b = Length.FromInches(1);

        Assert.Equal(28.4, (a + b).Millimetres, 12);
        Assert.Equal(22.4, (b - a).Millimetres, 12);
        Assert.Equal(-3, (-a).Millimetres);
        Assert.Equal(6, (a * 2).Millimetres);
        Assert.Equal(1.5, (a / 2).Millimetres);
        Assert.Equal(2, (a * 2) / a, 12);
        Assert.True(a < b && b > a && a <= b && b >= a);
        Assert.Equal(3, (-a).Abs().Millimetres);
        Assert.Equal(Length.Zero, default);
    }

    private static double ReadBack(string text) => Length.Parse(text) switch
    {
        Typed<Length>.Value v => v.Of.Millimetres,
        // 1.250 in is truly asked about; the decimal reading is the one that was shown.
        Typed<Length>.Ambiguous a => a.AsDecimal.Millimetres,
        Typed<Length>.Refused r => throw new InvalidOperationException(r.Why),
        _ => throw new InvalidOperationException(),
    };
}
