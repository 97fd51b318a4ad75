namespace Washwear.Api.Mqtt;

/// <summary>How long to wait before the next attempt to connect: doubled each time, with a random part, so that many clients of a broker
/// that comes back do not all return at once.</summary>
internal static class ReconnectDelay
{
    private static readonly TimeSpan Shortest = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(1);

    /// <summary>The wait: half of it sure, half of it chance.</summary>
    /// <param name="failures">Failures in a row before it, from 1.</param>
    /// <param name="chance">A number from 0 to below 1.</param>
    public static TimeSpan After(int failures, double chance)
    {
        double seconds = Math.Min(Longest.TotalSeconds, Shortest.TotalSeconds * Math.Pow(2, Math.Min(failures, 16) - 1));
        return TimeSpan.FromSeconds(seconds * (0.5 + (0.5 * chance)));
    }
}
