using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Shop;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Shared;

/// <summary>Per request: the shop, and how this person's device wants pages shown. The device's own choice goes before the shop's.</summary>
internal sealed class PersonsView
{
    private const string Cookie = "ww-view";

    /// <summary>The shop; a nameless one until the book has been read.</summary>
    public ShopView Shop { get; private set; } = new("Whetwright", "EUR", TimeZoneInfo.Local, null, false);

    /// <summary>The device's preferences.</summary>
    public ViewPreferences Preferences { get; private set; } = new();

    public void Take(ShopCard card, HttpContext http)
    {
        Uri? address = Uri.TryCreate(card.BaseAddress, UriKind.Absolute, out Uri? uri) ? uri : null;
        Shop = new(card.Name.Length > 0 ? card.Name : "Whetwright", card.Currency, card.Zone(), address, card.Invented);
        Preferences = Parse(http.Request.Cookies[Cookie]) ?? new()
        {
            Units = card.Units == LengthUnit.Inch.Key() ? LengthUnit.Inch : LengthUnit.Millimetre,
            Hand = card.Hand == WorkHand.Left.Key() ? WorkHand.Left : WorkHand.Right,
            CultureName = KnownCultures.Knows(card.Culture) ? card.Culture : "en-GB",
        };
    }

    /// <summary>Keeps the preferences on this device for a year.</summary>
    public static void Keep(HttpContext http, ViewPreferences p) =>
        http.Response.Cookies.Append(Cookie, string.Join('.', p.Units.Key(), p.Hand.Key(), p.Theme.Key(), p.TextSize.Key(), p.CultureName),
            new CookieOptions { HttpOnly = true, Secure = http.Request.IsHttps, SameSite = SameSiteMode.Strict, MaxAge = TimeSpan.FromDays(365), Path = "/", IsEssential = true });

    private static ViewPreferences? Parse(string? kept)
    {
        if (kept?.Split('.') is not [var units, var hand, var theme, var text, var culture] || !KnownCultures.Knows(culture))
            return null;
        return new()
        {
            Units = units == LengthUnit.Inch.Key() ? LengthUnit.Inch : LengthUnit.Millimetre,
            Hand = hand == WorkHand.Left.Key() ? WorkHand.Left : WorkHand.Right,
            Theme = theme == Theme.Light.Key() ? Theme.Light : theme == Theme.Dark.Key() ? Theme.Dark : Theme.Device,
            TextSize = text == TextSize.Large.Key() ? TextSize.Large : text == TextSize.Largest.Key() ? TextSize.Largest : TextSize.Normal,
            CultureName = culture,
        };
    }
}

/// <summary>Registers it and fills it before each page.</summary>
internal static class PersonsViewServing
{
    public static void AddPersonsView(this IServiceCollection services)
    {
        services.AddScoped<PersonsView>();
        services.AddScoped(provider => provider.GetRequiredService<PersonsView>().Preferences);
        services.AddScoped(provider => provider.GetRequiredService<PersonsView>().Shop);
        services.AddScoped<UnitsView>();
    }

    public static void UsePersonsView(this IApplicationBuilder app) => app.Use(async (http, next) =>
    {
        if (!http.Request.Path.StartsWithSegments("/_a", StringComparison.Ordinal) && http.Request.Path != "/health")
        {
            await using BookContext book = await http.RequestServices.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync(http.RequestAborted);
            ShopCard card = await book.Shop.AsNoTracking().SingleAsync(http.RequestAborted);
            PersonsView view = http.RequestServices.GetRequiredService<PersonsView>();
            view.Take(card, http);
            CultureInfo.CurrentCulture = view.Preferences.Culture;
        }

        await next(http);
    });
}
