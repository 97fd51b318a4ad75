using System.Data.Common;
using System.Globalization;
using Microsoft.Data.SqlClient;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A statement of one transaction that is prepared at its first use and then run again and again; many times faster than
/// building it for each row. Values are in the order of the parameter names.</summary>
internal sealed class Statement : IDisposable
{
    private readonly WriteSession _session;
    private readonly Sql _sql;
    private readonly string[] _names;
    private DbCommand? _command;

    /// <summary>Describes a statement; nothing is sent yet.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="sql">The statement, values as named parameters.</param>
    /// <param name="names">Names of the parameters, without the mark.</param>
    public Statement(WriteSession session, Sql sql, params string[] names)
    {
        _session = session;
        _sql = sql;
        _names = names;
    }

    /// <summary>Runs the statement.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    /// <returns>How many rows it changed.</returns>
    public int Run(params ReadOnlySpan<object?> values) => With(values).ExecuteNonQuery();

    /// <summary>Runs the statement and gives its rows; the caller disposes of the reader before the next use.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public DbDataReader Query(params ReadOnlySpan<object?> values) => With(values).ExecuteReader();

    /// <summary>Runs the statement and gives the first value of its first row; null if there is none.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public object? Value(params ReadOnlySpan<object?> values) => With(values).ExecuteScalar() is { } value and not DBNull ? value : null;

    /// <summary>Runs the statement and gives the first value of its first row as a whole number; 0 if there is none.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public long Number(params ReadOnlySpan<object?> values) => Convert.ToInt64(Value(values), CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public void Dispose() => _command?.Dispose();

    private DbCommand With(ReadOnlySpan<object?> values)
    {
        _command ??= Prepare();
        for (int index = 0; index < values.Length; index++)
        {
            DbParameter parameter = _command.Parameters[index];
            if (parameter is SqlParameter typed)
            {
                SqlServerValue.Set(typed, values[index]);
            }
            else
            {
                parameter.Value = values[index] ?? DBNull.Value;
            }
        }

        return _command;
    }

    private DbCommand Prepare()
    {
        DbCommand command = _session.Connection.CreateCommand();
        command.Transaction = _session.Transaction;
#pragma warning disable CA2100 // The text is a constant of the caller.
        command.CommandText = _sql.For(_session.Connection);
#pragma warning restore CA2100
        foreach (string name in _names)
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = "@" + name;
            command.Parameters.Add(parameter);
        }

        return command;
    }
}
