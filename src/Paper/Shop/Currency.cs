using System.Collections.Frozen;

namespace Whetwright.Paper.Shop;

/// <summary>A currency: its ISO 4217 code, the sign that stands for it, and how many digits its smallest unit has.</summary>
/// <param name="Code">ISO 4217 code, <c>EUR</c>.</param>
/// <param name="Sign">Sign on paper; the code where we know none or the printed face has none.</param>
/// <param name="MinorDigits">Digits after the decimal sign: 2, or 0 or 3 for a few.</param>
public sealed record Currency(string Code, string Sign, int MinorDigits)
{
    // [iso4217], from memory: the units without a hundredth, and with a thousandth.
    private static readonly FrozenSet<string> Whole = FrozenSet.Create(StringComparer.Ordinal, "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF");
    private static readonly FrozenSet<string> Thousandths = FrozenSet.Create(StringComparer.Ordinal, "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND");
    private static readonly FrozenDictionary<string, string> Signs = new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["EUR"] = "€", ["GBP"] = "£", ["USD"] = "$", ["JPY"] = "¥", ["UAH"] = "₴", ["INR"] = "₹", ["TRY"] = "₺", ["PLN"] = "zł", ["CZK"] = "Kč",
        ["SEK"] = "kr", ["NOK"] = "kr", ["DKK"] = "kr", ["ISK"] = "kr",
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>A currency by its code.</summary>
    /// <exception cref="ArgumentException">Not three capital letters.</exception>
    public static Currency Of(string code)
    {
        if (code is not { Length: 3 } || !code.All(char.IsAsciiLetterUpper))
            throw new ArgumentException($"The currency is \"{code}\"; it should be an ISO 4217 code of three capital letters, such as EUR.", nameof(code));
        return new(code, Signs.GetValueOrDefault(code, code), Whole.Contains(code) ? 0 : Thousandths.Contains(code) ? 3 : 2);
    }
}
