using System.Data;
using System.Data.Common;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.SqlClient;

namespace Washwear.Api.Storage.Scopes;

/// <summary>Connections to SQL Server that see one scope. The driver takes the scope away when a pooled connection is used again; it is given
/// anew each time, and can be given only once.</summary>
/// <param name="connectionString">As for unscoped connections.</param>
/// <param name="scope">The scope.</param>
internal sealed class SqlServerScopedReads(string connectionString, DataScope scope) : ScopedReads
{
    private readonly string _connectionString = OfOwnPool(connectionString, scope);

    /// <inheritdoc/>
    public override async Task<DbConnection> OpenAsync(CancellationToken cancellationToken)
    {
        var connection = new SqlConnection(_connectionString);
        try
        {
            await connection.OpenAsync(cancellationToken);
            await using SqlCommand command = connection.CreateCommand();
            command.CommandText = SqlServerScopes.Set;
            foreach (DataScopeKind kind in Enum.GetValues<DataScopeKind>())
            {
                command.Parameters.Add("@own_" + kind.ToString().ToLowerInvariant(), SqlDbType.NVarChar, 4000).Value =
                    kind == scope.Kind ? $",{scope.Numbers}," : DBNull.Value;
            }

            await command.ExecuteNonQueryAsync(cancellationToken);
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
        using var pool = new SqlConnection(_connectionString);
        SqlConnection.ClearPool(pool);
    }

    // Connections are pooled by their text; the name of an application has room for 128 characters.
    private static string OfOwnPool(string text, DataScope scope)
    {
        string mark = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(scope.ToString())))[..16];
        return new SqlConnectionStringBuilder(text) { ApplicationName = $"Washwear {scope.Kind} {mark}" }.ConnectionString;
    }
}
