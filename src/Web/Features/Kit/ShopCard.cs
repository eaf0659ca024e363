using Whetwright.Core.Quantities;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>The shop's own settings as they stand in the book.</summary>
internal sealed record ShopCard
{
    public string Name { get; init; } = "Whetwright";

    public string Address { get; init; } = "";

    public string? BaseAddress { get; init; }

    public string Currency { get; init; } = "EUR";

    public decimal TaxPercent { get; init; }

    public string TimeZoneId { get; init; } = TimeZoneInfo.Local.Id;

    public string CultureName { get; init; } = "en-GB";

    public LengthUnit Units { get; init; } = LengthUnit.Millimetre;

    public bool Invented { get; init; }

    /// <summary>Changes with every save.</summary>
    public string Version { get; init; } = "0";

    public ShopView View => new(Name, Currency, Zone, BaseAddress is null ? null : new Uri(BaseAddress), Invented);

    /// <summary>What a device has that chose nothing.</summary>
    public ViewPreferences Defaults => new() { CultureName = KnownCultures.Knows(CultureName) ? CultureName : "en-GB", Units = Units };

    private TimeZoneInfo Zone => TimeZoneInfo.TryFindSystemTimeZoneById(TimeZoneId, out TimeZoneInfo? zone) ? zone : TimeZoneInfo.Utc;
}

/// <summary>Where the card is kept.</summary>
internal interface IShopBook
{
    Task<ShopCard> ReadAsync(CancellationToken cancellationToken);

    /// <summary>Saves it if nobody saved since <paramref name="versionSeen"/>; the same token saves once.</summary>
    /// <returns>Null: saved. Else what stands in the book now.</returns>
    Task<ShopCard?> SaveAsync(ShopCard card, string versionSeen, string once, CancellationToken cancellationToken);
}

/// <summary>Kept as long as the program runs.</summary>
internal sealed class ShopInMemory : IShopBook
{
    private readonly Lock door = new();
    private readonly HashSet<string> done = new(StringComparer.Ordinal);
    private ShopCard card = new();

    public Task<ShopCard> ReadAsync(CancellationToken cancellationToken) => Task.FromResult(card);

    public Task<ShopCard?> SaveAsync(ShopCard card, string versionSeen, string once, CancellationToken cancellationToken)
    {
        lock (door)
        {
            if (done.Contains(once))
                return Task.FromResult<ShopCard?>(null);
            if (versionSeen != this.card.Version)
                return Task.FromResult<ShopCard?>(this.card);
            done.Add(once);
            this.card = card with { Version = Guid.NewGuid().ToString("N") };
            return Task.FromResult<ShopCard?>(null);
        }
    }
}
