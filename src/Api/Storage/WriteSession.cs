using System.Data.Common;
using Dapper;
using Microsoft.Data.SqlClient;

namespace Washwear.Api.Storage;

/// <summary>The one open write transaction; valid only inside the work it was handed to.</summary>
/// <param name="Connection">The connection.</param>
/// <param name="Transaction">The transaction that every statement must name.</param>
public sealed record WriteSession(DbConnection Connection, DbTransaction Transaction)
{
    /// <summary>Whether rows are gathered and written together, and keys asked for together, because each way to the engine is far.</summary>
    public bool GathersRows { get; init; } = Connection is SqlConnection;

    /// <summary>Statements prepared on the connection.</summary>
    internal StatementPool Statements { get; init; } = new(Connection);

    /// <summary>Builds a statement of this transaction.</summary>
    /// <param name="sql">The statement, values as named parameters.</param>
    /// <param name="parameters">The values.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public CommandDefinition Command(Sql sql, object? parameters, CancellationToken cancellationToken) =>
        new(sql.For(Connection), parameters, Transaction, cancellationToken: cancellationToken);
}
