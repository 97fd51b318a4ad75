namespace Washwear.Api.Storage;

/// <summary>How long to wait before work is tried again: twice as long each time, and never two nodes equally long.</summary>
internal static class Backoff
{
    private const double FirstMs = 50;
    private const double MostMs = 2_000;

    /// <summary>The wait, between half and all of 50 ms, 100 ms, 200 ms and so on, 2 s at most.</summary>
    /// <param name="failed">How many tries have failed, from 1.</param>
    /// <param name="chance">A random number from 0 to 1.</param>
    public static TimeSpan After(int failed, double chance) =>
        TimeSpan.FromMilliseconds(Math.Min(MostMs, FirstMs * Math.Pow(2, failed - 1)) * (0.5 + (chance / 2)));
}
