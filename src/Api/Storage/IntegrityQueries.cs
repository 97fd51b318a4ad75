using System.Data.Common;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>Asks the engine whether its file is whole.</summary>
internal static class IntegrityQueries
{
    private const string Integrity = "PRAGMA integrity_check(100)";
    private const string ForeignKeys = "SELECT \"table\" || ' row ' || rowid || ' refers to a missing row of ' || parent FROM pragma_foreign_key_check LIMIT 100";
    private const string Whole = "ok";

    /// <summary>What is wrong, one line each; empty: nothing.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="cancellationToken">Stops asking.</param>
    public static async Task<IReadOnlyList<string>> FaultsAsync(DbConnection connection, CancellationToken cancellationToken)
    {
        try
        {
            IEnumerable<string> pages = await connection.QueryAsync<string>(new CommandDefinition(Integrity, cancellationToken: cancellationToken));
            IEnumerable<string> keys = await connection.QueryAsync<string>(new CommandDefinition(ForeignKeys, cancellationToken: cancellationToken));
            return [.. pages.Where(line => line != Whole), .. keys];
        }
        catch (SqliteException error)
        {
            return ["The file cannot be read as a database: " + error.Message];
        }
    }
}
