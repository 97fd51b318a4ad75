using System.Data.Common;

namespace Washwear.Api.Storage;

/// <summary>Statements that were prepared on a connection and are not in use, so that the next transaction on it need not prepare them again.
/// Not safe for concurrent use.</summary>
/// <param name="connection">The connection.</param>
internal sealed class StatementPool(DbConnection connection) : IDisposable
{
    private readonly Dictionary<string, PreparedStatement> _idle = new(StringComparer.Ordinal);

    /// <summary>Takes a statement out, or prepares it; nobody else gets the same one until it is given back.</summary>
    /// <param name="sql">The statement.</param>
    /// <param name="names">Names of its parameters, without the mark.</param>
    public PreparedStatement Take(Sql sql, IReadOnlyList<string> names)
    {
        string text = sql.For(connection);
        return _idle.Remove(text, out PreparedStatement? idle) ? idle : new PreparedStatement(connection, text, names);
    }

    /// <summary>Takes a statement back.</summary>
    /// <param name="statement">The statement.</param>
    public void GiveBack(PreparedStatement statement)
    {
        if (!_idle.TryAdd(statement.Sql, statement))
        {
            statement.Dispose();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (PreparedStatement statement in _idle.Values)
        {
            statement.Dispose();
        }

        _idle.Clear();
    }
}
