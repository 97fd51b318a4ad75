namespace Washwear.Api.Webhooks;

/// <summary>When a message is tried again. Source: the schedule that Standard Webhooks 1.0.0 recommends, ten attempts in all.</summary>
internal static class WebhookSchedule
{
    private const double MostJitter = 0.1;

    private static readonly TimeSpan[] Waits =
    [
        TimeSpan.FromSeconds(5), TimeSpan.FromMinutes(5), TimeSpan.FromMinutes(30), TimeSpan.FromHours(2), TimeSpan.FromHours(5),
        TimeSpan.FromHours(10), TimeSpan.FromHours(14), TimeSpan.FromHours(20), TimeSpan.FromHours(24),
    ];

    /// <summary>How long to wait after an attempt that failed, up to a tenth longer so that receivers are not met by all at once.</summary>
    /// <param name="tries">Attempts made, at least 1.</param>
    /// <param name="chance">From 0 up to, not including, 1.</param>
    /// <returns>The wait; null: that was the last attempt.</returns>
    public static TimeSpan? Wait(int tries, double chance) => tries > Waits.Length ? null : Waits[tries - 1] * (1 + (MostJitter * chance));
}
