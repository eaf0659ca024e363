using System.Globalization;
using Whetwright.Core.Quantities;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Shared.Forms;

/// <summary>A number typed as people type it: <c>12.5</c> = <c>12,5</c>; a lone separator before three digits is asked about.</summary>
public class NumberField(string name, string label) : FormField(name, label)
{
    /// <summary>Smallest value that makes sense.</summary>
    public double Min { get; init; } = double.NegativeInfinity;

    /// <summary>Largest value that makes sense.</summary>
    public double Max { get; init; } = double.PositiveInfinity;

    /// <summary>Only whole numbers.</summary>
    public bool Whole { get; init; }

    /// <summary>What one press of a stepper adds; null for a plain input.</summary>
    public double? Step { get; init; }

    /// <inheritdoc/>
    public override string InputMode => Whole && Min >= 0 ? "numeric" : "decimal";

    /// <summary>The number; null where nothing was typed or it was refused.</summary>
    public double? Value { get; private set; }

    /// <inheritdoc/>
    protected override string Missing => "is empty; a number such as " + Example + " would be right";

    /// <summary>An example that would be taken.</summary>
    protected virtual string Example => Whole ? "3" : "12.5";

    /// <summary>Prefills it.</summary>
    public NumberField Fill(double? value, UnitsView units)
    {
        Value = value;
        Typed = value is { } v ? units.Typed(v) : "";
        return this;
    }

    private protected override void Empty() => Value = null;

    private protected override void Check()
    {
        Value = null;
        switch (TypedNumber.Parse(Typed))
        {
            case Typed<double>.Value v when v.Of < Min || v.Of > Max:
                Refuse($"'{Typed}' is out of range; {Range.Words(Min, Max, v => v.ToString("0.######", CultureInfo.InvariantCulture), Unit)} would be right");
                break;
            case Typed<double>.Value v when Whole && v.Of != Math.Floor(v.Of):
                Refuse($"'{Typed}' is not a whole number; {Math.Floor(v.Of).ToString("0", CultureInfo.InvariantCulture)} would be right");
                break;
            case Typed<double>.Value v:
                Value = v.Of;
                break;
            case Typed<double>.Ambiguous a:
                Refuse(a.Question);
                break;
            case Typed<double>.Refused r:
                Refuse(r.Why);
                break;
        }
    }

    /// <summary>One press of the stepper, within the range.</summary>
    internal void Press(double by)
    {
        double from = TypedNumber.Parse(Typed) is Typed<double>.Value v ? v.Of : 0;
        Value = Math.Clamp(from + by, double.IsFinite(Min) ? Min : double.MinValue, double.IsFinite(Max) ? Max : double.MaxValue);
        Typed = Value.Value.ToString("0.####", CultureInfo.CurrentCulture);
    }
}

/// <summary>A length; what is typed without a unit is in the person's unit, and <c>3/8 in</c> is read in any.</summary>
public sealed class LengthField : FormField
{
    private readonly UnitsView units;

    /// <summary>A length.</summary>
    public LengthField(string name, string label, UnitsView units)
        : base(name, label)
    {
        this.units = units;
        Unit = units.UnitWord;
    }

    /// <summary>Smallest, mm.</summary>
    public double MinMm { get; init; } = double.NegativeInfinity;

    /// <summary>Largest, mm.</summary>
    public double MaxMm { get; init; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override string InputMode => "decimal";

    /// <summary>The length; null where nothing was typed or it was refused.</summary>
    public Length? Value { get; private set; }

    /// <inheritdoc/>
    public override string Shown => Value is { } v ? units.Length(v, 3) : Typed;

    /// <inheritdoc/>
    protected override string Missing => $"is empty; a length such as {(units.Unit == LengthUnit.Inch ? "8.25 in" : "210 mm")} would be right";

    /// <summary>Prefills it.</summary>
    public LengthField Fill(Length? value)
    {
        Value = value;
        Typed = value is { } v ? units.Typed(v) : "";
        return this;
    }

    private protected override void Empty() => Value = null;

    private protected override void Check()
    {
        Value = null;
        switch (Length.Parse(Typed, units.Unit))
        {
            case Typed<Length>.Value v when v.Of.Millimetres < MinMm || v.Of.Millimetres > MaxMm:
                Refuse($"'{Typed}' is {units.Length(v.Of, 3)}; {Range.Words(MinMm, MaxMm, mm => units.Length(mm), null)} would be right");
                break;
            case Typed<Length>.Value v:
                Value = v.Of;
                break;
            case Typed<Length>.Ambiguous a:
                Refuse(a.Question);
                break;
            case Typed<Length>.Refused r:
                Refuse(r.Why);
                break;
        }
    }
}

/// <summary>An angle in degrees; <c>12°30′</c> is read too.</summary>
public sealed class AngleField : FormField
{
    private readonly UnitsView units;

    /// <summary>An angle.</summary>
    public AngleField(string name, string label, UnitsView units)
        : base(name, label)
    {
        this.units = units;
        Unit = "°";
    }

    /// <summary>Smallest, degrees.</summary>
    public double MinDeg { get; init; } = double.NegativeInfinity;

    /// <summary>Largest, degrees.</summary>
    public double MaxDeg { get; init; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override string InputMode => "decimal";

    /// <summary>The angle; null where nothing was typed or it was refused.</summary>
    public Angle? Value { get; private set; }

    /// <inheritdoc/>
    public override string Shown => Value is { } v ? units.Angle(v) : Typed;

    /// <inheritdoc/>
    protected override string Missing => "is empty; an angle such as 15 or 12.5 would be right";

    /// <summary>Prefills it.</summary>
    public AngleField Fill(Angle? value)
    {
        Value = value;
        Typed = value is { } v ? units.Typed(v) : "";
        return this;
    }

    private protected override void Empty() => Value = null;

    private protected override void Check()
    {
        Value = null;
        switch (Angle.Parse(Typed))
        {
            case Typed<Angle>.Value v when v.Of.Degrees < MinDeg || v.Of.Degrees > MaxDeg:
                Refuse($"'{Typed}' is out of range; {Range.Words(MinDeg, MaxDeg, deg => units.Angle(deg, 1), null)} would be right");
                break;
            case Typed<Angle>.Value v:
                Value = v.Of;
                break;
            case Typed<Angle>.Ambiguous a:
                Refuse(a.Question);
                break;
            case Typed<Angle>.Refused r:
                Refuse(r.Why);
                break;
        }
    }
}

/// <summary>An amount of money in the shop's currency.</summary>
public sealed class MoneyField(string name, string label, string currency) : FormField(name, label)
{
    /// <summary>Smallest amount.</summary>
    public decimal Min { get; init; }

    /// <summary>Largest amount.</summary>
    public decimal Max { get; init; } = 1_000_000;

    /// <inheritdoc/>
    public override string InputMode => "decimal";

    /// <summary>The amount; null where nothing was typed or it was refused.</summary>
    public decimal? Value { get; private set; }

    /// <summary>The same in the currency's smallest unit, as the book keeps it.</summary>
    public long? Minor => Value is { } v ? Money.ToMinor(v, currency) : null;

    /// <inheritdoc/>
    public override string Shown => Value is { } v ? Money.Text(v, currency, CultureInfo.CurrentCulture) : Typed;

    /// <inheritdoc/>
    protected override string Missing => "is empty; an amount such as 12.50 would be right";

    /// <summary>Prefills it from the currency's smallest unit.</summary>
    public MoneyField FillMinor(long? minor) => Fill(minor is { } m ? Money.FromMinor(m, currency) : null);

    /// <summary>Prefills it.</summary>
    public MoneyField Fill(decimal? value)
    {
        Value = value;
        Typed = value?.ToString("F" + Money.Decimals(currency).ToString(CultureInfo.InvariantCulture), CultureInfo.CurrentCulture) ?? "";
        return this;
    }

    private protected override void Empty() => Value = null;

    private protected override void Check()
    {
        Value = null;
        int decimals = Money.Decimals(currency);
        switch (TypedNumber.Parse(Typed))
        {
            case Typed<double>.Value v when v.Of < (double)Min || v.Of > (double)Max:
                Refuse($"'{Typed}' is out of range; {Range.Words((double)Min, (double)Max, x => Money.Text((decimal)x, currency, CultureInfo.CurrentCulture), null)} would be right");
                break;
            case Typed<double>.Value v:
                decimal amount = (decimal)v.Of;
                if (decimal.Round(amount, decimals) == amount)
                    Value = amount;
                else
                    Refuse($"'{Typed}' is finer than {currency} goes; {decimals} decimals at most would be right");
                break;
            case Typed<double>.Ambiguous a:
                Refuse(a.Question);
                break;
            case Typed<double>.Refused r:
                Refuse(r.Why);
                break;
        }
    }
}

/// <summary>Words for a range.</summary>
internal static class Range
{
    public static string Words(double min, double max, Func<double, string> show, string? unit)
    {
        string behind = unit is null ? "" : " " + unit;
        return (double.IsFinite(min), double.IsFinite(max)) switch
        {
            (true, true) => $"{show(min)} to {show(max)}{behind}",
            (true, false) => $"{show(min)}{behind} or more",
            (false, true) => $"{show(max)}{behind} or less",
            _ => "any number",
        };
    }
}
