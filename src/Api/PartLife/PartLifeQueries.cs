using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.PartLife;

/// <summary>A part life as the projection holds it.</summary>
public sealed class PartLifeRecord
{
    /// <summary>The unit's number.</summary>
    public int UnitId { get; init; }

    /// <summary>Code of the position.</summary>
    public required string Position { get; init; }

    /// <summary>1 for the first part known at the position.</summary>
    public int Ordinal { get; init; }

    /// <summary>When it was fitted, ms UTC; null: unknown.</summary>
    public long? FittedMs { get; init; }

    /// <summary>When it ended, ms UTC; null: still fitted.</summary>
    public long? EndedMs { get; init; }

    /// <summary>How it ended; null: still fitted.</summary>
    public string? EndedHow { get; init; }

    /// <summary>When last seen good, ms UTC.</summary>
    public long? LastSeenGoodMs { get; init; }

    /// <summary>How it failed.</summary>
    public string? FailureMode { get; init; }

    /// <summary>Part number.</summary>
    public string? PartNumber { get; init; }

    /// <summary>Batch.</summary>
    public string? Batch { get; init; }

    /// <summary>Supplier.</summary>
    public string? Supplier { get; init; }

    /// <summary>When it came under watch, ms UTC; null: its fitting is unknown.</summary>
    public long? WatchedFromMs { get; init; }

    /// <summary>Age when it came under watch, days; null: unknown.</summary>
    public double? EntryAgeDays { get; init; }

    /// <summary>Age when it was fitted, washes; null: unknown.</summary>
    public double? EntryAgeWashes { get; init; }

    /// <summary>Why the life cannot be used.</summary>
    public string? Doubt { get; init; }
}

/// <summary>Reads part lives from the projections.</summary>
/// <param name="database">The database.</param>
public sealed class PartLifeQueries(Database database)
{
    private const string Lives = """
        SELECT l.unit_id AS UnitId, l.position AS Position, l.ordinal AS Ordinal, l.fitted_ms AS FittedMs, l.ended_ms AS EndedMs,
               l.ended_how AS EndedHow, l.last_seen_good_ms AS LastSeenGoodMs, l.failure_mode AS FailureMode,
               l.part_number AS PartNumber, l.batch AS Batch, l.supplier AS Supplier, l.watched_from_ms AS WatchedFromMs, l.entry_age_days AS EntryAgeDays,
               l.entry_age_washes AS EntryAgeWashes, l.doubt AS Doubt
        FROM part_life l
        WHERE (@Position IS NULL OR lower(l.position) = lower(@Position)) AND (@UnitId IS NULL OR l.unit_id = @UnitId)
        ORDER BY l.unit_id, l.position, l.ordinal
        """;

    private const string LastChanges =
        "SELECT coalesce((SELECT max(seq) FROM part_change), 0) AS Parts, coalesce((SELECT max(by_seq) FROM voided), 0) AS Voids";

    private const string LastHeard = "SELECT s.unit_id AS UnitId, s.last_heard_ms AS Ms FROM unit_status s WHERE s.last_heard_ms IS NOT NULL";

    /// <summary>Lives on record.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="position">Only of this position; null: of all.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<PartLifeRecord>> LivesAsync(
        DbConnection connection, DbTransaction transaction, string? position, int? unitId, CancellationToken cancellationToken) =>
        (await connection.QueryAsync<PartLifeRecord>(
            new CommandDefinition(Lives, new { Position = position, UnitId = unitId }, transaction, cancellationToken: cancellationToken))).AsList();

    /// <summary>When each unit was last heard, ms UTC, by the unit's number.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<int, long>> LastHeardAsync(
        DbConnection connection, DbTransaction transaction, CancellationToken cancellationToken) =>
        (await connection.QueryAsync<(int UnitId, long Ms)>(
            new CommandDefinition(LastHeard, transaction: transaction, cancellationToken: cancellationToken)))
        .ToDictionary(row => row.UnitId, row => row.Ms);

    /// <summary>The ledger's last part change and last void: while they stay, so do the lives that have ended.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<(long Parts, long Voids)> LastChangesAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleAsync<(long, long)>(new CommandDefinition(LastChanges, cancellationToken: cancellationToken));
    }
}
