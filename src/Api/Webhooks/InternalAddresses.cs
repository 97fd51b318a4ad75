using System.Net;
using System.Net.Sockets;

namespace Washwear.Api.Webhooks;

/// <summary>Which IP addresses are not of the public internet; a receiver there could be made to act for a stranger.</summary>
/// <remarks>Source: the IANA registries of special-purpose IPv4 and IPv6 addresses (RFC 6890 and what updates it).</remarks>
public static class InternalAddresses
{
    private static readonly IPNetwork[] Refused4 =
    [
        .. new[]
        {
            "0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24", "192.0.2.0/24",
            "192.88.99.0/24", "192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4",
        }.Select(IPNetwork.Parse),
    ];

    // Global unicast is 2000::/3; of it, protocol assignments with Teredo and documentation are not public.
    private static readonly IPNetwork Global6 = IPNetwork.Parse("2000::/3");
    private static readonly IPNetwork[] Refused6 = [.. new[] { "2001::/23", "2001:db8::/32", "3fff::/20" }.Select(IPNetwork.Parse)];
    private static readonly IPNetwork SixToFour = IPNetwork.Parse("2002::/16");
    private static readonly IPNetwork Translated = IPNetwork.Parse("64:ff9b::/96");

    /// <summary>Whether an address is internal, or carries an internal IPv4 address inside.</summary>
    /// <param name="address">The address.</param>
    public static bool Contains(IPAddress address)
    {
        if (address.AddressFamily == AddressFamily.InterNetwork)
        {
            return Refused4.Any(network => network.Contains(address));
        }

        byte[] bytes = address.GetAddressBytes();
        return address.IsIPv4MappedToIPv6 || Translated.Contains(address) ? Contains(new IPAddress(bytes.AsSpan(12, 4)))
            : SixToFour.Contains(address) ? Contains(new IPAddress(bytes.AsSpan(2, 4)))
            : !Global6.Contains(address) || Refused6.Any(network => network.Contains(address));
    }
}
