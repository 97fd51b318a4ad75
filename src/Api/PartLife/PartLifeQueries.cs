using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.PartLife;

/// <summary>A part life as the projection holds it.</summary>
public readonly record struct PartLifeRecord
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

/// <summary>A look that graded a part: by a condition record, or in a visit.</summary>
public sealed class PartLookRecord
{
    /// <summary>The unit's number.</summary>
    public int UnitId { get; init; }

    /// <summary>When somebody looked, or came, ms UTC.</summary>
    public long AtMs { get; init; }

    /// <summary>When the visit ended, ms UTC; a condition record: as <see cref="AtMs"/>.</summary>
    public long UntilMs { get; init; }

    /// <summary>Code of the position, as reported; null for a visit.</summary>
    public string? Position { get; init; }

    /// <summary>good, worn or poor; null for a visit.</summary>
    public string? Grade { get; init; }

    /// <summary>The visit's conditions as JSON; null for a condition record.</summary>
    public string? Conditions { get; init; }
}

/// <summary>How many lives and failures a position has on record.</summary>
public sealed class PositionCountRecord
{
    /// <summary>Code of the position.</summary>
    public required string Position { get; init; }

    /// <summary>Lives.</summary>
    public int Lives { get; init; }

    /// <summary>Failures among them.</summary>
    public int Failures { get; init; }
}

/// <summary>Reads part lives from the projections, and looks and voided changes from the ledger.</summary>
/// <param name="database">The database.</param>
public sealed class PartLifeQueries(Database database)
{
    private const string Separator = "\u001f";

    // The texts in one column: each call into the engine costs more than the value that it brings, and few lives differ in their texts.
    // No text is empty or holds a unit separator, since neither is printable: an empty one between two separators is none.
    private const string LivesOnRecord = """
        SELECT l.unit_id, l.ordinal, l.fitted_ms, l.ended_ms, l.last_seen_good_ms, l.watched_from_ms, l.entry_age_days, l.entry_age_washes,
               concat(l.position, @Between, l.ended_how, @Between, l.failure_mode, @Between, l.part_number, @Between, l.batch, @Between, l.supplier,
                   @Between, l.doubt)
        FROM part_life l
        WHERE l.unit_id BETWEEN @First AND @Last AND (@Position IS NULL OR lower(l.position) = lower(@Position))
        ORDER BY l.unit_id, l.position, l.ordinal
        """;

    private const string LastChanges =
        "SELECT coalesce((SELECT max(seq) FROM part_change), 0) AS Parts, coalesce((SELECT max(by_seq) FROM voided), 0) AS Voids";

    private const string Looks = """
        SELECT r.unit_id AS UnitId, r.at_ms AS AtMs, r.at_ms AS UntilMs, c.position AS Position, c.grade AS Grade, CAST(NULL AS nvarchar(4000)) AS Conditions
        FROM condition c JOIN record r ON r.seq = c.seq
        WHERE NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = c.seq)
        UNION ALL
        SELECT r.unit_id, COALESCE(v.arrived_ms, r.at_ms), COALESCE(v.left_ms, v.arrived_ms, r.at_ms), NULL, NULL, v.conditions
        FROM visit v JOIN record r ON r.seq = v.seq
        WHERE v.conditions IS NOT NULL AND NOT EXISTS (SELECT 1 FROM voided o WHERE o.target_seq = v.seq)
        """;

    private const string VoidedChanges = """
        SELECT p.unit_id AS UnitId, p.position AS Position, COUNT(*) AS Changes
        FROM voided v JOIN part_change p ON p.seq = v.target_seq
        WHERE @Position IS NULL OR lower(p.position) = lower(@Position)
        GROUP BY p.unit_id, p.position
        """;

    private const string Positions = """
        SELECT l.position AS Position, COUNT(*) AS Lives, SUM(CASE WHEN l.ended_how IN ('failed', 'found_failed') THEN 1 ELSE 0 END) AS Failures
        FROM part_life l
        GROUP BY l.position
        """;

    private const string LastHeard = "SELECT s.unit_id AS UnitId, s.last_heard_ms AS Ms FROM unit_status s "
        + "WHERE s.last_heard_ms IS NOT NULL AND s.unit_id BETWEEN @First AND @Last";

    /// <summary>Lives on record by unit, position and order of fitting, read while they are gone through.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="position">Only of this position; null: of all.</param>
    /// <param name="units">Only of units numbered from the first to the last of these.</param>
    public static IEnumerable<PartLifeRecord> Lives(DbConnection connection, DbTransaction transaction, string? position, (int First, int Last) units)
    {
        var known = new Dictionary<string, string?[]>(StringComparer.Ordinal);
        var pool = new Dictionary<string, string>(StringComparer.Ordinal);
        var asked = new { Position = position, units.First, units.Last, Between = Separator };
        using DbDataReader row = (DbDataReader)connection.ExecuteReader(LivesOnRecord, asked, transaction);
        while (row.Read())
        {
            yield return Life(row, known, pool);
        }
    }

    /// <summary>When each unit was last heard, ms UTC, by the unit's number.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="units">Only of units numbered from the first to the last of these.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<int, long>> LastHeardAsync(
        DbConnection connection, DbTransaction transaction, (int First, int Last) units, CancellationToken cancellationToken) =>
        (await connection.QueryAsync<(int UnitId, long Ms)>(
            new CommandDefinition(LastHeard, new { units.First, units.Last }, transaction, cancellationToken: cancellationToken)))
        .ToDictionary(row => row.UnitId, row => row.Ms);

    /// <summary>The ledger's last part change and last void: while they stay, so do the lives that have ended.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<(long Parts, long Voids)> LastChangesAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleAsync<(long, long)>(new CommandDefinition(LastChanges, cancellationToken: cancellationToken));
    }

    /// <summary>All looks that graded a part and count.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<PartLookRecord>> LooksAsync(
        DbConnection connection, DbTransaction transaction, CancellationToken cancellationToken) =>
        (await connection.QueryAsync<PartLookRecord>(
            new CommandDefinition(Looks, transaction: transaction, cancellationToken: cancellationToken))).AsList();

    /// <summary>Part changes that were voided or replaced, counted by the unit's number and the position as it was written.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <param name="position">Only of this position; null: of all.</param>
    public async Task<IReadOnlyList<(int UnitId, string Position, int Changes)>> VoidedChangesAsync(
        CancellationToken cancellationToken, string? position = null)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(int, string, int)>(
            new CommandDefinition(VoidedChanges, new { Position = position }, cancellationToken: cancellationToken))).AsList();
    }

    /// <summary>Positions that have lives on record.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<PositionCountRecord>> PositionsAsync(DbConnection connection, CancellationToken cancellationToken) =>
        (await connection.QueryAsync<PositionCountRecord>(new CommandDefinition(Positions, cancellationToken: cancellationToken))).AsList();

    // Hundreds of thousands of rows: read one by one, without a mapper, each text kept once.
    private static PartLifeRecord Life(DbDataReader row, Dictionary<string, string?[]> known, Dictionary<string, string> pool)
    {
        string joined = row.GetString(8);
        if (!known.TryGetValue(joined, out string?[]? texts))
        {
            known[joined] = texts = Array.ConvertAll(joined.Split(Separator), text => Pooled(pool, text));
        }

        return new PartLifeRecord
        {
            UnitId = (int)row.GetInt64(0),
            Ordinal = (int)row.GetInt64(1),
            FittedMs = Whole(row, 2),
            EndedMs = Whole(row, 3),
            LastSeenGoodMs = Whole(row, 4),
            WatchedFromMs = Whole(row, 5),
            EntryAgeDays = row.IsDBNull(6) ? null : row.GetDouble(6),
            EntryAgeWashes = row.IsDBNull(7) ? null : row.GetDouble(7),
            Position = texts[0]!,
            EndedHow = texts[1],
            FailureMode = texts[2],
            PartNumber = texts[3],
            Batch = texts[4],
            Supplier = texts[5],
            Doubt = texts[6],
        };
    }

    private static long? Whole(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    private static string? Pooled(Dictionary<string, string> pool, string text) =>
        text.Length == 0 ? null : pool.TryGetValue(text, out string? known) ? known : pool[text] = text;
}
