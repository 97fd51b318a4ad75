using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using Washwear.Api.Registry;

namespace Washwear.Api.Security;

/// <summary>Counts tries to sign in that failed, by address and by login, in memory; who has too many of them has to wait. A login that
/// nobody has is counted like any other, so that waiting tells nothing. Safe for concurrent use.</summary>
/// <param name="settings">How many, and for how long.</param>
/// <param name="clock">The clock.</param>
public sealed class SignInAttempts(Settings settings, TimeProvider clock)
{
    private const int MostCounts = 10_000;
    private const int NetworkBytes = 8;
    private readonly ConcurrentDictionary<string, Count> _counts = new(StringComparer.Ordinal);

    /// <summary>Begins a try, which counts as failed until <see cref="Succeeded"/>: tries at the same time get no further than tries in turn.</summary>
    /// <param name="address">Where it comes from.</param>
    /// <param name="login">Whose login is tried; null: a key or a link.</param>
    /// <returns>How long to wait instead; null: go on.</returns>
    public TimeSpan? Begin(IPAddress? address, string? login = null)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DropOld(now);
        return CountTry(ByAddress(address), settings.FailedSignIns, now)
            ?? (login is null ? null : CountTry(ByLogin(login), settings.FailedSignInsOfPerson, now));
    }

    /// <summary>Takes back what <see cref="Begin"/> counted, and forgets the failures of the login.</summary>
    /// <param name="address">Where the try came from.</param>
    /// <param name="login">Whose login it was; null: a key or a link.</param>
    public void Succeeded(IPAddress? address, string? login = null)
    {
        // Failures of others at the same address stay: whoever guesses could else sign in as himself in between.
        string key = ByAddress(address);
        if (_counts.TryGetValue(key, out Count? count))
        {
            _counts.TryUpdate(key, count with { Failures = count.Failures - 1 }, count);
        }

        if (login is not null)
        {
            _counts.TryRemove(ByLogin(login), out _);
        }
    }

    private TimeSpan? CountTry(string key, int most, DateTimeOffset now)
    {
        var first = new Count(1, now + settings.FailedSignInWindow);
        Count count = _counts.AddOrUpdate(key, _ => first, (_, old) => old.Until <= now ? first : old with { Failures = old.Failures + 1 });
        return count.Failures > most ? count.Until - now : null;
    }

    // Whoever has one address of version 6 has a whole network of them.
    private static string ByAddress(IPAddress? address)
    {
        if (address is null)
        {
            return "from ";
        }

        IPAddress plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return plain.AddressFamily == AddressFamily.InterNetworkV6
            ? "from " + Convert.ToHexString(plain.GetAddressBytes(), 0, NetworkBytes)
            : "from " + plain;
    }

    private static string ByLogin(string login) => "as " + Convert.ToBase64String(Secret.Hash(Codes.Key(login.Trim())));

    private void DropOld(DateTimeOffset now)
    {
        if (_counts.Count < MostCounts)
        {
            return;
        }

        foreach ((string key, Count _) in _counts.Where(pair => pair.Value.Until <= now))
        {
            _counts.TryRemove(key, out _);
        }
    }

    private sealed record Count(int Failures, DateTimeOffset Until);
}
