using System.Data.Common;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Storage;
using Washwear.Dashboard.Alerts;

namespace Washwear.Api.Alerts;

/// <summary>Statements over alerts.</summary>
/// <param name="database">The database.</param>
public sealed class AlertQueries(Database database)
{
    private const string Columns = """
        a.id AS Id, a.kind AS Kind, a.unit_id AS UnitId, u.code AS Unit, s.code AS Site, a."rule" AS "Rule", a.opened_ms AS OpenedAt,
            a.since_ms AS Since, a.sentence AS Sentence, a.seen_ms AS SeenAt, a.seen_by AS SeenBy, a.closed_ms AS ClosedAt,
            a.closed_because AS ClosedBecause,
        """;

    private const string Tables = " FROM alert a JOIN unit u ON u.id = a.unit_id JOIN site s ON s.id = u.site_id";
    private const string ById = " ORDER BY a.id DESC";
    private const string After = " (@after IS NULL OR a.id < @after)" + ById;

    private static readonly Sql Rows = "SELECT " + Columns + new Sql(
        Sqlite: " json_extract(s.body, '$.name') AS SiteName, json_extract(s.body, '$.time_zone') AS TimeZone",
        SqlServer: " JSON_VALUE(s.body, '$.name') AS SiteName, JSON_VALUE(s.body, '$.time_zone') AS TimeZone") + Tables;

    private static readonly Sql PageSql = Sql.FirstRows(Rows + " WHERE" + After, "@limit");
    private static readonly Sql OpenPageSql = Sql.FirstRows(Rows + " WHERE a.closed_ms IS NULL AND a.seen_ms IS NULL AND" + After, "@limit");
    private static readonly Sql SeenPageSql = Sql.FirstRows(Rows + " WHERE a.closed_ms IS NULL AND a.seen_ms IS NOT NULL AND" + After, "@limit");
    private static readonly Sql ClosedPageSql = Sql.FirstRows(Rows + " WHERE a.closed_ms IS NOT NULL AND" + After, "@limit");

    private static readonly Sql AliveSql = Rows + " WHERE a.closed_ms IS NULL ORDER BY a.id";
    private static readonly Sql OneSql = Rows + " WHERE a.id = @id";
    private static readonly Sql JustOpenedSql =
        Rows + " WHERE a.unit_id = @unitId AND a.kind = @kind AND a.\"rule\" = @rule AND a.closed_ms IS NULL";

    private static readonly Sql OpenedSql = Sql.FirstRows(Rows + " WHERE a.opened_ms > @from AND a.opened_ms <= @to" + ById, "@limit");
    private static readonly Sql ClosedSql = Sql.FirstRows(
        Rows + " WHERE a.closed_ms > @from AND a.closed_ms <= @to ORDER BY a.closed_ms DESC, a.id DESC", "@limit");

    private static readonly Sql LongestSql = Sql.FirstRows(Rows + " WHERE a.closed_ms IS NULL ORDER BY a.opened_ms, a.id", "@limit");

    private const string CountsSql = """
        SELECT count(CASE WHEN a.closed_ms IS NULL AND a.seen_ms IS NULL THEN 1 END) AS "Open",
            count(CASE WHEN a.closed_ms IS NULL AND a.seen_ms IS NOT NULL THEN 1 END) AS Seen,
            count(a.closed_ms) AS Closed,
            count(CASE WHEN a.opened_ms > @from AND a.opened_ms <= @to THEN 1 END) AS OpenedBetween,
            count(CASE WHEN a.closed_ms > @from AND a.closed_ms <= @to THEN 1 END) AS ClosedBetween
        FROM alert a
        """;

    private const string OpenSql = """
        INSERT INTO alert (kind, unit_id, "rule", opened_ms, since_ms, sentence)
        SELECT @kind, @unitId, @rule, @now, @since, @sentence
        WHERE NOT EXISTS (SELECT 1 FROM alert a WHERE a.unit_id = @unitId AND a.kind = @kind AND a."rule" = @rule AND a.closed_ms IS NULL)
        """;

    private const string CloseSql = "UPDATE alert SET closed_ms = @now, closed_because = @because WHERE id = @id AND closed_ms IS NULL";
    private const string SeeSql = "UPDATE alert SET seen_ms = @now, seen_by = @by WHERE id = @id AND seen_ms IS NULL AND closed_ms IS NULL";

    /// <summary>A page of alerts, newest first.</summary>
    /// <param name="state">Only those in this state; null: all.</param>
    /// <param name="after">Only those with a lower number; null: from the newest.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<Alert>> PageAsync(AlertState? state, long? after, int limit, CancellationToken cancellationToken)
    {
        Sql page = state switch
        {
            AlertState.Open => OpenPageSql,
            AlertState.Seen => SeenPageSql,
            AlertState.Closed => ClosedPageSql,
            _ => PageSql,
        };
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await ReadAsync(connection, page, new { after, limit }, cancellationToken);
    }

    /// <summary>Counts of all alerts, and of those that changed in a window.</summary>
    /// <param name="from">Start of the window, exclusive.</param>
    /// <param name="to">End of the window, inclusive.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<AlertCounts> CountsAsync(DateTimeOffset from, DateTimeOffset to, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleAsync<AlertCounts>(new CommandDefinition(CountsSql, new { from, to }, cancellationToken: cancellationToken));
    }

    /// <summary>Alerts that changed in a window, and those open longest.</summary>
    /// <param name="from">Start of the window, exclusive.</param>
    /// <param name="to">End of the window, inclusive.</param>
    /// <param name="limit">Most changes of each sort.</param>
    /// <param name="longest">Most of those open longest.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<AlertChanges> ChangesAsync(
        DateTimeOffset from, DateTimeOffset to, int limit, int longest, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return new AlertChanges(
            await ReadAsync(connection, OpenedSql, new { from, to, limit }, cancellationToken),
            await ReadAsync(connection, ClosedSql, new { from, to, limit }, cancellationToken),
            await ReadAsync(connection, LongestSql, new { limit = longest }, cancellationToken));
    }

    /// <summary>Marks an alert as seen; one that was seen or closed before stays as it is.</summary>
    /// <param name="id">Number of the alert.</param>
    /// <param name="by">Who saw it.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The alert; null: there is none, or not for the caller.</returns>
    public async Task<Alert?> SeeAsync(long id, string by, DateTimeOffset now, CancellationToken cancellationToken)
    {
        // The transaction sees everything, the caller perhaps a part.
        await using (DbConnection connection = await database.OpenReadAsync(cancellationToken))
        {
            if ((await ReadAsync(connection, OneSql, new { id }, cancellationToken)).Count == 0)
            {
                return null;
            }
        }

        return await database.WriteAsync(
            async session =>
            {
                await session.Connection.ExecuteAsync(session.Command(SeeSql, new { id, by, now }, cancellationToken));
                return (await session.Connection.QuerySingleOrDefaultAsync<AlertRow>(session.Command(OneSql, new { id }, cancellationToken)))?.Alert();
            },
            cancellationToken);
    }

    /// <summary>Alerts that are not closed.</summary>
    internal static async Task<IReadOnlyList<Alert>> AliveAsync(WriteSession session, CancellationToken cancellationToken) =>
        [.. (await session.Connection.QueryAsync<AlertRow>(session.Command(AliveSql, null, cancellationToken))).Select(row => row.Alert())];

    /// <summary>Opens an alert; null: one is alive already.</summary>
    internal static async Task<Alert?> OpenAsync(WriteSession session, FoundState found, int unitId, DateTimeOffset now, CancellationToken cancellationToken)
    {
        var alert = new { kind = Json.Name(found.Kind.ToString()), unitId, rule = found.Rule ?? string.Empty, now, since = found.Since, sentence = found.Sentence };
        return await session.Connection.ExecuteAsync(session.Command(OpenSql, alert, cancellationToken)) == 0
            ? null
            : (await session.Connection.QuerySingleAsync<AlertRow>(session.Command(JustOpenedSql, alert, cancellationToken))).Alert();
    }

    /// <summary>Closes an alert.</summary>
    internal static async Task<Alert> CloseAsync(WriteSession session, Alert alert, string because, DateTimeOffset now, CancellationToken cancellationToken)
    {
        await session.Connection.ExecuteAsync(session.Command(CloseSql, new { id = alert.Id, because, now }, cancellationToken));
        return alert with { State = AlertState.Closed, ClosedAt = now, ClosedBecause = because };
    }

    private static async Task<IReadOnlyList<Alert>> ReadAsync(DbConnection connection, Sql sql, object values, CancellationToken cancellationToken) =>
        [.. (await connection.QueryAsync<AlertRow>(new CommandDefinition(sql.For(connection), values, cancellationToken: cancellationToken)))
            .Select(row => row.Alert())];
}

/// <summary>How many alerts there are.</summary>
internal sealed class AlertCounts
{
    public int Open { get; init; }

    public int Seen { get; init; }

    public int Closed { get; init; }

    public int OpenedBetween { get; init; }

    public int ClosedBetween { get; init; }
}

/// <summary>What changed in a window.</summary>
internal sealed record AlertChanges(IReadOnlyList<Alert> Opened, IReadOnlyList<Alert> Closed, IReadOnlyList<Alert> OpenLongest);

/// <summary>An alert as stored.</summary>
internal sealed class AlertRow
{
    public long Id { get; init; }

    public string Kind { get; init; } = string.Empty;

    public int UnitId { get; init; }

    public string Unit { get; init; } = string.Empty;

    public string Site { get; init; } = string.Empty;

    public string SiteName { get; init; } = string.Empty;

    public string TimeZone { get; init; } = string.Empty;

    public string Rule { get; init; } = string.Empty;

    public DateTimeOffset OpenedAt { get; init; }

    public DateTimeOffset? Since { get; init; }

    public string Sentence { get; init; } = string.Empty;

    public DateTimeOffset? SeenAt { get; init; }

    public string? SeenBy { get; init; }

    public DateTimeOffset? ClosedAt { get; init; }

    public string? ClosedBecause { get; init; }

    public Alert Alert() => new(
        Id,
        Enum.GetValues<AlertKind>().First(kind => Json.Name(kind.ToString()) == Kind),
        ClosedAt is not null ? AlertState.Closed : SeenAt is not null ? AlertState.Seen : AlertState.Open,
        Unit,
        Site,
        SiteName,
        TimeZone,
        Rule.Length == 0 ? null : Rule,
        OpenedAt,
        Since,
        Sentence,
        SeenAt,
        SeenBy,
        ClosedAt,
        ClosedBecause);
}
