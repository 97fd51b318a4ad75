using System.Data;
using System.Data.Common;
using Microsoft.Data.SqlClient;
using Washwear.Api.Ledger;

namespace Washwear.Api.Storage.Archive;

/// <summary>Puts rows into a table as fast as its engine can.</summary>
internal abstract class ArchiveFill : IAsyncDisposable
{
    /// <summary>The way of the engine that a transaction belongs to.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="table">The table.</param>
    /// <param name="columns">The columns that rows have.</param>
    public static ArchiveFill Of(WriteSession session, string table, IReadOnlyList<ColumnManifest> columns) =>
        session.Connection is SqlConnection ? new BulkFill(session, table, columns) : new RowFill(session, table, columns);

    /// <summary>Adds a row.</summary>
    /// <param name="values">A value for each column.</param>
    /// <param name="cancellationToken">Stops.</param>
    public abstract Task AddAsync(object[] values, CancellationToken cancellationToken);

    /// <summary>Writes what is left.</summary>
    /// <param name="cancellationToken">Stops.</param>
    public abstract Task EndAsync(CancellationToken cancellationToken);

    /// <inheritdoc/>
    public abstract ValueTask DisposeAsync();

    private sealed class RowFill : ArchiveFill
    {
        private readonly Statement _insert;

        public RowFill(WriteSession session, string table, IReadOnlyList<ColumnManifest> columns)
        {
            string names = string.Join(", ", columns.Select(column => $"\"{column.Name}\""));
            string values = string.Join(", ", columns.Select(column => "@" + column.Name));
            _insert = new Statement(session, $"INSERT INTO \"{table}\" ({names}) VALUES ({values})", [.. columns.Select(column => column.Name)]);
        }

        public override Task AddAsync(object[] values, CancellationToken cancellationToken)
        {
            _insert.Run(values);
            return Task.CompletedTask;
        }

        public override Task EndAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public override ValueTask DisposeAsync()
        {
            _insert.Dispose();
            return ValueTask.CompletedTask;
        }
    }

    private sealed class BulkFill : ArchiveFill
    {
        private const int RowsAtOnce = 5_000;
        private readonly WriteSession _session;
        private readonly SqlBulkCopy _copy;
        private readonly DataTable _rows = new();

        public BulkFill(WriteSession session, string table, IReadOnlyList<ColumnManifest> columns)
        {
            _session = session;
            _copy = new SqlBulkCopy((SqlConnection)session.Connection, SqlBulkCopyOptions.KeepIdentity, (SqlTransaction)session.Transaction)
            {
                DestinationTableName = $"[{table}]",
                BulkCopyTimeout = 0,
            };
            foreach (ColumnManifest column in columns)
            {
                _rows.Columns.Add(column.Name, TypeOf(column.Kind));
                _copy.ColumnMappings.Add(column.Name, column.Name);
            }
        }

        public override async Task AddAsync(object[] values, CancellationToken cancellationToken)
        {
            _rows.Rows.Add(values);
            if (_rows.Rows.Count == RowsAtOnce)
            {
                await WriteAsync(cancellationToken);
            }
        }

        public override async Task EndAsync(CancellationToken cancellationToken)
        {
            await WriteAsync(cancellationToken);
            await using DbCommand reseed = _session.Connection.CreateCommand();
            reseed.Transaction = _session.Transaction;
            reseed.CommandText = ArchivedTable.ReseedSql;
            reseed.Parameters.Add(new SqlParameter("@table", _copy.DestinationTableName));
            await reseed.ExecuteNonQueryAsync(cancellationToken);
        }

        public override ValueTask DisposeAsync()
        {
            ((IDisposable)_copy).Dispose();
            _rows.Dispose();
            return ValueTask.CompletedTask;
        }

        private static Type TypeOf(ColumnKind kind) => kind switch
        {
            ColumnKind.Integer => typeof(long),
            ColumnKind.Real => typeof(double),
            ColumnKind.Text => typeof(string),
            _ => typeof(byte[]),
        };

        private async Task WriteAsync(CancellationToken cancellationToken)
        {
            await _copy.WriteToServerAsync(_rows, cancellationToken);
            _rows.Clear();
        }
    }
}
