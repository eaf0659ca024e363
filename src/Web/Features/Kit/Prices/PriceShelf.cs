using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Blades;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit.Prices;

/// <summary>A line of the price list.</summary>
public sealed class PriceForm : WebForm
{
    internal PriceForm(UnitsView units, ShopView shop, IReadOnlyList<TaxRate> rates, IReadOnlyList<(long Id, string Name)> accounts, PriceLine? line = null, int nextOrder = 1)
    {
        Name = Add(new TextField("name", "What the receipt says") { Required = true, MaxLength = 80, Hint = "Kitchen knife to 20 cm; chip; thinning; new tip." });
        Amount = Add(new MoneyField("amountMinor", "Price, tax included", shop.Currency) { Required = true });
        Minutes = Add(new NumberField("minutes", "Bench time it stands for") { Unit = "min", Required = true, Min = 0, Max = 1440, Hint = "Promises follow from it." });
        Extra = Add(new FlagField("extra", "An extra, added to the price of the piece"));
        Kind = Add(new ChoiceField("kind", "For", KitWords.Kinds) { List = true, Hint = "None chosen: every kind." });
        From = Add(new LengthField("fromLengthMm", "Edges from", units) { MinMm = 0, MaxMm = 2000 });
        To = Add(new LengthField("toLengthMm", "and shorter than", units) { MinMm = 1, MaxMm = 2000 });
        Tax = Add(new ChoiceField("taxRateId", "Tax", [.. rates.Select(r => new Choice(Key(r.Id), $"{r.Name}, {units.Number(r.MilliPercent / 1000.0, r.MilliPercent % 1000 == 0 ? 0 : 2)} %"))]) { List = true });
        Owner = Add(new ChoiceField("ownerId", "An account's own price", [.. accounts.Select(a => new Choice(Key(a.Id), a.Name))]) { List = true, Hint = "None chosen: everybody's." });
        Order = Add(new NumberField("order", "Place in the list") { Required = true, Min = 0, Max = 9999, Whole = true }).Fill(line?.Order ?? nextOrder, units);
        Retired = Add(new FlagField("retired", "No longer offered"));
        if (line is null)
        {
            Tax.Fill(rates.Count == 1 ? Key(rates[0].Id) : null);
            return;
        }

        Name.Fill(line.Name);
        Amount.FillMinor(line.AmountMinor);
        Minutes.Fill(line.Minutes, units);
        Extra.Fill(line.Extra);
        Kind.Fill(line.Kind?.Key());
        From.Fill(KitAnswer.Mm(line.FromLengthMm));
        To.Fill(KitAnswer.Mm(line.ToLengthMm));
        Tax.Fill(line.TaxRateId is { } tax ? Key(tax) : null);
        Owner.Fill(line.OwnerId is { } owner ? Key(owner) : null);
        Retired.Fill(line.Retired);
        VersionSeen = KitAnswer.Version(line.Version);
    }

    /// <summary>What it says.</summary>
    public TextField Name { get; }

    /// <summary>Price.</summary>
    public MoneyField Amount { get; }

    /// <summary>Bench minutes.</summary>
    public NumberField Minutes { get; }

    /// <summary>An extra.</summary>
    public FlagField Extra { get; }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>From this length.</summary>
    public LengthField From { get; }

    /// <summary>Shorter than.</summary>
    public LengthField To { get; }

    /// <summary>Tax.</summary>
    public ChoiceField Tax { get; }

    /// <summary>Account.</summary>
    public ChoiceField Owner { get; }

    /// <summary>Order.</summary>
    public NumberField Order { get; }

    /// <summary>No longer offered.</summary>
    public FlagField Retired { get; }

    internal PriceTyped Typed() => new()
    {
        Name = Name.Value,
        AmountMinor = Amount.Minor!.Value,
        Minutes = Minutes.Value!.Value,
        Extra = Extra.Value,
        Kind = Kind.Value is { } key ? PieceKinds.FromKey(key) : null,
        FromLengthMm = From.Value?.Millimetres,
        ToLengthMm = To.Value?.Millimetres,
        TaxRateId = Id(Tax.Value),
        OwnerId = Id(Owner.Value),
        Order = (int)Order.Value!.Value,
        Retired = Retired.Value,
    };

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);

    private static long? Id(string? key) => long.TryParse(key, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null;
}

/// <summary>The price list.</summary>
/// <param name="Lines">Its lines.</param>
/// <param name="Accounts">Names of accounts by key.</param>
public sealed record PricesModel(IReadOnlyList<PriceLine> Lines, IReadOnlyDictionary<long, string> Accounts);

/// <summary>The form of a line.</summary>
/// <param name="Form">The form.</param>
/// <param name="Id">Key; null for a new one.</param>
public sealed record PriceModel(PriceForm Form, long? Id);

/// <summary>The price list, shown and written.</summary>
internal static class PriceShelf
{
    public static async Task<IResult> ListAsync(KitQuery kit, CancellationToken cancel) => Page.Of<PricesPage>(
        "Price list", new PricesModel(await kit.PricesAsync(cancel), (await kit.AccountsAsync(cancel)).ToDictionary(a => a.Id, a => a.Name)), Room.Kit);

    public static async Task<IResult> NewAsync(KitQuery kit, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        IReadOnlyList<PriceLine> lines = await kit.PricesAsync(cancel);
        return Of(await FormAsync(kit, units, shop, null, lines.Count == 0 ? 1 : lines.Max(l => l.Order) + 1, cancel), null);
    }

    public static async Task<IResult> AddAsync(HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        PriceForm form = await FormAsync(kit, units, shop, null, 1, cancel);
        if (!await form.ReadAsync(http))
            return Of(form, null);
        return KitAnswer.To(await writer.SubmitAsync(form.Once, db => desk.AddPriceAsync(db, form.Typed(), cancel), _ => "/kit/prices", cancel), form, $"{form.Name.Value} added.") ?? Of(form, null);
    }

    public static async Task<IResult> ShowAsync(long id, KitQuery kit, UnitsView units, ShopView shop, CancellationToken cancel) =>
        (await kit.PricesAsync(cancel)).FirstOrDefault(p => p.Id == id) is { } line ? Of(await FormAsync(kit, units, shop, line, 1, cancel), id) : Page.NotFound("There is no such line in the price list.");

    public static async Task<IResult> SaveAsync(long id, HttpContext http, KitQuery kit, BookWriter writer, KitDesk desk, UnitsView units, ShopView shop, CancellationToken cancel)
    {
        PriceForm form = await FormAsync(kit, units, shop, null, 1, cancel);
        if (!await form.ReadAsync(http))
            return Of(form, id);
        IReadOnlyList<TaxRate> rates = await kit.TaxRatesAsync(cancel);
        IReadOnlyList<(long, string)> accounts = await kit.AccountsAsync(cancel);
        return KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.EditPriceAsync(db, id, form.SeenVersion, form.Typed(), cancel), _ => "/kit/prices", cancel),
            form, "Saved. What was charged before keeps its amount.", theirs => (new PriceForm(units, shop, rates, accounts, theirs), theirs.Version)) ?? Of(form, id);
    }

    private static async Task<PriceForm> FormAsync(KitQuery kit, UnitsView units, ShopView shop, PriceLine? line, int order, CancellationToken cancel) =>
        new(units, shop, await kit.TaxRatesAsync(cancel), await kit.AccountsAsync(cancel), line, order);

    private static IResult Of(PriceForm form, long? id) => Page.Of<PricePage>(id is null ? "A price" : form.Name.Typed, new PriceModel(form, id), Room.Kit, form.Status);
}
