using System.Globalization;
using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Metrology;

public sealed class UncertaintyFormatTests
{
    [Theory]
    [InlineData(15.2345, 0.214, "15.23° ± 0.43° (k = 2)")]
    [InlineData(15.25, 0.7, "15.3° ± 1.4° (k = 2)")]
    [InlineData(30, 0.4999, "30.0° ± 1.0° (k = 2)")]
    [InlineData(15, 0.001, "15.00° ± 0.01° (k = 2)")]
    [InlineData(123.4, 60, "120° ± 120° (k = 2)")]
    [InlineData(15, 0, "15.00°")]
    public void The_expanded_uncertainty_has_two_digits_and_the_value_ends_where_it_ends(double value, double u, string shown) =>
        Assert.Equal(shown, UncertaintyFormat.Degrees(MeasuredAngle.FromDegrees(value, u), CultureInfo.InvariantCulture));

    [Fact]
    public void One_digit_shows_as_people_say_it() => Assert.Equal(
        "15.2° ± 0.4° (k = 2)", UncertaintyFormat.Text(15.23, 0.2, "°", CultureInfo.InvariantCulture, significantDigits: 1));

    [Fact]
    public void The_decimal_sign_is_that_of_the_culture() => Assert.Equal(
        "99,50 mm ± 0,40 mm (k = 2)",
        UncertaintyFormat.Millimetres(MeasuredLength.FromMillimetres(99.5, 0.2), CultureInfo.GetCultureInfo("de-DE")));

    [Fact]
    public void A_negative_uncertainty_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(
        () => UncertaintyFormat.Text(15, -0.1, "°", CultureInfo.InvariantCulture));
}
