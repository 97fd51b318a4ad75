using System.Data.Common;
using Dapper;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Operation;

/// <summary>Statements over how the service fares, whatever the caller may see.</summary>
/// <param name="database">The database.</param>
/// <param name="registry">The registry.</param>
internal sealed class OperationQueries(Database database, RegistryCache registry)
{
    private static readonly Sql NewestSql = Sql.FirstRows(
        "SELECT r.at_ms AS AtMs, r.received_ms AS ReceivedMs FROM record r ORDER BY r.seq DESC", "1");

    private const string AlertsSql = """
        SELECT count(CASE WHEN a.seen_ms IS NULL THEN 1 END) AS AlertsOpen, count(a.seen_ms) AS AlertsSeen FROM alert a WHERE a.closed_ms IS NULL
        """;

    private const string OutboxSql = """
        SELECT count(*) AS Waiting, min(m.made_ms) AS OldestMs FROM webhook_message m JOIN webhook w ON w.id = m.webhook_id AND w.enabled = 1
        WHERE m.state = 'waiting'
        """;

    private const string TasksSql = """
        SELECT l.task AS Task, l.succeeded_ms AS SucceededMs, r.succeeded AS Succeeded FROM (
            SELECT u.task AS task, max(u.id) AS id, max(CASE WHEN u.succeeded = 1 THEN u.ended_ms END) AS succeeded_ms FROM upkeep_run u GROUP BY u.task) l
        JOIN upkeep_run r ON r.id = l.id ORDER BY l.task
        """;

    private const string TermsSql = "SELECT s.unit_id AS UnitId, c.terms AS Terms FROM unit_status s LEFT JOIN cleaning_run c ON c.unit_id = s.unit_id";

    /// <summary>What the database tells.</summary>
    /// <param name="staleUnits">Units with a standing of other rules, if that is known; null: they are counted.</param>
    /// <param name="cancellationToken">Stops the statements.</param>
    public async Task<ServiceFigures> FiguresAsync(int? staleUnits, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        CommandDefinition Command(string sql) => new(sql, cancellationToken: cancellationToken);
        NewestRow? newest = await connection.QueryFirstOrDefaultAsync<NewestRow>(Command(NewestSql.For(connection)));
        AlertRow alerts = await connection.QueryFirstAsync<AlertRow>(Command(AlertsSql));
        OutboxRow outbox = await connection.QueryFirstAsync<OutboxRow>(Command(OutboxSql));
        return new ServiceFigures(
            At(newest?.AtMs),
            At(newest?.ReceivedMs),
            alerts.AlertsOpen,
            alerts.AlertsSeen,
            outbox.Waiting,
            At(outbox.OldestMs),
            staleUnits ?? await StaleUnitsAsync(connection, cancellationToken),
            [.. (await connection.QueryAsync<TaskRow>(Command(TasksSql))).Select(task => new TaskStanding(task.Task, At(task.SucceededMs), task.Succeeded == 0))]);
    }

    private static DateTimeOffset? At(long? ms) => ms is { } known ? DateTimeOffset.FromUnixTimeMilliseconds(known) : null;

    private async Task<int> StaleUnitsAsync(DbConnection connection, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        IEnumerable<TermsRow> rows = await connection.QueryAsync<TermsRow>(new CommandDefinition(TermsSql, cancellationToken: cancellationToken));
        return rows.Count(row => snapshot.Cleaning.ById.TryGetValue((int)row.UnitId, out UnitTerms? terms)
            && row.Terms != (terms.Rules.Count == 0 ? null : terms.Fingerprint));
    }

    private sealed class NewestRow
    {
        public long AtMs { get; init; }

        public long ReceivedMs { get; init; }
    }

    private sealed class AlertRow
    {
        public long AlertsOpen { get; init; }

        public long AlertsSeen { get; init; }
    }

    private sealed class OutboxRow
    {
        public long Waiting { get; init; }

        public long? OldestMs { get; init; }
    }

    private sealed class TaskRow
    {
        public string Task { get; init; } = string.Empty;

        public long? SucceededMs { get; init; }

        public long Succeeded { get; init; }
    }

    private sealed class TermsRow
    {
        public long UnitId { get; init; }

        public long? Terms { get; init; }
    }
}
