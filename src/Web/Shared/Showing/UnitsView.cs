using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Web.Shared.Showing;

/// <summary>
/// Shows numbers the person's way: mm or inches, decimal comma or point, the shop's currency and its local time. Every page takes it by
/// injection; nothing else formats a number.
/// </summary>
public sealed class UnitsView(ViewPreferences preferences, ShopView shop)
{
    private readonly CultureInfo culture = preferences.Culture;

    /// <summary>Unit of lengths.</summary>
    public LengthUnit Unit => preferences.Units;

    /// <summary>Word of the unit of lengths: mm, in.</summary>
    public string UnitWord => preferences.Units.Key();

    /// <summary>The culture of numbers and dates.</summary>
    public CultureInfo Culture => culture;

    /// <summary>A length with its unit; inches get one decimal more, at least three. "—" where there is none.</summary>
    public string Length(double? millimetres, int decimals = 2) =>
        millimetres is { } mm && double.IsFinite(mm) ? $"{LengthNumber(mm, decimals)} {UnitWord}" : "—";

    /// <summary>A length with its unit.</summary>
    public string Length(Length length, int decimals = 2) => Length(length.Millimetres, decimals);

    /// <summary>The number of a length alone, to stand large beside its unit.</summary>
    public string LengthNumber(double millimetres, int decimals = 2) => Unit == LengthUnit.Inch
        ? Number(millimetres / 25.4, Math.Max(3, decimals + 1))
        : Number(millimetres, decimals);

    /// <summary>A length that is a change: with its sign.</summary>
    public string Travel(double millimetres, int decimals = 2) => (millimetres > 0 ? "+" : "") + Length(millimetres, decimals);

    /// <summary>An angle in degrees; "—" where there is none.</summary>
    public string Angle(double? degrees, int decimals = 2) =>
        degrees is { } deg && double.IsFinite(deg) ? Number(deg, decimals) + "°" : "—";

    /// <summary>An angle.</summary>
    public string Angle(Angle angle, int decimals = 2) => Angle(angle.Degrees, decimals);

    /// <summary>An angle with its expanded uncertainty, k = 2: "15.20° ± 0.40°".</summary>
    public string Angle(MeasuredAngle angle, int decimals = 2) =>
        $"{Angle(angle.Value, decimals)} ± {Angle(2 * angle.StandardUncertainty.Degrees, decimals)}";

    /// <summary>A plain number with fixed decimals; a zero has no minus; a true minus sign.</summary>
    public string Number(double value, int decimals = 0)
    {
        string text = value.ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), culture);
        string minus = culture.NumberFormat.NegativeSign;
        if (!text.StartsWith(minus, StringComparison.Ordinal))
            return text;
        string rest = text[minus.Length..];
        return rest.Any(c => c is >= '1' and <= '9') ? "\u2212" + rest : rest;
    }

    /// <summary>An amount in the shop's currency, or in the one named.</summary>
    public string Money(decimal? amount, string? currency = null) =>
        amount is { } a ? Showing.Money.Text(a, currency ?? shop.Currency, culture) : "—";

    /// <summary>An amount in the currency's smallest unit, as the book keeps it.</summary>
    public string Amount(long? minor, string? currency = null) =>
        minor is { } m ? Money(Showing.Money.FromMinor(m, currency ?? shop.Currency), currency) : "—";

    /// <summary>A day: "3 Mar 2026".</summary>
    public string Date(DateOnly day) => day.ToString("d MMM yyyy", culture);

    /// <summary>A day of the week and month: "Tue 3 Mar".</summary>
    public string Day(DateOnly day) => day.ToString("ddd d MMM", culture);

    /// <summary>The shop's local day of a moment.</summary>
    public DateOnly LocalDay(DateTime utc) => DateOnly.FromDateTime(Local(utc));

    /// <summary>A moment as the shop's clock shows it: "Tue 3 Mar 14:05".</summary>
    public string Moment(DateTime utc) => Local(utc).ToString("ddd d MMM ", culture) + Clock(utc);

    /// <summary>The time of day: "14:05".</summary>
    public string Clock(DateTime utc) => Local(utc).ToString("t", culture);

    /// <summary>A moment in the shop's time.</summary>
    public DateTime Local(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), shop.TimeZone);

    /// <summary>The shop's local time as universal time; a time the clock skips in spring moves on by the hour that was skipped.</summary>
    public DateTime Universal(DateTime local)
    {
        DateTime plain = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        if (shop.TimeZone.IsInvalidTime(plain))
            plain = plain.AddHours(1);
        return TimeZoneInfo.ConvertTimeToUtc(plain, shop.TimeZone);
    }

    /// <summary>A number to stand in an input: no groups, and never a form that our own reading would have to ask about.</summary>
    public string Typed(double value, int maxDecimals = 4)
    {
        string plain = value.ToString("0." + new string('#', maxDecimals), CultureInfo.InvariantCulture);
        if (TypedNumber.Parse(plain) is Typed<double>.Ambiguous)
            plain += "0";
        return plain.Replace(".", culture.NumberFormat.NumberDecimalSeparator, StringComparison.Ordinal);
    }

    /// <summary>A length to stand in an input, in the person's unit, without the unit.</summary>
    public string Typed(Length length) => Unit == LengthUnit.Inch ? Typed(length.Inches, 5) : Typed(length.Millimetres, 3);

    /// <summary>An angle to stand in an input.</summary>
    public string Typed(Angle angle) => Typed(Math.Round(angle.Degrees, 6), 3);
}
