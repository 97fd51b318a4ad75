namespace Washwear.Api.Planning;

/// <summary>
/// Keeps the forecast of each calendar quarter, so that it can be held against what came. One that was not made in time is made afterwards from
/// what had happened by the quarter's begin, and says so.
/// </summary>
/// <param name="plans">Makes books of parts.</param>
/// <param name="queries">Keeps the forecasts.</param>
/// <param name="clock">The clock.</param>
internal sealed class KeptForecasts(FleetPlan plans, KeptForecastQueries queries, TimeProvider clock)
{
    private static readonly TimeSpan InTime = TimeSpan.FromDays(3);

    /// <summary>Keeps what is missing: the forecast of this quarter and of the one before.</summary>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>How many were made.</returns>
    public async Task<int> KeepAsync(CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        HashSet<string> kept = [.. (await queries.KeptAsync(cancellationToken)).Select(one => one.Quarter)];
        int made = 0;
        foreach (Quarter quarter in new[] { Quarter.Of(now).Before, Quarter.Of(now) })
        {
            if (!kept.Contains(quarter.ToString()) && await MakeAsync(quarter, now, cancellationToken))
            {
                made++;
            }
        }

        return made;
    }

    // A fleet without parts then has nothing to forecast; it is asked again, for records may still come.
    private async Task<bool> MakeAsync(Quarter quarter, DateTimeOffset now, CancellationToken cancellationToken)
    {
        PlanBook book = await plans.ReadAsync(quarter.Begin, afterwards: true, cancellationToken);
        double days = (quarter.End - quarter.Begin).TotalDays;
        ForecastPart[] parts =
        [
            .. book.Parts.Where(part => part.NoChance is null)
                .Select(part => new ForecastPart(part.Unit.Id, part.Life.Position, part.Life.Ordinal, part.PartNumber, part.Chance(days)!.Value)),
        ];
        if (parts.Length == 0)
        {
            return false;
        }

        var kept = new KeptQuarter { Quarter = quarter.ToString(), MadeAt = now, MadeAfterwards = now - quarter.Begin > InTime };
        await queries.AddAsync(kept, parts, cancellationToken);
        return true;
    }
}
