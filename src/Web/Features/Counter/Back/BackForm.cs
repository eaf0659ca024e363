using System.Globalization;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>The fields of one piece at the hand-back.</summary>
public sealed class BackFields
{
    internal BackFields(PieceHere here, string currency, UnitsView units, Func<FormField, FormField> add)
    {
        Here = here;
        string at = string.Create(CultureInfo.InvariantCulture, $"v{here.Visit.Id}");
        Goes = Put(new FlagField(at + ".goes", $"{here.Tag} {here.Visit.Piece!.Name}")).Fill(here.IsReady);
        Off = [.. here.Charges.Select(c => (c, Put(new FlagField(string.Create(CultureInfo.InvariantCulture, $"c{c.Id}.off"), $"Take off: {c.Text}, {units.Amount(c.AmountMinor)}"))))];
        Line = Put(new ChoiceField(at + ".line", "Add from the price list", [.. here.Lines.Select(l => new Choice(l.Id.ToString(CultureInfo.InvariantCulture), $"{l.Name}, {units.Amount(l.AmountMinor)}"))]) { List = true });
        Text = Put(new TextField(at + ".text", "Or a line of your own") { Hint = "Taxed as the piece's other lines." });
        Amount = Put(new MoneyField(at + ".amount", "Its amount", currency) { Unit = currency, Min = -100_000 });
        Note = Put(new TextField(at + ".note", "Words for the edge note") { Lines = 2, MaxLength = 2000 });

        T Put<T>(T field)
            where T : FormField => (T)add(field);
    }

    /// <summary>The piece.</summary>
    public PieceHere Here { get; }

    /// <summary>It is handed back.</summary>
    public FlagField Goes { get; }

    /// <summary>Charges, each with its tick to take it off.</summary>
    public IReadOnlyList<(Charge Charge, FlagField Off)> Off { get; }

    /// <summary>A line of the price list to add.</summary>
    public ChoiceField Line { get; }

    /// <summary>A line of one's own.</summary>
    public TextField Text { get; }

    /// <summary>Its amount.</summary>
    public MoneyField Amount { get; }

    /// <summary>Words for the edge note.</summary>
    public TextField Note { get; }

    /// <summary>Something about it was touched, or is wrong.</summary>
    public bool Touched => Off.Any(o => o.Off.Value) || new FormField[] { Line, Text, Amount, Note }.Any(f => f.Typed.Length > 0 || f.Error is not null);

    /// <summary>What the piece costs as the form stands.</summary>
    public long TotalMinor => Off.Where(o => !o.Off.Value).Sum(o => o.Charge.AmountMinor) + Added([], default).Sum(c => c.AmountMinor);

    /// <summary>By how much the form changes what stands in the book.</summary>
    public long ChangeMinor => TotalMinor - Here.Charges.Sum(c => c.AmountMinor);

    /// <summary>Lines to add.</summary>
    internal IReadOnlyList<ChargeForm> Added(IReadOnlyCollection<TaxRate> rates, DateOnly today)
    {
        List<ChargeForm> added = [];
        if (Here.Lines.FirstOrDefault(l => l.Id.ToString(CultureInfo.InvariantCulture) == Line.Value) is { } line)
            added.Add(new() { Text = line.Name, AmountMinor = line.AmountMinor, TaxMilliPercent = PriceList.TaxOn(today, line.TaxRateId, rates), PriceLineId = line.Id, Minutes = line.Minutes });
        if (Text.Value is { } text && Amount.Minor is { } amount)
            added.Add(new() { Text = text, AmountMinor = amount, TaxMilliPercent = OwnRate(rates, today) });
        return added;
    }

    internal void CheckTogether()
    {
        if (Text.Value is not null && Amount.Value is null)
            Amount.Refuse("is empty, yet there is a line for it; an amount such as 12.50 would be right");
        if (Text.Value is null && Amount.Value is not null)
            Text.Refuse("is empty, yet there is an amount; what it is for would be right");
        if (Here.Visit.ComplaintAboutId is not null && TotalMinor != 0)
            (Line.Value is not null ? (FormField)Line : Text).Refuse("stands on a complaint; nothing is charged for a complaint");
    }

    private int OwnRate(IReadOnlyCollection<TaxRate> rates, DateOnly today) =>
        Here.Charges.Count > 0 ? Here.Charges[0].TaxMilliPercent
        : Here.Lines.Count > 0 ? PriceList.TaxOn(today, Here.Lines[0].TaxRateId, rates)
        : PriceList.TaxOn(today, rates.OrderBy(r => r.Id).FirstOrDefault()?.Id, rates);
}

/// <summary>A hand-back: what goes, what it costs, how it is paid.</summary>
public sealed class BackForm : WebForm
{
    /// <summary>Button that keeps the charges and hands nothing back.</summary>
    public const string WhatName = "what";

    internal BackForm(BackGround ground, string currency, UnitsView units)
    {
        Ground = ground;
        VersionSeen = ground.Seen;
        Pieces = [.. ground.Pieces.Select(p => new BackFields(p, currency, units, Add))];
        How = Add(new ChoiceField("how", "Paid by",
        [
            new("cash", "Cash"), new("card", "Card"), new("transfer", "Transfer"),
            new("account", ground.Owner.IsAccount ? "On the account" : "Later"),
        ])
        { Required = true }).Fill(ground.Owner.IsAccount ? "account" : "cash");
        Amount = Add(new MoneyField("amount", "Amount received", currency) { Unit = currency, Min = -1_000_000, Hint = "Empty: all that is due." });
        To = Add(new TextField("to", "Given to, if not the owner") { MaxLength = 200 });
    }

    /// <summary>What it began with.</summary>
    public BackGround Ground { get; }

    /// <summary>The pieces here.</summary>
    public IReadOnlyList<BackFields> Pieces { get; }

    /// <summary>How it is paid.</summary>
    public ChoiceField How { get; }

    /// <summary>What was received; empty for all.</summary>
    public MoneyField Amount { get; }

    /// <summary>To whom.</summary>
    public TextField To { get; }

    /// <summary>Only the charges are kept.</summary>
    public bool ChargesOnly { get; internal set; }

    /// <summary>What is due as the form stands.</summary>
    public BackDue Due { get; internal set; } = new(0, 0, 0);

    /// <summary>Those that go.</summary>
    public IEnumerable<BackFields> Going => Pieces.Where(p => p.Goes.Value);

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        foreach (BackFields piece in Pieces)
            piece.CheckTogether();
        if (ChargesOnly && !Pieces.Any(p => p.ChangeMinor != 0 || p.Off.Any(o => o.Off.Value) || p.Added([], default).Count > 0))
            Refuse("No charge is changed; add a line or take one off, or hand back");
        if (!ChargesOnly && !Going.Any())
            Refuse("No piece is ticked; tick what goes, or keep only the charges");
    }
}

/// <summary>What is due at a hand-back.</summary>
/// <param name="ChargedMinor">Charges of what goes.</param>
/// <param name="PaidMinor">Deposits and payments that count for it.</param>
/// <param name="EarlierMinor">Owed from before; 0 where it stands on an account.</param>
public sealed record BackDue(long ChargedMinor, long PaidMinor, long EarlierMinor)
{
    /// <summary>To pay.</summary>
    public long Minor => ChargedMinor - PaidMinor + EarlierMinor;
}
