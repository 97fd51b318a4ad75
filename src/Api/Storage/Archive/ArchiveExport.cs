using System.Data.Common;
using System.IO.Compression;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;

namespace Washwear.Api.Storage.Archive;

/// <summary>Writes a whole database, as of one commit, into a ZIP file that every engine takes in.</summary>
internal static class ArchiveExport
{
    private const byte LineEnd = (byte)'\n';

    /// <summary>Writes the archive; the database may be in use.</summary>
    /// <param name="database">The database.</param>
    /// <param name="to">Where to.</param>
    /// <param name="now">The instant.</param>
    /// <param name="told">Hears of each table when it is done.</param>
    /// <param name="cancellationToken">Stops; what was written is no archive.</param>
    public static async Task<ArchiveManifest> WriteAsync(
        Database database, Stream to, DateTimeOffset now, Action<TableManifest> told, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction oneView = Database.BeginReading(connection);
        using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        var tables = new List<TableManifest>();
        foreach (ArchivedTable table in ArchivedTables.All)
        {
            tables.Add(await WriteTableAsync(connection, oneView, table, zip, cancellationToken));
            told(tables[^1]);
        }

        var manifest = new ArchiveManifest(ArchiveManifest.CurrentFormat, now, database.Engine.Name, tables);
        await using Stream entry = zip.CreateEntry(ArchiveManifest.Entry).Open();
        await JsonSerializer.SerializeAsync(entry, manifest, Json.Options, cancellationToken);
        return manifest;
    }

    /// <summary>Counts and adds up a table as it is.</summary>
    /// <param name="connection">A connection.</param>
    /// <param name="transaction">Its transaction.</param>
    /// <param name="table">The table.</param>
    /// <param name="columns">Its columns.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<TableDigest> DigestAsync(
        DbConnection connection,
        DbTransaction transaction,
        ArchivedTable table,
        IReadOnlyList<ColumnManifest> columns,
        CancellationToken cancellationToken) =>
        await CopyAsync(connection, transaction, table, columns, Stream.Null, cancellationToken);

    private static async Task<TableManifest> WriteTableAsync(
        DbConnection connection, DbTransaction transaction, ArchivedTable table, ZipArchive zip, CancellationToken cancellationToken)
    {
        IReadOnlyList<ColumnManifest> columns = await ArchiveLines.ColumnsAsync(connection, transaction, table, cancellationToken);
        await using Stream entry = new BufferedStream(zip.CreateEntry(table.Name + ".ndjson", CompressionLevel.Fastest).Open(), 1 << 16);
        TableDigest digest = await CopyAsync(connection, transaction, table, columns, entry, cancellationToken);
        return new TableManifest(table.Name, columns, digest.Rows, digest.ToString());
    }

    private static async Task<TableDigest> CopyAsync(
        DbConnection connection,
        DbTransaction transaction,
        ArchivedTable table,
        IReadOnlyList<ColumnManifest> columns,
        Stream to,
        CancellationToken cancellationToken)
    {
        var digest = new TableDigest();
        using var lines = new ArchiveLines(columns);
        await using DbDataReader row = await connection.ExecuteReaderAsync(
            new CommandDefinition(table.SelectSql, transaction: transaction, commandTimeout: 0, cancellationToken: cancellationToken));
        int[] ordinals = [.. columns.Select(column => row.GetOrdinal(column.Name))];
        while (await row.ReadAsync(cancellationToken))
        {
            ReadOnlySpan<byte> line = lines.Line(row, ordinals);
            digest.Add(line);
            to.Write(line);
            to.WriteByte(LineEnd);
        }

        return digest;
    }
}
