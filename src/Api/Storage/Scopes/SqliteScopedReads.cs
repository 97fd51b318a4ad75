using System.Data.Common;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage.Scopes;

/// <summary>Connections to a file that see one scope. The views stay on a pooled connection.</summary>
/// <param name="connectionString">As for unscoped connections.</param>
/// <param name="pragmas">What is set on each connection at last.</param>
/// <param name="scope">The scope.</param>
internal sealed class SqliteScopedReads(string connectionString, string pragmas, DataScope scope) : ScopedReads
{
    private const string MayMake = "PRAGMA query_only = OFF";

    private readonly SqliteScopes _scopes = new(scope);
    private readonly string _connectionString = OfOwnPool(connectionString, scope);

    /// <inheritdoc/>
    public override async Task<DbConnection> OpenAsync(CancellationToken cancellationToken)
    {
        var connection = new SqliteConnection(_connectionString);
        try
        {
            await connection.OpenAsync(cancellationToken);
            if (connection.ExecuteScalar<long>(SqliteScopes.AreSet) == 0)
            {
                Make(connection);
            }

            await connection.ExecuteAsync(new CommandDefinition(pragmas, cancellationToken: cancellationToken));
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    /// <inheritdoc/>
    public override void LetGo()
    {
        using var pool = new SqliteConnection(_connectionString);
        SqliteConnection.ClearPool(pool);
    }

    private void Make(SqliteConnection connection)
    {
        connection.Execute(MayMake);
        using SqliteTransaction all = connection.BeginTransaction(deferred: true);
        connection.Execute(_scopes.Make(connection.Query<string>(SqliteScopes.Tables, transaction: all)), transaction: all);
        all.Commit();
    }

    // Connections are pooled by their text. SQLite passes over a parameter of an address that it does not know.
    private static string OfOwnPool(string text, DataScope scope)
    {
        var builder = new SqliteConnectionStringBuilder(text);
        IEnumerable<string> steps = builder.DataSource.Replace('\\', '/').TrimStart('/').Split('/').Select(Uri.EscapeDataString);
        builder.DataSource = $"file:///{string.Join('/', steps)}?washwear_scope={Uri.EscapeDataString(scope.ToString())}";
        return builder.ConnectionString;
    }
}
