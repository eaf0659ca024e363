namespace Whetwright.Web.Shared.Showing;

/// <summary>What every page needs to know of the shop.</summary>
/// <param name="Name">Name on the sign.</param>
/// <param name="Currency">ISO 4217 code.</param>
/// <param name="TimeZone">The shop's clock.</param>
/// <param name="BaseAddress">What the addresses on tags begin with; null where none is set.</param>
/// <param name="Invented">The book holds a demo.</param>
public sealed record ShopView(string Name, string Currency, TimeZoneInfo TimeZone, Uri? BaseAddress, bool Invented);
