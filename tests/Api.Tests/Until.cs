using System.Diagnostics;

namespace Washwear.Api.Tests;

/// <summary>Waits for something that comes about by itself, up to a deadline.</summary>
internal static class Until
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(25);

    /// <summary>Waits until a condition holds.</summary>
    /// <param name="condition">The condition.</param>
    /// <param name="what">What is waited for, in words.</param>
    public static async Task TrueAsync(Func<Task<bool>> condition, string what)
    {
        var waited = Stopwatch.StartNew();
        while (!await condition())
        {
            Assert.True(waited.Elapsed < Patience, $"Waited {Patience.TotalSeconds} s in vain until {what}.");
            await Task.Delay(BetweenLooks);
        }
    }
}
