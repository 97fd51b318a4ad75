using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Alerts;

/// <summary>Opens alerts that states call for and closes those whose state has ended. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="settings">When a unit that is overdue becomes an alert.</param>
/// <param name="clock">The clock.</param>
public sealed class AlertChecks(Database database, RegistryCache registry, CleaningReports cleaning, Settings settings, TimeProvider clock) : IDisposable
{
    private readonly SemaphoreSlim _turn = new(1, 1);

    /// <summary>Checks once; one check at a time, all its changes in one transaction.</summary>
    /// <param name="cancellationToken">Stops the check before it writes.</param>
    /// <returns>The alerts that it opened or closed.</returns>
    public async Task<IReadOnlyList<Alert>> RunAsync(CancellationToken cancellationToken)
    {
        await _turn.WaitAsync(cancellationToken);
        try
        {
            DateTimeOffset now = clock.GetUtcNow();
            CleaningStatusReport status = await cleaning.AssembleStatusAsync(CleaningFilter.All, now, cancellationToken);
            RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
            return await database.WriteAsync(session => ApplyAsync(session, status.Rows, snapshot, now, cancellationToken), cancellationToken);
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private async Task<IReadOnlyList<Alert>> ApplyAsync(
        WriteSession session, IReadOnlyList<UnitCleaning> rows, RegistrySnapshot snapshot, DateTimeOffset now, CancellationToken cancellationToken)
    {
        ILookup<string, UnitCleaning> byUnit = rows.ToLookup(row => row.Unit, StringComparer.OrdinalIgnoreCase);
        IReadOnlyList<Alert> alive = await AlertQueries.AliveAsync(session, cancellationToken);
        var changed = new List<Alert>();
        foreach (Alert alert in alive)
        {
            if (AlertRules.Ended(alert, byUnit[alert.Unit]) is { } because)
            {
                changed.Add(await AlertQueries.CloseAsync(session, alert, because, now, cancellationToken));
            }
        }

        var known = alive.Select(alert => AlertRules.Key(alert.Kind, alert.Unit, alert.Rule)).ToHashSet();
        foreach (FoundState found in AlertRules.Find(rows, settings.AlertOverdueHours))
        {
            if (!known.Contains(AlertRules.Key(found.Kind, found.Unit, found.Rule))
                && snapshot.Units.TryGetValue(found.Unit, out UnitEntry? unit)
                && await AlertQueries.OpenAsync(session, found, unit.Id, now, cancellationToken) is { } opened)
            {
                changed.Add(opened);
            }
        }

        return changed;
    }
}
