using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep.Retention;

/// <summary>One kind of thing that is kept for a time, by statements with @before and @most.</summary>
/// <param name="Name">What it is, in the plural.</param>
/// <param name="Setting">Name of the setting that says for how many days; 0: for ever.</param>
/// <param name="Batch">How many go in one transaction at most, so that nobody who writes waits long.</param>
/// <param name="Count">How many are older.</param>
/// <param name="Delete">Deletes the oldest of them.</param>
internal sealed record RetentionRule(string Name, string Setting, int Batch, Sql Count, Sql Delete);

/// <summary>Counts and deletes what is kept for a time. The records and what is derived from them are never among it.</summary>
/// <param name="database">The database.</param>
internal sealed class RetentionQueries(Database database)
{
    private const int SmallRows = 500;
    private const int Photos = 20;

    private const string Newer = " EXISTS (SELECT 1 FROM equipment_change n WHERE n.unit_id = x.unit_id AND n.channel = x.channel AND n.at_ms > x.at_ms)";

    // The last of a channel says what still goes on.
    private const string OldChange = "x.at_ms < @before AND" + Newer;

    // A message that goes on being listed names its alert.
    private const string OldAlert = "x.closed_ms < @before AND NOT EXISTS (SELECT 1 FROM webhook_message m WHERE m.alert_id = x.id)";

    // The last of each task stays, and the last that went well.
    private const string OldRun = """
        x.ended_ms < @before AND x.id < (SELECT max(y.id) FROM upkeep_run y WHERE y.task = x.task)
            AND x.id NOT IN (SELECT max(w.id) FROM upkeep_run w WHERE w.succeeded = 1 GROUP BY w.task)
        """;

    /// <summary>The kinds, in an order in which what refers to another goes first.</summary>
    public static readonly IReadOnlyList<RetentionRule> Rules =
    [
        Of("photos of visits", "photo_keep_days", Photos, "visit_photo", "id", "x.received_ms < @before"),
        Of("refused rows", "refused_keep_days", SmallRows, "refused", "id", "x.received_ms < @before"),
        Of("webhook messages that were given up", "webhook_dead_keep_days", SmallRows, "webhook_message", "id", "x.state = 'dead' AND x.ended_ms < @before"),
        Of("closed alerts", "alert_keep_days", SmallRows, "alert", "id", OldAlert),
        Of("places of imports that nobody went on with", "import_progress_keep_days", SmallRows, "import_progress", "digest", "x.touched_ms < @before"),
        new(
            "past states of equipment",
            "equipment_keep_days",
            SmallRows,
            "SELECT count(*) FROM equipment_change x WHERE " + OldChange,
            "DELETE FROM equipment_change WHERE at_ms < @before AND EXISTS (SELECT 1 FROM equipment_change n WHERE n.unit_id = equipment_change.unit_id AND n.channel = equipment_change.channel AND n.at_ms > equipment_change.at_ms) AND unit_id IN ("
                + Sql.FirstRows("SELECT x.unit_id FROM equipment_change x WHERE " + OldChange + " GROUP BY x.unit_id ORDER BY x.unit_id", "@most") + ")"),
        Of("notes of upkeep", "upkeep_keep_days", SmallRows, "upkeep_run", "id", OldRun),
    ];

    /// <summary>How many are older.</summary>
    /// <param name="rule">The kind.</param>
    /// <param name="before">Than this instant.</param>
    /// <param name="cancellationToken">Stops counting.</param>
    public async Task<long> CountAsync(RetentionRule rule, DateTimeOffset before, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.ExecuteScalarAsync<long>(new CommandDefinition(rule.Count.For(connection), new { before }, cancellationToken: cancellationToken));
    }

    /// <summary>Deletes a batch of the oldest, in a transaction of its own: a kill leaves whole batches.</summary>
    /// <param name="rule">The kind.</param>
    /// <param name="before">Those before this instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>How many were deleted; 0: there is none left.</returns>
    public Task<int> DeleteAsync(RetentionRule rule, DateTimeOffset before, CancellationToken cancellationToken) => database.WriteAsync(
        session => session.Connection.ExecuteAsync(session.Command(rule.Delete, new { before, most = rule.Batch }, cancellationToken)), cancellationToken);

    private static RetentionRule Of(string name, string setting, int batch, string table, string key, string condition) => new(
        name,
        setting,
        batch,
        $"SELECT count(*) FROM {table} x WHERE {condition}",
        $"DELETE FROM {table} WHERE {key} IN (" + Sql.FirstRows($"SELECT x.{key} FROM {table} x WHERE {condition} ORDER BY x.{key}", "@most") + ")");
}
