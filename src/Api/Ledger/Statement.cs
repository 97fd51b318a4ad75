using System.Data.Common;
using System.Globalization;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A statement of one transaction that is run again and again; many times faster than building it for each row. Values are in the
/// order of the parameter names.</summary>
/// <param name="session">The transaction.</param>
/// <param name="sql">The statement, values as named parameters.</param>
/// <param name="names">Names of the parameters, without the mark.</param>
internal sealed class Statement(WriteSession session, Sql sql, params string[] names) : IDisposable
{
    private PreparedStatement? _prepared;

    private PreparedStatement Prepared => _prepared ??= session.Statements.Take(sql, names);

    /// <summary>Runs the statement.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    /// <returns>How many rows it changed.</returns>
    public int Run(params ReadOnlySpan<object?> values) => Prepared.Run(session.Transaction, values);

    /// <summary>Runs the statement and gives its rows; the caller disposes of the reader before the next use.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public DbDataReader Query(params ReadOnlySpan<object?> values) => Prepared.Command(session.Transaction, values).ExecuteReader();

    /// <summary>Runs the statement and gives the values of its first row, whole numbers as long; null if there is none.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public object?[]? First(params ReadOnlySpan<object?> values) => Prepared.First(session.Transaction, values);

    /// <summary>Runs the statement and gives the first value of its first row; null if there is none.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public object? Value(params ReadOnlySpan<object?> values) => First(values)?[0];

    /// <summary>Runs the statement and gives the first value of its first row as a whole number; 0 if there is none.</summary>
    /// <param name="values">One value a parameter; null is NULL.</param>
    public long Number(params ReadOnlySpan<object?> values) => Convert.ToInt64(Value(values), CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_prepared is { } prepared)
        {
            _prepared = null;
            session.Statements.GiveBack(prepared);
        }
    }
}
