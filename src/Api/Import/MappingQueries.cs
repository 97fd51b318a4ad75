using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Import;

/// <summary>A mapping under its name, as it is put.</summary>
/// <param name="Mapping">Its name, a code.</param>
/// <param name="Reads">How rows are read.</param>
public sealed record MappingResource(string Mapping, ImportMapping Reads);

/// <summary>A mapping that somebody named.</summary>
/// <param name="Mapping">Its name, a code.</param>
/// <param name="ChangedAt">When it was put last.</param>
/// <param name="Reads">How rows are read.</param>
public sealed record NamedMapping(string Mapping, DateTimeOffset ChangedAt, ImportMapping Reads);

/// <summary>Keeps mappings under their names.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">The clock.</param>
public sealed class MappingQueries(Database database, TimeProvider clock)
{
    private const string Rows = "SELECT code AS Code, body AS Body, changed_ms AS ChangedAt FROM import_mapping";
    private const string All = Rows + " ORDER BY code_key";
    private const string One = Rows + " WHERE code_key = @key";
    private const string Update = "UPDATE import_mapping SET code = @code, kind = @kind, body = @body, changed_ms = @now WHERE code_key = @key";
    private const string Insert = "INSERT INTO import_mapping (code, code_key, kind, body, changed_ms) VALUES (@code, @key, @kind, @body, @now)";
    private const string Delete = "DELETE FROM import_mapping WHERE code_key = @key";

    /// <summary>All of them, by name.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<NamedMapping>> ListAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. (await connection.QueryAsync<Row>(new CommandDefinition(All, cancellationToken: cancellationToken))).Select(Of)];
    }

    /// <summary>One of them; null: there is none of this name.</summary>
    /// <param name="name">The name.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<NamedMapping?> FindAsync(string name, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        Row? row = await connection.QuerySingleOrDefaultAsync<Row>(new CommandDefinition(One, new { key = Codes.Key(name) }, cancellationToken: cancellationToken));
        return row is null ? null : Of(row);
    }

    /// <summary>Keeps a mapping under a name, in place of what was there.</summary>
    /// <param name="name">The name, a code.</param>
    /// <param name="mapping">The mapping.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether the name is new.</returns>
    public Task<bool> PutAsync(string name, ImportMapping mapping, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            var values = new { code = name, key = Codes.Key(name), kind = mapping.Kind, body = JsonSerializer.Serialize(mapping, Json.Options), now = clock.GetUtcNow() };
            bool isNew = await session.Connection.ExecuteAsync(session.Command(Update, values, cancellationToken)) == 0;
            if (isNew)
            {
                await session.Connection.ExecuteAsync(session.Command(Insert, values, cancellationToken));
            }

            return isNew;
        },
        cancellationToken);

    /// <summary>Forgets a mapping.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was one.</returns>
    public Task<bool> DeleteAsync(string name, CancellationToken cancellationToken) => database.WriteAsync(
        async session => await session.Connection.ExecuteAsync(session.Command(Delete, new { key = Codes.Key(name) }, cancellationToken)) > 0, cancellationToken);

    private static NamedMapping Of(Row row) => new(row.Code, row.ChangedAt, JsonSerializer.Deserialize<ImportMapping>(row.Body, Json.Options)!);

    private sealed class Row
    {
        public required string Code { get; init; }

        public required string Body { get; init; }

        public DateTimeOffset ChangedAt { get; init; }
    }
}
