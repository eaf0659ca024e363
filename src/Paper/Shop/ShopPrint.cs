using System.Globalization;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Shop;

/// <summary>How a shop's papers show numbers, dates and money.</summary>
/// <param name="Culture">Order and signs of numbers and dates, names of days and months.</param>
/// <param name="Currency">The shop's currency.</param>
/// <param name="Inches">Lengths in inches in place of millimetres.</param>
public sealed record ShopPrint(CultureInfo Culture, Currency Currency, bool Inches = false)
{
    /// <summary>The same for drawings.</summary>
    public SheetStyle Style => new(Inches, Culture.NumberFormat.NumberDecimalSeparator == ",");

    /// <summary>An amount of money in the currency's smallest unit: <c>12,50 €</c>.</summary>
    public string Money(long minor)
    {
        NumberFormatInfo format = (NumberFormatInfo)Culture.NumberFormat.Clone();
        format.CurrencySymbol = Currency.Sign;
        format.CurrencyDecimalDigits = Currency.MinorDigits;
        format.NegativeSign = "−";
        if (char.IsAsciiLetter(Currency.Sign[^1]) && format.CurrencyPositivePattern == 0)
            format.CurrencyPositivePattern = 2; // "CHF 12.50", not "CHF12.50"
        if (format.CurrencyNegativePattern is 0 or 1 or 2)
            format.CurrencyNegativePattern = format.CurrencyPositivePattern == 2 ? 9 : 1;
        decimal amount = minor;
        for (int i = 0; i < Currency.MinorDigits; i++)
            amount /= 10;
        return Plain(amount.ToString("C", format));
    }

    /// <summary>A rate in thousandths of a percent: <c>19 %</c>, <c>7.7 %</c>.</summary>
    public string Rate(int milliPercent) => Plain((milliPercent / 1000m).ToString("0.###", Culture)) + "\u00a0%";

    /// <summary>A date with its year, as the culture writes it short.</summary>
    public string Date(DateOnly date) => Plain(date.ToString("d", Culture));

    /// <summary>A day to keep: weekday, day and month, <c>Fri 27 Nov</c>.</summary>
    public string Day(DateOnly date) => Plain(date.ToString(
        "ddd " + Culture.DateTimeFormat.MonthDayPattern.Replace("MMMM", "MMM", StringComparison.Ordinal), Culture));

    /// <summary>The same with the year.</summary>
    public string DayAndYear(DateOnly date) => Plain(date.ToString("ddd", Culture)) + " " + Date(date);

    // The narrow and figure spaces of some cultures' numbers are wider or absent in the bundled face.
    private static string Plain(string words) => words.Replace('\u202f', '\u00a0').Replace('\u2009', '\u00a0').Replace('\u2007', '\u00a0');
}
