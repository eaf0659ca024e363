using System.Net;
using Microsoft.AspNetCore.Http;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Doors;

/// <summary>Names under which the shop answers. A page elsewhere can point a name of its own at this machine; an address in figures it cannot.</summary>
internal static class HostNames
{
    /// <summary>The name is one of ours.</summary>
    /// <param name="name">As the request says it, without the port.</param>
    /// <param name="options">Whether only this machine is served, and the names given at the start.</param>
    /// <param name="shop">The address on the shop's tags is its name, too.</param>
    public static bool Knows(HostString name, ServeOptions options, ShopView shop)
    {
        string host = name.Host;
        if (host is "localhost" or "127.0.0.1" or "[::1]" || host.EndsWith(".localhost", StringComparison.OrdinalIgnoreCase))
            return true;
        if (!options.AsksWho)
            return false;
        return IPAddress.TryParse(host.Trim('[', ']'), out _)
            || Same(host, Environment.MachineName) || Same(host, Environment.MachineName + ".local")
            || options.Hosts.Any(h => Same(host, h)) || (shop.BaseAddress is { } address && Same(host, address.Host));
    }

    private static bool Same(string a, string b) => a.Equals(b, StringComparison.OrdinalIgnoreCase);
}
