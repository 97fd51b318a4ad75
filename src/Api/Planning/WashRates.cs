using Washwear.Api.Failures;
using Washwear.Api.Projections;

namespace Washwear.Api.Planning;

/// <summary>
/// How many washes a day each unit runs: its own of the last three whole months and of the month that goes on, up to when it was last heard.
/// </summary>
internal sealed class WashRates
{
    private const int WholeMonths = 3;
    private const double LeastDays = 14;
    private const double MsPerDay = 86_400_000;

    private readonly Dictionary<int, double> _perDay = [];

    private WashRates()
    {
    }

    /// <summary>Washes a day of a unit, 0 or more; null: it was not watched for two weeks of that time.</summary>
    /// <param name="unitId">The unit's number.</param>
    public double? PerDay(int unitId) => _perDay.TryGetValue(unitId, out double rate) ? rate : null;

    /// <summary>Reads the rates.</summary>
    /// <param name="queries">Reads washes by month.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="afterwards">Whether it lies in the past, so that its month holds washes that were still to come.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<WashRates> ReadAsync(FailureQueries queries, DateTimeOffset asOf, bool afterwards, CancellationToken cancellationToken)
    {
        int now = WashMonth.Of(asOf.ToUnixTimeMilliseconds());
        int month = afterwards ? now - 1 : now;
        long end = afterwards ? WashMonth.BeginMs(now) : asOf.ToUnixTimeMilliseconds();
        int first = now - WholeMonths;
        IReadOnlyDictionary<int, HeardRow> heard = await queries.HeardAsync(cancellationToken);
        WashCounts washes = await queries.WashMonthsAsync(first, month, cancellationToken);
        var rates = new WashRates();
        foreach ((int unitId, HeardRow unit) in heard)
        {
            long from = Math.Max(WashMonth.BeginMs(first), unit.FirstMs);
            double days = (Math.Min(end, unit.LastMs) - from) / MsPerDay;
            if (days >= LeastDays)
            {
                rates._perDay[unitId] = washes.ByUnit.GetValueOrDefault(unitId, []).Sum() / days;
            }
        }

        return rates;
    }
}
