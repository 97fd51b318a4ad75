using System.Collections.Concurrent;
using System.Net;

namespace Washwear.Api.Security;

/// <summary>Counts failed sign-ins by address, in memory; too many of them have to wait. Safe for concurrent use.</summary>
/// <param name="settings">How many, and for how long.</param>
/// <param name="clock">The clock.</param>
public sealed class SignInAttempts(Settings settings, TimeProvider clock)
{
    private const int MostAddresses = 10_000;
    private readonly ConcurrentDictionary<string, Count> _counts = new(StringComparer.Ordinal);

    /// <summary>How long an address still has to wait; null: it may try.</summary>
    /// <param name="address">The address.</param>
    public TimeSpan? Wait(IPAddress? address)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return _counts.TryGetValue(Name(address), out Count? count) && count.Failures >= settings.FailedSignIns && count.Until > now
            ? count.Until - now
            : null;
    }

    /// <summary>Notes a failed sign-in.</summary>
    /// <param name="address">Where it came from.</param>
    public void Failed(IPAddress? address)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DropOld(now);
        var first = new Count(1, now + settings.FailedSignInWindow);
        _counts.AddOrUpdate(
            Name(address),
            _ => first,
            (_, old) => old.Until <= now ? first : old with { Failures = old.Failures + 1 });
    }

    /// <summary>Forgets the failures of an address that has signed in.</summary>
    /// <param name="address">The address.</param>
    public void Succeeded(IPAddress? address) => _counts.TryRemove(Name(address), out _);

    private static string Name(IPAddress? address) => address?.ToString() ?? string.Empty;

    private void DropOld(DateTimeOffset now)
    {
        if (_counts.Count < MostAddresses)
        {
            return;
        }

        foreach ((string address, Count _) in _counts.Where(pair => pair.Value.Until <= now))
        {
            _counts.TryRemove(address, out _);
        }
    }

    private sealed record Count(int Failures, DateTimeOffset Until);
}
