using System.Globalization;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>What the invented fleet, its program and its readers take for now. The lives of the ovens end there, so another day is another fleet: on
/// one day for all runs, a test that fails tells of a change. WASHWEAR_TEST_NOW names another one.</summary>
internal static class FleetClock
{
    private const string Usual = "2026-11-25T10:00:00Z";

    private static readonly TimeSpan Ahead =
        DateTimeOffset.Parse(Environment.GetEnvironmentVariable("WASHWEAR_TEST_NOW") ?? Usual, CultureInfo.InvariantCulture) - TimeProvider.System.GetUtcNow();

    /// <summary>Now, as the setting of the program takes it.</summary>
    public static string Now => (TimeProvider.System.GetUtcNow() + Ahead).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>Sets the clock of a browser.</summary>
    /// <param name="session">Its session; pages that are opened from now on go by it.</param>
    public static Task SetAsync(IBrowserContext session) => session.AddInitScriptAsync(string.Create(CultureInfo.InvariantCulture, $$"""
        (ahead => {
          const machine = Date;
          window.Date = class extends machine {
            constructor(...given) {
              super(...(given.length === 0 ? [machine.now() + ahead] : given));
            }
            static now() {
              return machine.now() + ahead;
            }
          };
        })({{(long)Ahead.TotalMilliseconds}});
        """));
}
