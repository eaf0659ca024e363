using CsCheck;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Quantities;

/// <summary>Angles: typed, shown, added. Expected values are worked by hand.</summary>
public sealed class AngleTests
{
    [Theory]
    [InlineData("12.5", 12.5)]
    [InlineData("12,5", 12.5)]
    [InlineData("12.5°", 12.5)]
    [InlineData("12,5 deg", 12.5)]
    [InlineData("12 degrees", 12)]
    [InlineData("12°30′", 12.5)]
    [InlineData("12° 30' 15\"", 12.504166666666667)]
    [InlineData("12°30′15″", 12.504166666666667)]
    [InlineData("12° 30’ 15”", 12.504166666666667)]
    [InlineData("12°30''", 12.008333333333333)]
    [InlineData("-12°30′", -12.5)]
    [InlineData("30′", 0.5)]
    [InlineData("12°30.5′", 12.508333333333333)]
    [InlineData("12½°", 12.5)]
    [InlineData("0", 0)]
    public void An_angle_with_one_reading_is_read(string text, double degrees) =>
        Assert.Equal(degrees, Assert.IsType<Typed<Angle>.Value>(Angle.Parse(text)).Of.Degrees, 12);

    [Fact]
    public void Radians_are_read_where_they_are_named() =>
        Assert.Equal(0.25, Assert.IsType<Typed<Angle>.Value>(Angle.Parse("0.25 rad")).Of.Radians, 12);

    [Theory]
    [InlineData("15,125")]
    [InlineData("15.125°")]
    public void Three_digits_after_a_lone_separator_are_asked_about(string text)
    {
        var asked = Assert.IsType<Typed<Angle>.Ambiguous>(Angle.Parse(text));

        Assert.Equal(15.125, asked.AsDecimal.Degrees, 12);
        Assert.Equal(15125, asked.AsThousands.Degrees, 9);
    }

    [Theory]
    [InlineData("")]
    [InlineData("°")]
    [InlineData("12°60′")]
    [InlineData("12°30′75″")]
    [InlineData("12.5°30′")]
    [InlineData("30′12°")]
    [InlineData("12°-30′")]
    [InlineData("12°30")]
    [InlineData("12 mm")]
    [InlineData("12 grad")]
    [InlineData("NaN")]
    [InlineData("nan°")]
    [InlineData("infinite")]
    [InlineData("12..5°")]
    [InlineData("1e")]
    [InlineData("rad")]
    public void What_is_not_an_angle_is_refused(string text)
    {
        var refused = Assert.IsType<Typed<Angle>.Refused>(Angle.Parse(text));

        Assert.Contains(text.Length > 0 ? text : "nothing", refused.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_shown_is_read_back_within_half_its_last_place() =>
        Gen.Double[-89, 89].Sample(degrees =>
        {
            Angle angle = Angle.FromDegrees(degrees);
            Assert.Equal(degrees, Assert.IsType<Typed<Angle>.Value>(Angle.Parse(angle.ToText(2))).Of.Degrees, 0.0050001);
            Assert.Equal(degrees, Assert.IsType<Typed<Angle>.Value>(Angle.Parse(angle.ToText(6))).Of.Degrees, 0.00000050001);
        }, iter: 2000, seed: "0000KL30sV5u");

    [Fact]
    public void Angles_add_scale_and_compare()
    {
        Angle a = Angle.FromDegrees(15), b = Angle.FromDegrees(20);

        Assert.Equal(35, (a + b).Degrees, 12);
        Assert.Equal(-5, (a - b).Degrees, 12);
        Assert.Equal(30, (2 * a).Degrees, 12);
        Assert.Equal(7.5, (a / 2).Degrees, 12);
        Assert.Equal(0.75, a / b, 12);
        Assert.True(a < b && b > a && a <= b && b >= a);
        Assert.Equal(b, Angle.Max(a, b));
        Assert.Equal(a, Angle.Min(a, b));
        Assert.Equal(5, (a - b).Abs().Degrees, 12);
        Assert.Equal("0.0°", Angle.FromDegrees(-0.01).ToText(1));
    }
}
