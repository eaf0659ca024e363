using Whetwright.Core.Blades;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Kit;

/// <summary>What is typed about a rig.</summary>
/// <param name="Name">The shop's name for it.</param>
/// <param name="RigJson">Its geometry in our rig format, wheels and stand left out.</param>
/// <param name="Retired">No longer in use.</param>
public sealed record RigTyped(string? Name, string RigJson, bool Retired = false);

/// <summary>What is typed about a wheel.</summary>
public sealed record WheelTyped
{
    /// <summary>The rig.</summary>
    public long RigId { get; init; }

    /// <summary>Name; another than its rig's other wheels have.</summary>
    public string? Name { get; init; }

    /// <summary>The abrasive it is made of or carries.</summary>
    public long? AbrasiveId { get; init; }

    /// <summary>Its own offset to the chosen angle, degrees.</summary>
    public double OffsetDeg { get; init; }

    /// <summary>Turns per minute.</summary>
    public double? Rpm { get; init; }

    /// <summary>Largest surface speed marked on it, m/s.</summary>
    public double? MarkedLimitMs { get; init; }

    /// <summary>Smallest diameter to use, mm.</summary>
    public double? MinimumDiameterMm { get; init; }

    /// <summary>No longer in use.</summary>
    public bool Retired { get; init; }

    internal FormCheck Check() => new FormCheck()
        .Text(nameof(Name), Name, "a name such as \"coarse\" would be right", 60)
        .Within(nameof(OffsetDeg), OffsetDeg, -10, 20, "°")
        .Within(nameof(Rpm), Rpm, 1, 60000, "turns a minute")
        .Within(nameof(MarkedLimitMs), MarkedLimitMs, 0.1, 500, "m/s")
        .Within(nameof(MinimumDiameterMm), MinimumDiameterMm, 10, 2000, "mm");

    internal void Put(WheelKept wheel)
    {
        wheel.RigId = RigId;
        wheel.Name = Name!.Trim();
        wheel.AbrasiveId = AbrasiveId;
        wheel.OffsetDeg = OffsetDeg;
        wheel.Rpm = Rpm;
        wheel.MarkedLimitMs = MarkedLimitMs;
        wheel.MinimumDiameterMm = MinimumDiameterMm;
        wheel.Retired = Retired;
    }
}

/// <summary>A diameter as measured.</summary>
public sealed record DiameterTyped
{
    /// <summary>Diameter, mm.</summary>
    public double DiameterMm { get; init; }

    /// <summary>Standard uncertainty, mm.</summary>
    public double UMm { get; init; }

    /// <summary>Why.</summary>
    public DiameterCause Cause { get; init; }

    /// <summary>When, UTC; null for now.</summary>
    public DateTime? HappenedAt { get; init; }

    /// <summary>The entry it corrects.</summary>
    public long? CorrectsId { get; init; }

    /// <summary>With <see cref="CorrectsId"/>: that entry is taken back.</summary>
    public bool Withdrawn { get; init; }
}

/// <summary>What is typed about an abrasive or strop.</summary>
public sealed record AbrasiveTyped
{
    /// <summary>Name.</summary>
    public string? Name { get; init; }

    /// <summary>Form.</summary>
    public AbrasiveForm Form { get; init; }

    /// <summary>Grade system, as in files; null where none.</summary>
    public string? System { get; init; }

    /// <summary>Grade as marked.</summary>
    public string? Grade { get; init; }

    /// <summary>Median grain, µm.</summary>
    public double? D50Um { get; init; }

    /// <summary>Area per pass and side, mm².</summary>
    public double? AreaPerPassMm2 { get; init; }

    /// <summary>Minutes to change to it.</summary>
    public double? ChangeMinutes { get; init; }

    /// <summary>Order of use, coarse first.</summary>
    public int Order { get; init; }

    /// <summary>No longer in use.</summary>
    public bool Retired { get; init; }

    internal FormCheck Check() => new FormCheck()
        .Text(nameof(Name), Name, "a name would be right", 60)
        .That(Enum.IsDefined(Form), nameof(Form), Form, "a form would be right")
        .That(System is null || Core.Abrasives.Grades.SystemFromKey(System) is not null, nameof(System), System, $"one of {string.Join(", ", Core.Abrasives.Grades.Keys)} would be right")
        .Longest(nameof(Grade), Grade, 20)
        .That(D50Um is null or (> 0 and < 6000), nameof(D50Um), D50Um, "a grain above 0 and below 6000 µm would be right")
        .That(AreaPerPassMm2 is null or (> 0 and <= 10), nameof(AreaPerPassMm2), AreaPerPassMm2, "an area above 0 and up to 10 mm² would be right")
        .Within(nameof(ChangeMinutes), ChangeMinutes, 0, 240, "min");

    internal void Put(AbrasiveKept kept)
    {
        kept.Name = Name!.Trim();
        kept.Form = Form;
        kept.System = System;
        kept.Grade = Trimmed.Of(Grade);
        kept.D50Um = D50Um;
        kept.AreaPerPassMm2 = AreaPerPassMm2;
        kept.ChangeMinutes = ChangeMinutes;
        kept.Order = Order;
        kept.Retired = Retired;
    }
}

/// <summary>What is typed about a house rule.</summary>
public sealed record RuleTyped
{
    /// <summary>Name.</summary>
    public string? Name { get; init; }

    /// <summary>For this kind; null for all.</summary>
    public PieceKind? Kind { get; init; }

    /// <summary>For edges at least this long, mm.</summary>
    public double? FromLengthMm { get; init; }

    /// <summary>For edges shorter than this, mm.</summary>
    public double? ToLengthMm { get; init; }

    /// <summary>Degrees per side.</summary>
    public double AngleDeg { get; init; }

    /// <summary>Micro-bevel.</summary>
    public double? MicroDeg { get; init; }

    /// <summary>Tolerance.</summary>
    public double ToleranceDeg { get; init; }

    /// <summary>Order.</summary>
    public int Order { get; init; }

    internal FormCheck Check() => new FormCheck()
        .Text(nameof(Name), Name, "a name would be right", 60)
        .Within(nameof(AngleDeg), AngleDeg, 1, 89, "°")
        .That(MicroDeg is null || (MicroDeg > AngleDeg && MicroDeg <= 89), nameof(MicroDeg), MicroDeg, "an angle steeper than the bevel would be right, or nothing")
        .Within(nameof(ToleranceDeg), ToleranceDeg, 0.1, 5, "°")
        .Lengths(FromLengthMm, ToLengthMm);

    internal void Put(HouseRule rule)
    {
        rule.Name = Name!.Trim();
        rule.Kind = Kind;
        rule.FromLengthMm = FromLengthMm;
        rule.ToLengthMm = ToLengthMm;
        rule.AngleDeg = AngleDeg;
        rule.MicroDeg = MicroDeg;
        rule.ToleranceDeg = ToleranceDeg;
        rule.Order = Order;
    }
}

/// <summary>What is typed about a line of the price list.</summary>
public sealed record PriceTyped
{
    /// <summary>What it says.</summary>
    public string? Name { get; init; }

    /// <summary>For this kind; null for all.</summary>
    public PieceKind? Kind { get; init; }

    /// <summary>For edges at least this long, mm.</summary>
    public double? FromLengthMm { get; init; }

    /// <summary>For edges shorter than this, mm.</summary>
    public double? ToLengthMm { get; init; }

    /// <summary>An extra, added to the price of the piece.</summary>
    public bool Extra { get; init; }

    /// <summary>Amount, tax included, minor units.</summary>
    public long AmountMinor { get; init; }

    /// <summary>Bench minutes.</summary>
    public double Minutes { get; init; }

    /// <summary>Tax rate.</summary>
    public long? TaxRateId { get; init; }

    /// <summary>An account's own price; null for everybody.</summary>
    public long? OwnerId { get; init; }

    /// <summary>Order.</summary>
    public int Order { get; init; }

    /// <summary>No longer offered.</summary>
    public bool Retired { get; init; }

    internal FormCheck Check() => new FormCheck()
        .Text(nameof(Name), Name, "what the receipt shall say would be right", 80)
        .That(AmountMinor >= 0 && AmountMinor <= Money.Amounts.Largest, nameof(AmountMinor), AmountMinor, "an amount of 0 or more, within reason, would be right")
        .Within(nameof(Minutes), Minutes, 0, 1440, "min")
        .Lengths(FromLengthMm, ToLengthMm);

    internal void Put(Money.PriceLine line)
    {
        line.Name = Name!.Trim();
        line.Kind = Kind;
        line.FromLengthMm = FromLengthMm;
        line.ToLengthMm = ToLengthMm;
        line.Extra = Extra;
        line.AmountMinor = AmountMinor;
        line.Minutes = Minutes;
        line.TaxRateId = TaxRateId;
        line.OwnerId = OwnerId;
        line.Order = Order;
        line.Retired = Retired;
    }
}

/// <summary>Checks that several forms of the kit share.</summary>
internal static class KitChecks
{
    internal static FormCheck Lengths(this FormCheck check, double? fromMm, double? toMm) => check
        .Within("FromLengthMm", fromMm, 0, 2000, "mm")
        .Within("ToLengthMm", toMm, 1, 2000, "mm")
        .That(fromMm is null || toMm is null || fromMm < toMm, "ToLengthMm", toMm, "a length above the one it begins at would be right");
}
