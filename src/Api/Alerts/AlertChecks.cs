using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Webhooks;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Api.Alerts;

/// <summary>Opens alerts that states call for, closes those whose state has ended, and writes the messages that tell of it. Safe for concurrent use.</summary>
/// <param name="database">The database.</param>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="signs">Whose washes are getting worse.</param>
/// <param name="settings">When a unit that is overdue becomes an alert.</param>
/// <param name="clock">The clock.</param>
public sealed class AlertChecks(
    Database database, RegistryCache registry, CleaningReports cleaning, EarlySignReports signs, Settings settings, TimeProvider clock) : IDisposable
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
            EarlySignsReport worse = await signs.AssembleAsync(CleaningFilter.All, now, null, cancellationToken);
            RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
            return await database.WriteAsync(session => ApplyAsync(session, status.Rows, worse.Rows, snapshot, now, cancellationToken), cancellationToken);
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private async Task<IReadOnlyList<Alert>> ApplyAsync(
        WriteSession session,
        IReadOnlyList<UnitCleaning> rows,
        IReadOnlyList<UnitSign> worse,
        RegistrySnapshot snapshot,
        DateTimeOffset now,
        CancellationToken cancellationToken)
    {
        FoundState[] found = [.. AlertRules.Find(rows, settings.AlertOverdueHours), .. AlertRules.Find(worse)];
        ILookup<string, UnitCleaning> byUnit = rows.ToLookup(row => row.Unit, StringComparer.OrdinalIgnoreCase);
        IReadOnlyList<Alert> alive = await AlertQueries.AliveAsync(session, cancellationToken);
        var changed = new List<Alert>();
        foreach (Alert alert in alive)
        {
            string? ended = alert.Kind == AlertKind.EarlySign
                ? await SignEndedAsync(session, alert, found, cancellationToken)
                : AlertRules.Ended(alert, byUnit[alert.Unit]);
            if (ended is { } because)
            {
                changed.Add(await AlertQueries.CloseAsync(session, alert, because, now, cancellationToken));
            }
        }

        var known = alive.Select(alert => AlertRules.Key(alert.Kind, alert.Unit, alert.Rule)).ToHashSet();
        foreach (FoundState one in found)
        {
            if (!known.Contains(AlertRules.Key(one.Kind, one.Unit, one.Rule))
                && snapshot.Units.TryGetValue(one.Unit, out UnitEntry? unit)
                && await AlertQueries.OpenAsync(session, one, unit.Id, now, cancellationToken) is { } opened)
            {
                changed.Add(opened);
            }
        }

        await WebhookMessages.WriteAsync(session, changed, snapshot, now, cancellationToken);
        return changed;
    }

    private static async Task<string?> SignEndedAsync(
        WriteSession session, Alert alert, IEnumerable<FoundState> found, CancellationToken cancellationToken) =>
        found.Any(one => one.Kind == AlertKind.EarlySign && string.Equals(one.Unit, alert.Unit, StringComparison.OrdinalIgnoreCase))
            ? null
            : EarlySignSentences.Ended(await EarlySignQueries.EndedAsync(session, alert.Unit, cancellationToken));
}
