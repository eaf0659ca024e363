namespace Whetwright.Records.Money;

/// <summary>A line of the shop's price list. Amounts are in the currency's smallest unit, tax included.</summary>
public sealed class PriceLine : IVersioned
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>What it says: "Kitchen knife to 20 cm", "Chip".</summary>
    public required string Name { get; set; }

    /// <summary>For this kind; null for an extra or for all.</summary>
    public Core.Blades.PieceKind? Kind { get; set; }

    /// <summary>For edges at least this long, mm.</summary>
    public double? FromLengthMm { get; set; }

    /// <summary>For edges shorter than this, mm.</summary>
    public double? ToLengthMm { get; set; }

    /// <summary>True for an extra (chip, thinning, tip) that is added to the price of the piece.</summary>
    public bool Extra { get; set; }

    /// <summary>Amount.</summary>
    public long AmountMinor { get; set; }

    /// <summary>Bench minutes it stands for: the load of a day.</summary>
    public double Minutes { get; set; }

    /// <summary>Tax rate.</summary>
    public long? TaxRateId { get; set; }

    /// <summary>An account's own price; null for everybody.</summary>
    public long? OwnerId { get; set; }

    /// <summary>Order in the list.</summary>
    public int Order { get; set; }

    /// <summary>No longer offered.</summary>
    public bool Retired { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; }
}

/// <summary>A tax rate from a day on.</summary>
public sealed class TaxRate
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>Name on receipts.</summary>
    public required string Name { get; init; }

    /// <summary>Thousandths of a percent: 19000 is 19 %.</summary>
    public int MilliPercent { get; init; }

    /// <summary>From this day.</summary>
    public DateOnly From { get; init; }
}

/// <summary>Something charged for a visit.</summary>
public sealed class Charge : VisitFact
{
    /// <summary>What for, as the receipt says it.</summary>
    public required string Text { get; init; }

    /// <summary>Amount, tax included.</summary>
    public long AmountMinor { get; init; }

    /// <summary>Tax rate in thousandths of a percent, as it was then.</summary>
    public int TaxMilliPercent { get; init; }

    /// <summary>The price line it came from.</summary>
    public long? PriceLineId { get; init; }

    /// <summary>Bench minutes it stands for.</summary>
    public double Minutes { get; init; }
}

/// <summary>Money received or given back.</summary>
public sealed class Payment : Fact
{
    /// <summary>From whom.</summary>
    public long OwnerId { get; init; }

    /// <summary>The visit it settles; null for an account's or a receipt's payment.</summary>
    public long? VisitId { get; init; }

    /// <summary>The receipt it settles.</summary>
    public long? IntakeId { get; init; }

    /// <summary>Amount; negative when given back.</summary>
    public long AmountMinor { get; init; }

    /// <summary>"cash", "card", "transfer".</summary>
    public required string How { get; init; }

    /// <summary>Paid before the work.</summary>
    public bool Deposit { get; init; }
}
