using CsCheck;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Quantities;

/// <summary>Numbers as people type them. Expected values are worked by hand.</summary>
public sealed class TypedNumberTests
{
    [Theory]
    [InlineData("12.5", 12.5)]
    [InlineData("12,5", 12.5)]
    [InlineData("2,5", 2.5)]
    [InlineData("0,25", 0.25)]
    [InlineData(" 7 ", 7)]
    [InlineData("-3,25", -3.25)]
    [InlineData("−3.25", -3.25)]
    [InlineData("+4", 4)]
    [InlineData("1e-3", 0.001)]
    [InlineData("2,5e2", 250)]
    [InlineData("1/2", 0.5)]
    [InlineData("3/8", 0.375)]
    [InlineData("1 1/2", 1.5)]
    [InlineData("1-1/2", 1.5)]
    [InlineData("-1 1/2", -1.5)]
    [InlineData("½", 0.5)]
    [InlineData("1½", 1.5)]
    [InlineData("3⁄8", 0.375)]
    [InlineData("1.234,5", 1234.5)]
    [InlineData("1,234.5", 1234.5)]
    [InlineData("1,000,000", 1_000_000)]
    public void A_number_with_one_reading_is_read(string text, double expected) =>
        Assert.Equal(expected, Assert.IsType<Typed<double>.Value>(TypedNumber.Parse(text)).Of, 12);

    [Theory]
    [InlineData("1,000", 1, 1000)]
    [InlineData("1.000", 1, 1000)]
    [InlineData("12,500", 12.5, 12500)]
    [InlineData("-1,250", -1.25, -1250)]
    [InlineData("999.999", 999.999, 999999)]
    public void A_lone_separator_before_exactly_three_digits_is_asked_about(string text, double small, double large)
    {
        var asked = Assert.IsType<Typed<double>.Ambiguous>(TypedNumber.Parse(text));

        Assert.Equal(small, asked.AsDecimal, 12);
        Assert.Equal(large, asked.AsThousands, 12);
        Assert.Contains(text, asked.Question, StringComparison.Ordinal);
        Assert.Contains(large.ToString(System.Globalization.CultureInfo.InvariantCulture), asked.Question, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1.0000", 1)]
    [InlineData("1,00", 1)]
    [InlineData("0,125", 0.125)]
    [InlineData("0.056", 0.056)]
    [InlineData("1234,567", 1234.567)]
    public void Where_no_thousands_can_be_meant_nothing_is_asked(string text, double expected) =>
        Assert.Equal(expected, Assert.IsType<Typed<double>.Value>(TypedNumber.Parse(text)).Of, 12);

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("12..5")]
    [InlineData("12,,5")]
    [InlineData("1,2,3")]
    [InlineData("1,23,456")]
    [InlineData("1.000,")]
    [InlineData("1e")]
    [InlineData("e5")]
    [InlineData("1e+")]
    [InlineData("--1")]
    [InlineData("NaN")]
    [InlineData("-nan")]
    [InlineData("inf")]
    [InlineData("Infinity")]
    [InlineData("∞")]
    [InlineData("1e999")]
    [InlineData("12.")]
    [InlineData(",5")]
    [InlineData(".")]
    [InlineData("1 000")]
    [InlineData("1/0")]
    [InlineData("1/2/3")]
    [InlineData("1.5/2")]
    [InlineData("twelve")]
    [InlineData("0x10")]
    [InlineData("5%")]
    public void What_is_not_understood_is_refused_with_what_would_be_right(string? text)
    {
        var refused = Assert.IsType<Typed<double>.Refused>(TypedNumber.Parse(text));

        Assert.Equal(text ?? "", refused.Text);
        Assert.True(refused.Why.Contains("would be right", StringComparison.Ordinal) || refused.Why.Contains("write", StringComparison.Ordinal)
            || refused.Why.Contains("would be", StringComparison.Ordinal), refused.Why);
    }

    [Fact]
    public void What_is_written_with_a_comma_and_with_a_point_reads_the_same() =>
        Gen.Select(Gen.Int[-99999, 99999], Gen.Int[1, 6]).Where(t => t.Item2 != 3).Sample((n, decimals) =>
        {
            string text = (n / Math.Pow(10, decimals)).ToString("F" + decimals, System.Globalization.CultureInfo.InvariantCulture);
            var point = Assert.IsType<Typed<double>.Value>(TypedNumber.Parse(text));
            var comma = Assert.IsType<Typed<double>.Value>(TypedNumber.Parse(text.Replace('.', ',')));
            Assert.Equal(point.Of, comma.Of);
            Assert.Equal(n / Math.Pow(10, decimals), point.Of, 10);
        }, iter: 2000, seed: "0000KL30sV5u");

    [Fact]
    public void No_text_makes_it_throw_or_yield_what_is_not_finite() =>
        Gen.String["0123456789.,-+ /eE°′″'\"½mincd∞NaN"].Sample(text =>
        {
            if (TypedNumber.Parse(text) is Typed<double>.Value v) Assert.True(double.IsFinite(v.Of));
            if (Length.Parse(text) is Typed<Length>.Value l) Assert.True(double.IsFinite(l.Of.Millimetres));
            if (Angle.Parse(text) is Typed<Angle>.Value a) Assert.True(double.IsFinite(a.Of.Radians));
        }, iter: 20000, seed: "0000KL30sV5u");
}
