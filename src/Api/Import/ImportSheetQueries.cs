using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Import;

/// <summary>Where an uploaded sheet stands.</summary>
internal static class ImportState
{
    public const string Mapping = "mapping";
    public const string Running = "running";
    public const string Stopped = "stopped";
    public const string Done = "done";
    public const string Failed = "failed";
}

/// <summary>An uploaded sheet as its table holds it.</summary>
internal sealed class StoredSheet
{
    public long Id { get; init; }

    public required string Owner { get; init; }

    public required string StoredName { get; init; }

    public required string FileName { get; init; }

    public required string Kind { get; init; }

    public required string Source { get; init; }

    public string? Mapping { get; init; }

    public required string State { get; init; }

    public DateTimeOffset TouchedAt { get; init; }

    public int LastRow { get; init; }

    public int RowsDone { get; init; }

    public int? RowsTotal { get; init; }

    public int Accepted { get; init; }

    public int Duplicates { get; init; }

    public int Refused { get; init; }

    public int Doubted { get; init; }

    public long RefusedBytes { get; init; }

    public string? Trouble { get; init; }
}

/// <summary>Statements over uploaded sheets; each belongs to the person who sent it.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">The clock.</param>
internal sealed class ImportSheetQueries(Database database, TimeProvider clock)
{
    private const string Rows = """
        SELECT id AS Id, owner AS Owner, stored_name AS StoredName, file_name AS FileName, kind AS Kind, source AS Source, mapping AS Mapping, state AS State,
            touched_ms AS TouchedAt, last_row AS LastRow, rows_done AS RowsDone, rows_total AS RowsTotal, accepted AS Accepted, duplicates AS Duplicates,
            refused AS Refused, doubted AS Doubted, refused_bytes AS RefusedBytes, trouble AS Trouble
        FROM import_sheet
        """;

    private const string OneSql = Rows + " WHERE owner = @owner AND id = @id";
    private const string OfOwnerSql = Rows + " WHERE owner = @owner ORDER BY id DESC";
    private const string RunningSql = Rows + " WHERE state = 'running' ORDER BY id";
    private const string OldSql = Rows + " WHERE touched_ms < @before AND state <> 'running'";

    private const string NamesSql = "SELECT stored_name FROM import_sheet";

    private const string InsertSql = """
        INSERT INTO import_sheet (owner, stored_name, file_name, kind, source, mapping, state, made_ms, touched_ms, last_row, rows_done, rows_total, accepted, duplicates, refused, doubted, refused_bytes, trouble)
        VALUES (@owner, @storedName, @fileName, @kind, @source, @mapping, 'mapping', @now, @now, 0, 0, NULL, 0, 0, 0, 0, 0, NULL)
        """;

    private const string IdSql = "SELECT id FROM import_sheet WHERE stored_name = @storedName";
    private const string MapSql = "UPDATE import_sheet SET mapping = @mapping, touched_ms = @now WHERE id = @id AND state = 'mapping'";

    private const string StartSql = """
        UPDATE import_sheet SET state = 'running', rows_total = @rows, touched_ms = @now, last_row = 0, rows_done = 0, accepted = 0, duplicates = 0, refused = 0, doubted = 0,
            refused_bytes = 0, trouble = NULL
        WHERE id = @id AND state = 'mapping'
        """;

    private const string MoveSql = "UPDATE import_sheet SET state = @to, trouble = @trouble, touched_ms = @now WHERE id = @id AND state = @from";

    private const string PortionSql = """
        UPDATE import_sheet SET last_row = @lastRow, rows_done = rows_done + @rows, accepted = accepted + @accepted, duplicates = duplicates + @duplicates,
            refused = refused + @refused, doubted = doubted + @doubted, refused_bytes = @refusedBytes, touched_ms = @now
        WHERE id = @id
        """;

    private const string DeleteSql = "DELETE FROM import_sheet WHERE id = @id AND state <> 'running'";

    /// <summary>One sheet of a person; null: there is none.</summary>
    public async Task<StoredSheet?> FindAsync(string owner, long id, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleOrDefaultAsync<StoredSheet>(new CommandDefinition(OneSql, new { owner, id }, cancellationToken: cancellationToken));
    }

    /// <summary>A person's sheets, newest first.</summary>
    public async Task<IReadOnlyList<StoredSheet>> OfOwnerAsync(string owner, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<StoredSheet>(new CommandDefinition(OfOwnerSql, new { owner }, cancellationToken: cancellationToken))];
    }

    /// <summary>Sheets that are being taken in, or were when the program ended.</summary>
    public async Task<IReadOnlyList<StoredSheet>> RunningAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<StoredSheet>(new CommandDefinition(RunningSql, cancellationToken: cancellationToken))];
    }

    /// <summary>Sheets that nobody touched since an instant.</summary>
    public async Task<IReadOnlyList<StoredSheet>> OldAsync(DateTimeOffset before, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<StoredSheet>(new CommandDefinition(OldSql, new { before }, cancellationToken: cancellationToken))];
    }

    /// <summary>Names of the files of all sheets.</summary>
    public async Task<IEnumerable<string>> StoredNamesAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QueryAsync<string>(new CommandDefinition(NamesSql, cancellationToken: cancellationToken));
    }

    /// <summary>Notes a new sheet.</summary>
    /// <returns>Its number.</returns>
    public Task<long> AddAsync(string owner, string storedName, string fileName, string kind, string source, string? mapping) => database.WriteAsync(
        async session =>
        {
            await session.Connection.ExecuteAsync(session.Command(InsertSql, new { owner, storedName, fileName, kind, source, mapping, now = clock.GetUtcNow() }, CancellationToken.None));
            return await session.Connection.ExecuteScalarAsync<long>(session.Command(IdSql, new { storedName }, CancellationToken.None));
        },
        CancellationToken.None);

    /// <summary>Keeps how a sheet is read.</summary>
    public Task MapAsync(long id, string mapping) => ExecuteAsync(MapSql, new { id, mapping, now = clock.GetUtcNow() });

    /// <summary>Lets a sheet be taken in from its first row.</summary>
    public Task StartAsync(long id, int rows) => ExecuteAsync(StartSql, new { id, rows, now = clock.GetUtcNow() });

    /// <summary>Moves a sheet from one state to another, unless it is in another by now.</summary>
    public Task MoveAsync(long id, string from, string to, string? trouble = null) => ExecuteAsync(MoveSql, new { id, from, to, trouble, now = clock.GetUtcNow() });

    /// <summary>Adds what became of a portion.</summary>
    public Task AddAsync(long id, PortionDone portion, long refusedBytes) => ExecuteAsync(
        PortionSql,
        new
        {
            id,
            lastRow = portion.LastRow,
            rows = portion.Rows,
            accepted = portion.Accepted,
            duplicates = portion.Duplicate,
            refused = portion.Refused.Count,
            doubted = portion.Doubted,
            refusedBytes,
            now = clock.GetUtcNow(),
        });

    /// <summary>Forgets a sheet that is not being taken in.</summary>
    /// <returns>Whether it was there.</returns>
    public async Task<bool> DeleteAsync(long id) => await ExecuteAsync(DeleteSql, new { id }) > 0;

    private Task<int> ExecuteAsync(string sql, object values) =>
        database.WriteAsync(session => session.Connection.ExecuteAsync(session.Command(sql, values, CancellationToken.None)), CancellationToken.None);
}
