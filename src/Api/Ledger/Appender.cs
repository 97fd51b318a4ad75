using System.Data;
using Microsoft.Data.SqlClient;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>Adds rows to one table within a transaction. SQLite takes each at once, by a prepared statement; for SQL Server they wait for
/// <see cref="Flush"/> and go together, since each way to the server and back costs more than the row.</summary>
/// <remarks>Whoever reads the table, or a table that refers to it, in the same transaction flushes first.</remarks>
internal abstract class Appender : IDisposable
{
    /// <summary>The way of the engine that a transaction belongs to.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="table">The table.</param>
    /// <param name="insert">The statement that adds one row, its parameters named as the columns.</param>
    /// <param name="columns">Names of the columns, in the order of the values.</param>
    public static Appender Of(WriteSession session, string table, Sql insert, params string[] columns)
    {
        var one = new Statement(session, insert, columns);
        return session.GathersRows ? new Together(session, table, columns, one) : new AtOnce(one);
    }

    /// <summary>Adds a row.</summary>
    /// <param name="values">One value a column; null is NULL.</param>
    /// <returns>Whether it was added; false only where the statement itself leaves a row out that is there already.</returns>
    public abstract bool Add(params ReadOnlySpan<object?> values);

    /// <summary>Writes what waits.</summary>
    public abstract void Flush();

    /// <inheritdoc/>
    public abstract void Dispose();

    private sealed class AtOnce(Statement insert) : Appender
    {
        public override bool Add(params ReadOnlySpan<object?> values) => insert.Run(values) > 0;

        public override void Flush()
        {
        }

        public override void Dispose() => insert.Dispose();
    }

    private sealed class Together(WriteSession session, string table, string[] columns, Statement insert) : Appender
    {
        // A bulk load asks the server for the table first: a few rows are there sooner one by one.
        private const int FewRows = 8;

        private readonly List<object?[]> _rows = [];

        public override bool Add(params ReadOnlySpan<object?> values)
        {
            _rows.Add(values.ToArray());
            return true;
        }

        public override void Flush()
        {
            if (_rows.Count > FewRows && session.Connection is SqlConnection connection)
            {
                Load(connection);
            }
            else
            {
                _rows.ForEach(row => insert.Run(row));
            }

            _rows.Clear();
        }

        public override void Dispose() => insert.Dispose();

        // The server converts each value to the type of its column.
        private void Load(SqlConnection connection)
        {
            using var rows = new DataTable();
            foreach (string column in columns)
            {
                rows.Columns.Add(column, typeof(object));
            }

            _rows.ForEach(row => rows.Rows.Add(row));
            using var copy = new SqlBulkCopy(connection, SqlBulkCopyOptions.Default, (SqlTransaction)session.Transaction)
            {
                DestinationTableName = $"[{table}]",
                BulkCopyTimeout = connection.CommandTimeout,
            };
            foreach (string column in columns)
            {
                copy.ColumnMappings.Add(column, column);
            }

            copy.WriteToServer(rows);
        }
    }
}
