using System.Data.Common;

namespace Washwear.Api.Storage;

/// <summary>A connection for writing, with the statements that were prepared on it. Not safe for concurrent use.</summary>
/// <param name="connection">The connection.</param>
internal sealed class Writer(DbConnection connection) : IAsyncDisposable
{
    /// <summary>The connection.</summary>
    public DbConnection Connection => connection;

    /// <summary>Its statements.</summary>
    public StatementPool Statements { get; } = new(connection);

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        Statements.Dispose();
        return connection.DisposeAsync();
    }
}
