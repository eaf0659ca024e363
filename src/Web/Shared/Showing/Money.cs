using System.Globalization;

namespace Whetwright.Web.Shared.Showing;

/// <summary>Amounts of money as people write them.</summary>
public static class Money
{
    private static readonly (string Code, string Sign, int Decimals)[] KnownCurrencies =
    [
        ("AUD", "A$", 2), ("BRL", "R$", 2), ("CAD", "C$", 2), ("CHF", "CHF", 2), ("CZK", "Kč", 2), ("DKK", "kr.", 2), ("EUR", "€", 2),
        ("GBP", "£", 2), ("HUF", "Ft", 2), ("INR", "₹", 2), ("JPY", "¥", 0), ("KRW", "₩", 0), ("MXN", "MX$", 2), ("NOK", "kr", 2),
        ("NZD", "NZ$", 2), ("PLN", "zł", 2), ("RON", "lei", 2), ("SEK", "kr", 2), ("TRY", "₺", 2), ("USD", "$", 2), ("ZAR", "R", 2),
    ];

    /// <summary>Codes we know a sign for (ISO 4217, from memory); any other code of three letters is shown as the code with two decimals.</summary>
    public static IReadOnlyList<string> Codes { get; } = [.. KnownCurrencies.Select(c => c.Code)];

    /// <summary>Decimals of a currency (ISO 4217).</summary>
    public static int Decimals(string code)
    {
        foreach ((string known, _, int decimals) in KnownCurrencies)
        {
            if (known == code)
                return decimals;
        }

        return 2;
    }

    /// <summary>An amount from the currency's smallest unit.</summary>
    public static decimal FromMinor(long minor, string code) => minor / Scale(code);

    /// <summary>An amount in the currency's smallest unit; halves away from zero.</summary>
    public static long ToMinor(decimal amount, string code) => (long)decimal.Round(amount * Scale(code), MidpointRounding.AwayFromZero);

    /// <summary>An amount with its sign where the culture puts it.</summary>
    public static string Text(decimal amount, string code, CultureInfo culture)
    {
        var format = (NumberFormatInfo)culture.NumberFormat.Clone();
        format.CurrencySymbol = Sign(code);
        format.CurrencyDecimalDigits = Decimals(code);
        return amount.ToString("C", format);
    }

    private static decimal Scale(string code) => Decimals(code) == 0 ? 1m : 100m;

    private static string Sign(string code)
    {
        foreach ((string known, string sign, _) in KnownCurrencies)
        {
            if (known == code)
                return sign;
        }

        return code;
    }
}
