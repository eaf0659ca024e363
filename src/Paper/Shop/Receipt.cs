namespace Whetwright.Paper.Shop;

/// <summary>What a receipt says; the numbers are computed elsewhere and only laid out here. Amounts are in the currency's smallest unit, tax included.</summary>
public sealed record Receipt
{
    /// <summary>The shop.</summary>
    public required ShopHead Shop { get; init; }

    /// <summary>Number of the receipt.</summary>
    public required string Number { get; init; }

    /// <summary>The day it was made.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>Whose pieces they are.</summary>
    public string? Owner { get; init; }

    /// <summary>How the owner is reached.</summary>
    public string? OwnerContact { get; init; }

    /// <summary>The pieces; one or more.</summary>
    public required IReadOnlyList<ReceiptPiece> Pieces { get; init; }

    /// <summary>The tax that is in the amounts, per rate; empty where none is charged or shown.</summary>
    public IReadOnlyList<TaxShare> Taxes { get; init; } = [];

    /// <summary>What was received so far, deposits first.</summary>
    public IReadOnlyList<ReceivedMoney> Received { get; init; } = [];

    /// <summary>The day all is promised for.</summary>
    public DateOnly? Promise { get; init; }

    /// <summary>A line for what else must be said: loan set handed out, count against last time.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>True prints a line to sign: damage and conditions acknowledged.</summary>
    public bool ToSign { get; init; } = true;

    /// <summary>How many pieces.</summary>
    public int Count => Pieces.Sum(p => p.Count);

    /// <summary>Sum of all charges that are known.</summary>
    public long TotalMinor => Pieces.Sum(p => p.Count * p.Charges.Sum(c => c.AmountMinor ?? 0));

    /// <summary>What is still to pay.</summary>
    public long DueMinor => TotalMinor - Received.Sum(r => r.AmountMinor);

    /// <summary>Some price is still to be agreed.</summary>
    public bool IsOpen => Pieces.Any(p => p.Charges.Any(c => c.AmountMinor is null));
}

/// <summary>One piece on a receipt, or several alike ones of a set on one line.</summary>
/// <param name="Tag">Its tag number; of several, those of the first and the last.</param>
/// <param name="Title">What it is.</param>
public sealed record ReceiptPiece(string Tag, string Title)
{
    /// <summary>How many alike pieces the line stands for.</summary>
    public int Count { get; init; } = 1;

    /// <summary>What is charged for each.</summary>
    public IReadOnlyList<Charged> Charges { get; init; } = [];

    /// <summary>Damage seen at the counter and acknowledged.</summary>
    public string? Damage { get; init; }

    /// <summary>Work that was declined.</summary>
    public string? Declined { get; init; }

    /// <summary>What the owner wants.</summary>
    public string? Wishes { get; init; }
}

/// <summary>Something charged.</summary>
/// <param name="Text">What for.</param>
/// <param name="AmountMinor">Amount, tax included; null while it is to be agreed.</param>
public sealed record Charged(string Text, long? AmountMinor);

/// <summary>The part of the amounts under one tax rate.</summary>
/// <param name="Name">Name of the tax.</param>
/// <param name="MilliPercent">Rate in thousandths of a percent.</param>
/// <param name="GrossMinor">Amount under that rate, tax included.</param>
/// <param name="TaxMinor">The tax in it.</param>
public sealed record TaxShare(string Name, int MilliPercent, long GrossMinor, long TaxMinor);

/// <summary>Money received.</summary>
/// <param name="Text">Deposit, cash; card.</param>
/// <param name="AmountMinor">Amount; negative where it was given back.</param>
/// <param name="Date">When; null where it is the receipt's own day.</param>
public sealed record ReceivedMoney(string Text, long AmountMinor, DateOnly? Date = null);
