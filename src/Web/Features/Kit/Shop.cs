using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>The shop's own settings.</summary>
public sealed class ShopForm : WebForm
{
    internal ShopForm(ShopCard now, UnitsView units)
    {
        Name = Add(new TextField("name", "Name of the shop") { Required = true, MaxLength = 80, AutoComplete = "organization", Hint = "On receipts, tags and every page." });
        Address = Add(new TextField("address", "Address and telephone") { Lines = 3, MaxLength = 400, Hint = "As it shall stand on receipts." });
        BaseAddress = Add(new TextField("baseAddress", "Address on tags begins with")
        {
            Keyboard = "url",
            MaxLength = 200,
            Hint = "What the code on a tag opens, such as http://shop.local:5210. It must stay the same for as long as tags are about.",
            Also = NotAnAddress,
        });
        Currency = Add(new ChoiceField("currency", "Currency", [.. Money.Codes.Select(c => new Choice(c, c))]) { Required = true });
        Tax = Add(new NumberField("taxPercent", "Tax in the prices") { Unit = "%", Min = 0, Max = 60, Required = true, Hint = "0 where none is due. Prices in the list hold it." });
        Clock = Add(new ChoiceField("clock", "The shop's clock", [.. Zones()]) { Required = true });
        Culture = Add(new ChoiceField("culture", "Numbers and dates", [.. KnownCultures.Names.Select(n => new Choice(n, KnownCultures.Label(n)))])
        { Required = true, Hint = "On what is printed, and on devices that chose nothing else." });
        Units = Add(new ChoiceField("units", "Lengths", [new("mm", "Millimetres"), new("in", "Inches")]) { Required = true });

        Name.Typed = now.Name;
        Address.Typed = now.Address;
        BaseAddress.Typed = now.BaseAddress ?? "";
        Currency.Fill(now.Currency);
        Tax.Fill((double)now.TaxPercent, units);
        Clock.Fill(now.TimeZoneId);
        Culture.Fill(now.CultureName);
        Units.Fill(now.Units.Key());
        VersionSeen = now.Version;
    }

    public TextField Name { get; }

    public TextField Address { get; }

    public TextField BaseAddress { get; }

    public ChoiceField Currency { get; }

    public NumberField Tax { get; }

    public ChoiceField Clock { get; }

    public ChoiceField Culture { get; }

    public ChoiceField Units { get; }

    /// <summary>Why tags with this address would not be found later; null where nothing speaks against it.</summary>
    public string? TagWarning => BaseAddress.Error is null && Uri.TryCreate(BaseAddress.Value, UriKind.Absolute, out Uri? uri) ? Warning(uri) : null;

    internal ShopCard Card(ShopCard now) => now with
    {
        Name = Name.Value!,
        Address = Address.Value ?? "",
        BaseAddress = BaseAddress.Value?.TrimEnd('/'),
        Currency = Currency.Value!,
        TaxPercent = (decimal)Tax.Value!.Value,
        TimeZoneId = Clock.Value!,
        CultureName = Culture.Value!,
        Units = Units.Value == "in" ? LengthUnit.Inch : LengthUnit.Millimetre,
    };

    private static string? NotAnAddress(string typed) =>
        Uri.TryCreate(typed, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https" && uri!.Query.Length == 0 && uri.Fragment.Length == 0 && uri.UserInfo.Length == 0
            ? null
            : $"'{typed}' is not an address that a tag can begin with; one such as http://shop.local:5210 would be right";

    private static string? Warning(Uri uri)
    {
        if (uri.IsLoopback)
            return $"{uri.Host} means this machine alone: a phone that reads the tag will not find it. Use the name or fixed number that other devices reach this machine by.";
        return IPAddress.TryParse(uri.Host, out IPAddress? ip) && ip.AddressFamily is AddressFamily.InterNetwork or AddressFamily.InterNetworkV6
            ? $"{uri.Host} is a number that a network may give to another machine tomorrow. Fix it in the router, or use a name, before tags are printed."
            : null;
    }

    private static IEnumerable<Choice> Zones()
    {
        DateTime now = new(2026, 1, 15, 0, 0, 0, DateTimeKind.Utc);
        return from zone in TimeZoneInfo.GetSystemTimeZones().OrderBy(z => z.Id, StringComparer.Ordinal)
               where zone.Id.Contains('/', StringComparison.Ordinal) || zone.Id is "UTC" || zone.Id == TimeZoneInfo.Local.Id
               let offset = zone.GetUtcOffset(now)
               orderby zone.Id == TimeZoneInfo.Local.Id descending
               select new Choice(zone.Id, string.Create(CultureInfo.InvariantCulture, $"{zone.Id} (UTC{(offset < TimeSpan.Zero ? '\u2212' : '+')}{offset:hh\\:mm})"));
    }
}

/// <summary>Shows and saves the shop's settings: the worked example of our form pattern.</summary>
internal static class Shop
{
    public static async Task<IResult> ShowAsync(IShopBook book, UnitsView units, CancellationToken cancellationToken) =>
        Of(new ShopForm(await book.ReadAsync(cancellationToken), units));

    public static async Task<IResult> SaveAsync(HttpContext http, IShopBook book, UnitsView units, CancellationToken cancellationToken)
    {
        ShopCard now = await book.ReadAsync(cancellationToken);
        ShopForm form = new(now, units);
        if (!await form.ReadAsync(http))
            return Of(form);
        if (await book.SaveAsync(form.Card(now), form.VersionSeen, form.Once, cancellationToken) is { } other)
        {
            form.Meet(new ShopForm(other, units), other.Version);
            return Of(form);
        }

        return Page.SeeOther("/kit/shop", "Saved.");
    }

    private static IResult Of(ShopForm form) => Page.Of<ShopPage>("The shop", form, Room.Kit, form.Status);
}
