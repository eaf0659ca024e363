using System.Globalization;
using System.Net;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Shop;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>The shop's own card as a form.</summary>
public sealed class ShopForm : WebForm
{
    private static readonly string[] Days = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

    public ShopForm(ShopCard now, UnitsView units)
    {
        bool fresh = now.Name.Length == 0;
        Name = Add(new TextField("name", "Name of the shop") { Required = true, MaxLength = 80, AutoComplete = "organization", Hint = "On receipts, tags and every page." });
        Address = Add(new TextField("address", "Address and telephone") { Lines = 3, MaxLength = 400, Hint = "As it shall stand on receipts." });
        Conditions = Add(new TextField("conditions", "Conditions on receipts") { Lines = 4, MaxLength = 1200, Hint = "Liability, payment, what becomes of pieces that nobody fetches." });
        Uncollected = Add(new NumberField("uncollectedAfterDays", "A piece is uncollected after") { Unit = "days", Min = 1, Max = 3650, Whole = true, Required = true });
        Forget = Add(new NumberField("forgetAfterMonths", "An owner who no longer comes is kept for") { Unit = "months", Min = 1, Max = 600, Whole = true, Hint = "Then Book proposes to erase them; the figures stay. Nothing keeps everybody for good. Your tax office may want papers longer." });
        BaseAddress = Add(new TextField("baseAddress", "Address on tags begins with")
        {
            Keyboard = "url",
            MaxLength = 200,
            Hint = "What the code on a tag opens, such as http://shop.local:5210. It must stay the same for as long as tags are about.",
            Also = NotAnAddress,
        });
        Currency = Add(new ChoiceField("currency", "Currency", [.. Money.Codes.Select(c => new Choice(c, c))]) { Required = true });
        Clock = Add(new ChoiceField("timeZone", "The shop's clock", [.. Zones(now.TimeZone)]) { Required = true, List = true });
        Culture = Add(new ChoiceField("culture", "Numbers and dates", [.. KnownCultures.Names.Select(n => new Choice(n, KnownCultures.Label(n)))])
        { Required = true, Hint = "On what is printed, and on devices that chose nothing else." });
        Units = Add(new ChoiceField("units", "Lengths", [new("mm", "Millimetres"), new("in", "Inches")]) { Required = true });
        Tolerance = Add(new AngleField("toleranceDeg", "Angle tolerance per side", units) { MinDeg = 0.1, MaxDeg = 5, Required = true, Hint = "How far from the wanted angle an edge of yours may come out." });
        Minutes = Add(new NumberField("minutesPerDay", "Bench time in a working day") { Unit = "min", Min = 10, Max = 1440, Required = true, Hint = "Promises follow from it." });
        BenchDays = Add(new ManyField("benchDays", "Days at the bench", [.. Days.Select(d => new Choice(d, d[..3]))]) { Required = true });

        Name.Typed = now.Name;
        Address.Typed = now.Address ?? "";
        Conditions.Typed = now.Conditions ?? "";
        Uncollected.Fill(now.UncollectedAfterDays, units);
        Forget.Fill(now.ForgetAfterMonths, units);
        BaseAddress.Typed = now.BaseAddress ?? "";
        Currency.Fill(now.Currency);
        Clock.Fill(fresh ? TimeZoneInfo.Local.Id : now.TimeZone);
        Culture.Fill(now.Culture);
        Units.Fill(now.Units);
        Tolerance.Fill(Angle.FromDegrees(now.ToleranceDeg));
        Minutes.Fill(now.MinutesPerDay, units);
        BenchDays.Fill(Days.Where((_, i) => i < now.BenchDays.Length && now.BenchDays[i] == '1'));
        VersionSeen = now.Version.ToString(CultureInfo.InvariantCulture);
    }

    public TextField Name { get; }

    public TextField Address { get; }

    public TextField Conditions { get; }

    public NumberField Uncollected { get; }

    public NumberField Forget { get; }

    public TextField BaseAddress { get; }

    public ChoiceField Currency { get; }

    public ChoiceField Clock { get; }

    public ChoiceField Culture { get; }

    public ChoiceField Units { get; }

    public AngleField Tolerance { get; }

    public NumberField Minutes { get; }

    public ManyField BenchDays { get; }

    /// <summary>Why tags with this address would not be found later; null where nothing speaks against it.</summary>
    public string? TagWarning => BaseAddress.Error is null && Uri.TryCreate(BaseAddress.Value, UriKind.Absolute, out Uri? uri) ? Warning(uri) : null;

    /// <summary>Writes what was typed onto the card.</summary>
    public void Put(ShopCard card)
    {
        card.Name = Name.Value!;
        card.Address = Address.Value;
        card.Conditions = Conditions.Value;
        card.UncollectedAfterDays = (int)Uncollected.Value!.Value;
        card.ForgetAfterMonths = (int?)Forget.Value;
        card.BaseAddress = BaseAddress.Value?.TrimEnd('/');
        card.Currency = Currency.Value!;
        card.TimeZone = Clock.Value!;
        card.Culture = Culture.Value!;
        card.Units = Units.Value!;
        card.ToleranceDeg = Tolerance.Value!.Value.Degrees;
        card.MinutesPerDay = Minutes.Value!.Value;
        card.BenchDays = string.Concat(Days.Select(d => BenchDays.Values.Contains(d, StringComparer.Ordinal) ? '1' : '0'));
    }

    private static string? NotAnAddress(string typed) =>
        Uri.TryCreate(typed, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https" && uri!.Query.Length == 0 && uri.Fragment.Length == 0 && uri.UserInfo.Length == 0
            ? null
            : $"'{typed}' is not an address that a tag can begin with; one such as http://shop.local:5210 would be right";

    private static string? Warning(Uri uri)
    {
        if (uri.IsLoopback)
            return $"{uri.Host} means this machine alone: a phone that reads the tag will not find it. Use the name or fixed number that other devices reach this machine by.";
        return IPAddress.TryParse(uri.Host, out _)
            ? $"{uri.Host} is a number that a network may give to another machine tomorrow. Fix it in the router, or use a name, before tags are printed."
            : null;
    }

    private static IEnumerable<Choice> Zones(string now)
    {
        DateTime winter = new(2026, 1, 15, 0, 0, 0, DateTimeKind.Utc);
        string local = TimeZoneInfo.Local.Id;
        return from zone in TimeZoneInfo.GetSystemTimeZones().OrderBy(z => z.Id, StringComparer.Ordinal)
               where zone.Id.Contains('/', StringComparison.Ordinal) || zone.Id == "UTC" || zone.Id == local || zone.Id == now
               let offset = zone.GetUtcOffset(winter)
               orderby zone.Id == local descending
               select new Choice(zone.Id, string.Create(CultureInfo.InvariantCulture, $"{zone.Id} (UTC{(offset < TimeSpan.Zero ? '\u2212' : '+')}{offset:hh\\:mm})"));
    }
}
