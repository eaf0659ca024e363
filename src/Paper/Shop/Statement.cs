namespace Whetwright.Paper.Shop;

/// <summary>An account's statement for a month or another span. Amounts are in the currency's smallest unit, tax included; positive is owed to the shop.</summary>
public sealed record Statement
{
    /// <summary>The shop.</summary>
    public required ShopHead Shop { get; init; }

    /// <summary>Number of the statement.</summary>
    public required string Number { get; init; }

    /// <summary>The day it was made.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>The account.</summary>
    public required string Account { get; init; }

    /// <summary>Its address, one line each.</summary>
    public IReadOnlyList<string> AccountAddress { get; init; } = [];

    /// <summary>First day.</summary>
    public required DateOnly From { get; init; }

    /// <summary>Last day.</summary>
    public required DateOnly To { get; init; }

    /// <summary>Owed before the first day.</summary>
    public long OpeningMinor { get; init; }

    /// <summary>What happened, oldest first.</summary>
    public IReadOnlyList<StatementEntry> Entries { get; init; } = [];

    /// <summary>The tax that is in the charges of the span, per rate.</summary>
    public IReadOnlyList<TaxShare> Taxes { get; init; } = [];

    /// <summary>When and how to pay, and what else must be said.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Owed after the last day.</summary>
    public long ClosingMinor => OpeningMinor + Entries.Sum(e => e.ChargedMinor - e.ReceivedMinor);
}

/// <summary>A line of a statement.</summary>
/// <param name="Date">When.</param>
/// <param name="Number">Receipt or tag number; null where there is none.</param>
/// <param name="Text">What.</param>
/// <param name="ChargedMinor">Charged, tax included.</param>
/// <param name="ReceivedMinor">Received; negative where it was given back.</param>
public sealed record StatementEntry(DateOnly Date, string? Number, string Text, long ChargedMinor, long ReceivedMinor = 0);
