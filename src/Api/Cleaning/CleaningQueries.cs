using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Cleaning;

/// <summary>Reads where units stand and what their periods came to.</summary>
/// <param name="database">The database.</param>
public sealed class CleaningQueries(Database database)
{
    // Where runs changed last: within a scope the last record would be looked for among everybody's.
    private const string Place = """
        SELECT (SELECT coalesce(max(changed_seq), 0) FROM cleaning_run) AS LastSeq, (SELECT version FROM registry_version) AS RegistryVersion
        """;

    private const string Runs = "SELECT unit_id AS UnitId, terms AS Terms, run AS Run FROM cleaning_run WHERE changed_seq > @Seq";

    private const string Periods = """
        SELECT id AS Id, closed AS Closed FROM cleaning_period
        WHERE id >= @First AND id < @Last AND closed IS NOT NULL
        ORDER BY id
        """;

    private static readonly Sql PeriodsOfUnits = new(
        Sqlite: """
            SELECT p.id AS Id, p.closed AS Closed
            FROM json_each(@Ids) i JOIN cleaning_period p ON p.id = i.value
            WHERE p.closed IS NOT NULL
            ORDER BY p.id
            """,
        SqlServer: """
            SELECT p.id AS Id, p.closed AS Closed
            FROM OPENJSON(@Ids) i JOIN cleaning_period p ON p.id = CAST(i.value AS bigint)
            WHERE p.closed IS NOT NULL
            ORDER BY p.id
            """);

    /// <summary>The records of units that count, from the first on.</summary>
    /// <param name="units">Which units.</param>
    /// <param name="until">Records after it are left out.</param>
    /// <param name="cancellationToken">Stops opening the database.</param>
    /// <returns>One history a unit, by the unit's number, also for units without records.</returns>
    public async Task<IReadOnlyDictionary<int, UnitHistory>> HistoriesAsync(
        IReadOnlyCollection<UnitTerms> units, DateTimeOffset until, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        return UnitHistories.Read(connection, snapshot, units, null, Instant.FromDateTimeOffset(until));
    }

    /// <summary>Begins to read at one commit.</summary>
    /// <param name="cancellationToken">Stops opening the database.</param>
    public async Task<ReadView> BeginAsync(CancellationToken cancellationToken)
    {
        DbConnection connection = await database.OpenReadAsync(cancellationToken);
        DbTransaction snapshot = Database.BeginReading(connection);
        (long lastSeq, long version) = await connection.QuerySingleAsync<(long, long)>(
            new CommandDefinition(Place, transaction: snapshot, cancellationToken: cancellationToken));
        return new ReadView(connection, snapshot, lastSeq, version);
    }

    /// <summary>Where units stand that have changed since a place in the ledger.</summary>
    /// <param name="view">The commit to read at.</param>
    /// <param name="seq">Place in the ledger; -1: all units.</param>
    public static IEnumerable<RunRow> RunsSince(ReadView view, long seq) =>
        view.Connection.Query<RunRow>(Runs, new { Seq = seq }, view.Transaction, buffered: false);

    /// <summary>Closed periods of all units, period by period.</summary>
    /// <param name="view">The commit to read at.</param>
    /// <param name="first">First period.</param>
    /// <param name="last">Last period.</param>
    public static IEnumerable<PeriodRow> PeriodsOfAll(ReadView view, long first, long last) =>
        Rows(view, Periods, new { First = CleaningRunTable.Id(first, 0), Last = CleaningRunTable.Id(last + 1, 0) });

    /// <summary>Closed periods of some units, period by period.</summary>
    /// <param name="view">The commit to read at.</param>
    /// <param name="unitIds">The units.</param>
    /// <param name="first">First period.</param>
    /// <param name="last">Last period.</param>
    public static IEnumerable<PeriodRow> PeriodsOf(ReadView view, IReadOnlyCollection<int> unitIds, long first, long last)
    {
        IEnumerable<long> ids = Enumerable.Range(0, (int)(last - first + 1))
            .SelectMany(i => unitIds.Select(unitId => CleaningRunTable.Id(first + i, unitId)));
        return Rows(view, PeriodsOfUnits, new { Ids = JsonSerializer.Serialize(ids) });
    }

    // Tens of thousands of rows: read one by one, without a list of them.
    private static IEnumerable<PeriodRow> Rows(ReadView view, Sql sql, object asked)
    {
        using DbDataReader row = (DbDataReader)view.Connection.ExecuteReader(sql.For(view.Connection), asked, view.Transaction);
        while (row.Read())
        {
            yield return new PeriodRow(row.GetInt64(0), row.GetFieldValue<byte[]>(1));
        }
    }
}

/// <summary>A read transaction: everything read with it is of one commit.</summary>
/// <param name="Connection">The connection.</param>
/// <param name="Transaction">The transaction.</param>
/// <param name="LastSeq">Last record of the ledger by which a run changed.</param>
/// <param name="RegistryVersion">Version of the registry.</param>
public sealed record ReadView(DbConnection Connection, DbTransaction Transaction, long LastSeq, long RegistryVersion) : IAsyncDisposable
{
    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Transaction.DisposeAsync();
        await Connection.DisposeAsync();
    }
}

/// <summary>Where a unit stands.</summary>
public sealed class RunRow
{
    /// <summary>The unit's number.</summary>
    public int UnitId { get; init; }

    /// <summary>Fingerprint of its terms.</summary>
    public long Terms { get; init; }

    /// <summary>The run in its compact form.</summary>
    public required byte[] Run { get; init; }
}

/// <summary>What a period of a unit came to.</summary>
/// <param name="Id">Period and unit.</param>
/// <param name="Closed">The periods of its rules in their compact form.</param>
public readonly record struct PeriodRow(long Id, byte[] Closed)
{
    /// <summary>The unit's number.</summary>
    public int UnitId => unchecked((int)Id);

    /// <summary>Number of the period.</summary>
    public long Period => Id >> 32;
}
