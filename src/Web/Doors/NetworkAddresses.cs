using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Microsoft.AspNetCore.Http;
using Whetwright.Web.Serving;

namespace Whetwright.Web.Doors;

/// <summary>Where another device finds this shop.</summary>
internal static class NetworkAddresses
{
    /// <summary>Addresses to type into the new device; empty where the shop is served on this machine alone.</summary>
    public static IReadOnlyList<string> Of(HttpContext http, ServeOptions options)
    {
        List<string> all = [];
        foreach (Uri url in options.Urls.Where(u => !ServeOptions.IsLoopback(u)).Select(ServeOptions.Plain))
        {
            int port = url.Port > 0 ? url.Port : http.Request.Host.Port ?? 80;
            IEnumerable<string> hosts = IPAddress.TryParse(url.Host, out IPAddress? address) && (address.Equals(IPAddress.Any) || address.Equals(IPAddress.IPv6Any)) ? Own() : [url.Host];
            all.AddRange(hosts.Select(h => $"{url.Scheme}://{h}:{port}"));
        }

        return [.. all.Distinct(StringComparer.Ordinal)];
    }

    private static IEnumerable<string> Own() =>
        from card in NetworkInterface.GetAllNetworkInterfaces()
        where card.OperationalStatus == OperationalStatus.Up && card.NetworkInterfaceType != NetworkInterfaceType.Loopback
        from address in card.GetIPProperties().UnicastAddresses
        where address.Address.AddressFamily == AddressFamily.InterNetwork
        select address.Address.ToString();
}
