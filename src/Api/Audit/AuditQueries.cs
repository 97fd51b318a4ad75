using System.Data.Common;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Storage;
using Washwear.Dashboard.Audit;

namespace Washwear.Api.Audit;

/// <summary>Statements over the audit.</summary>
/// <param name="database">The database.</param>
public sealed class AuditQueries(Database database)
{
    private const string FindNameSql = "SELECT min(n.id) FROM audit_name n WHERE n.name = @name";

    private static readonly Sql AddNameSql = new(
        Sqlite: "INSERT INTO audit_name (name) VALUES (@name) RETURNING id",
        SqlServer: "INSERT INTO audit_name (name) OUTPUT inserted.id VALUES (@name)");

    private static readonly Sql AddSql = new(
        Sqlite: """
            INSERT INTO audit_entry (at_ms, caller_kind, caller_id, caller_name_id, action, method, route, about_kind, about, about_key,
                about_name_id, address, trace, detail, status)
            VALUES (@at, @callerKind, @callerId, @callerName, @action, @method, @route, @aboutKind, @about, @aboutKey,
                @aboutName, @address, @trace, @detail, @status)
            RETURNING id
            """,
        SqlServer: """
            INSERT INTO audit_entry (at_ms, caller_kind, caller_id, caller_name_id, action, method, route, about_kind, about, about_key,
                about_name_id, address, trace, detail, status)
            OUTPUT inserted.id
            VALUES (@at, @callerKind, @callerId, @callerName, @action, @method, @route, @aboutKind, @about, @aboutKey,
                @aboutName, @address, @trace, @detail, @status)
            """);

    private const string AddOutcomeSql = "INSERT INTO audit_outcome (entry_id, status, detail) VALUES (@id, @status, @detail)";

    private const string Columns = """
        SELECT e.id AS Id, e.at_ms AS At, e.caller_kind AS CallerKind, e.caller_id AS CallerNumber, c.name AS Caller, e.action AS Action,
            e.method AS Method, e.route AS Route, e.about_kind AS AboutKind, e.about AS About, a.name AS AboutName,
            COALESCE(e.status, o.status) AS Status, e.address AS Address, e.trace AS TraceId, COALESCE(o.detail, e.detail) AS Detail
        FROM audit_entry e
        LEFT JOIN audit_outcome o ON o.entry_id = e.id
        LEFT JOIN audit_name c ON c.id = e.caller_name_id
        LEFT JOIN audit_name a ON a.id = e.about_name_id
        """;

    private static readonly Sql PageSql = Sql.FirstRows(
        Columns + """

        WHERE (@before IS NULL OR e.id < @before)
            AND (@from IS NULL OR e.at_ms >= @from) AND (@to IS NULL OR e.at_ms < @to)
            AND (@caller IS NULL OR c.name = @caller)
            AND (@action IS NULL OR e.action = @action OR (e.action > @actionAbove AND e.action < @actionBelow))
            AND (@about IS NULL OR e.about_key = @about OR a.name = @aboutAsIs)
        ORDER BY e.id DESC
        """,
        "@limit");

    private const string MoveMarkSql = "UPDATE audit_mark SET before_ms = @before WHERE id = 1 AND before_ms < @before";

    private const string AddMarkSql = "INSERT INTO audit_mark (id, before_ms) SELECT 1, @before WHERE NOT EXISTS (SELECT 1 FROM audit_mark m WHERE m.id = 1)";

    private static readonly Sql OldestSql = Sql.FirstRows("SELECT e.id FROM audit_entry e WHERE e.at_ms < @before ORDER BY e.id", "@most");
    private static readonly Sql ForgetOutcomesSql = "DELETE FROM audit_outcome WHERE entry_id IN (" + OldestSql + ")";
    private static readonly Sql ForgetEntriesSql = "DELETE FROM audit_entry WHERE id IN (" + OldestSql + ")";

    private const string ForgetNamesSql = """
        DELETE FROM audit_name
        WHERE NOT EXISTS (SELECT 1 FROM audit_entry e WHERE e.caller_name_id = audit_name.id)
            AND NOT EXISTS (SELECT 1 FROM audit_entry e WHERE e.about_name_id = audit_name.id)
        """;

    /// <summary>Moves the mark below which entries may be deleted; it only moves on.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="before">The instant.</param>
    internal static async Task MoveMarkAsync(WriteSession session, DateTimeOffset before)
    {
        if (await session.Connection.ExecuteAsync(session.Command(MoveMarkSql, new { before }, CancellationToken.None)) == 0)
        {
            await session.Connection.ExecuteAsync(session.Command(AddMarkSql, new { before }, CancellationToken.None));
        }
    }

    /// <summary>Deletes the oldest entries below the mark, and names that nothing refers to any more.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="before">Those before this instant.</param>
    /// <param name="most">How many at most.</param>
    /// <returns>How many there were.</returns>
    internal static async Task<int> ForgetAsync(WriteSession session, DateTimeOffset before, int most)
    {
        await session.Connection.ExecuteAsync(session.Command(ForgetOutcomesSql, new { before, most }, CancellationToken.None));
        int entries = await session.Connection.ExecuteAsync(session.Command(ForgetEntriesSql, new { before, most }, CancellationToken.None));
        await session.Connection.ExecuteAsync(session.Command(ForgetNamesSql, null, CancellationToken.None));
        return entries;
    }

    /// <summary>Adds an entry.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="entry">The entry.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    /// <returns>Its number.</returns>
    internal static async Task<long> AddAsync(WriteSession session, AuditEntry entry, CancellationToken cancellationToken) =>
        await session.Connection.ExecuteScalarAsync<long>(session.Command(
            AddSql,
            new
            {
                at = entry.At,
                callerKind = Json.Name(entry.Caller.Kind.ToString()),
                callerId = entry.Caller.Id,
                callerName = await NameAsync(session, entry.Caller.Name, cancellationToken),
                action = entry.Action,
                method = entry.Method,
                route = entry.Route,
                aboutKind = entry.AboutKind,
                about = entry.About,
                aboutKey = entry.AboutKey,
                aboutName = await NameAsync(session, entry.AboutName, cancellationToken),
                address = entry.Address,
                trace = entry.Trace,
                detail = entry.Detail,
                status = (long?)entry.Status,
            },
            cancellationToken));

    /// <summary>Adds what an entry that was written with its change was answered.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="id">Number of the entry.</param>
    /// <param name="status">HTTP status or exit code.</param>
    /// <param name="detail">What became known after the change; null: nothing.</param>
    internal static Task AddOutcomeAsync(WriteSession session, long id, int status, string? detail) =>
        session.Connection.ExecuteAsync(session.Command(AddOutcomeSql, new { id, status = (long)status, detail }, CancellationToken.None));

    /// <summary>A page of entries, newest first.</summary>
    /// <param name="filter">Which ones.</param>
    /// <param name="before">Only those with a lower number; null: from the newest.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<IReadOnlyList<AuditRow>> PageAsync(AuditFilter filter, long? before, int limit, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var rows = await connection.QueryAsync<StoredEntry>(new CommandDefinition(
            PageSql.For(connection),
            new
            {
                before,
                from = filter.From,
                to = filter.To,
                caller = filter.Caller,
                action = filter.Action,
                // All that begin with the word and a dot: a slash follows the dot.
                actionAbove = filter.Action is null ? null : filter.Action + ".",
                actionBelow = filter.Action is null ? null : filter.Action + "/",
                about = filter.About is null ? null : Registry.Codes.Key(filter.About),
                aboutAsIs = filter.About,
                limit,
            },
            cancellationToken: cancellationToken));
        return [.. rows.Select(row => row.Row())];
    }

    private static async Task<long?> NameAsync(WriteSession session, string? name, CancellationToken cancellationToken) => name is null
        ? null
        : await session.Connection.ExecuteScalarAsync<long?>(session.Command(FindNameSql, new { name }, cancellationToken))
            ?? await session.Connection.ExecuteScalarAsync<long>(session.Command(AddNameSql, new { name }, cancellationToken));

    private sealed class StoredEntry
    {
        public long Id { get; init; }

        public DateTimeOffset At { get; init; }

        public string CallerKind { get; init; } = string.Empty;

        public long? CallerNumber { get; init; }

        public string? Caller { get; init; }

        public string Action { get; init; } = string.Empty;

        public string? Method { get; init; }

        public string? Route { get; init; }

        public string? AboutKind { get; init; }

        public string? About { get; init; }

        public string? AboutName { get; init; }

        public long? Status { get; init; }

        public string? Address { get; init; }

        public string? TraceId { get; init; }

        public string? Detail { get; init; }

        public AuditRow Row() => new(
            Id,
            At,
            Enum.GetValues<CallerKind>().First(kind => Json.Name(kind.ToString()) == CallerKind),
            CallerNumber,
            Caller,
            Action,
            Method,
            Route,
            AboutKind,
            About,
            AboutName,
            Status,
            Address,
            TraceId,
            Detail);
    }
}
