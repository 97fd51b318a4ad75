using System.IO.Compression;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;

namespace Washwear.Api.Storage.Archive;

/// <summary>Takes an archive into an empty database, all of it or nothing, and counts and adds up what has arrived.</summary>
internal static class ArchiveImport
{
    // The migrations, or the first start, put one row there.
    private static readonly string[] Seeded = ["registry_version", "projection_kind"];

    /// <summary>Whether a file may be an archive: it begins as a ZIP file does and holds a manifest.</summary>
    /// <param name="file">The file.</param>
    public static bool IsArchive(FileInfo file)
    {
        try
        {
            using ZipArchive zip = ZipFile.OpenRead(file.FullName);
            return zip.GetEntry(ArchiveManifest.Entry) is not null;
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }

    /// <summary>Takes the archive in, in one transaction.</summary>
    /// <param name="database">The database: migrated, and without a row.</param>
    /// <param name="file">The archive.</param>
    /// <param name="told">Hears of each table when it is in and proved to be the same.</param>
    /// <param name="cancellationToken">Stops; nothing was taken in.</param>
    /// <exception cref="ArchiveException">The archive or the database is not fit for it; nothing was taken in.</exception>
    public static async Task<ArchiveManifest> ReadAsync(
        Database database, FileInfo file, Action<TableManifest> told, CancellationToken cancellationToken)
    {
        try
        {
            using ZipArchive zip = ZipFile.OpenRead(file.FullName);
            ArchiveManifest manifest = await ManifestAsync(zip, cancellationToken);
            return await database.WriteAsync(
                async session =>
                {
                    await ReadAsync(session, zip, manifest, told, cancellationToken);
                    return manifest;
                },
                cancellationToken);
        }
        catch (Exception error) when (error is InvalidDataException or JsonException)
        {
            throw new ArchiveException($"The archive is damaged: {error.Message} Nothing was taken in; write it again.");
        }
    }

    private static async Task<ArchiveManifest> ManifestAsync(ZipArchive zip, CancellationToken cancellationToken)
    {
        await using Stream entry = Entry(zip, ArchiveManifest.Entry).Open();
        ArchiveManifest? manifest = await JsonSerializer.DeserializeAsync<ArchiveManifest>(entry, Json.Options, cancellationToken);
        return manifest is { Format: ArchiveManifest.CurrentFormat }
            ? manifest
            : throw new ArchiveException("The archive was written in another format than this version reads.");
    }

    private static async Task ReadAsync(
        WriteSession session, ZipArchive zip, ArchiveManifest manifest, Action<TableManifest> told, CancellationToken cancellationToken)
    {
        string[] expected = [.. ArchivedTables.All.Select(table => table.Name)];
        string[] differing = [.. expected.Except(manifest.Tables.Select(table => table.Table)), .. manifest.Tables.Select(table => table.Table).Except(expected)];
        if (differing.Length > 0)
        {
            throw new ArchiveException($"The archive is of another version: it and this program differ in {string.Join(", ", differing)}. "
                + "Write it again with the version that takes it in.");
        }

        await MakeSureEmptyAsync(session, cancellationToken);
        foreach (ArchivedTable table in ArchivedTables.All)
        {
            TableManifest said = manifest.Tables.Single(one => one.Table == table.Name);
            IReadOnlyList<ColumnManifest> columns = await ArchiveLines.ColumnsAsync(session.Connection, session.Transaction, table, cancellationToken);
            if (!columns.ToHashSet().SetEquals(said.Columns))
            {
                throw new ArchiveException($"The archive is of another version: the columns of {table.Name} differ. Write it again with the version that takes it in.");
            }

            await FillAsync(session, table, said, Entry(zip, table.Name + ".ndjson"), cancellationToken);
            await ProveAsync(session, table, said, cancellationToken);
            told(said);
        }
    }

    private static async Task MakeSureEmptyAsync(WriteSession session, CancellationToken cancellationToken)
    {
        foreach (ArchivedTable table in ArchivedTables.All)
        {
            if (Seeded.Contains(table.Name))
            {
                await session.Connection.ExecuteAsync(session.Command(table.EmptySql, null, cancellationToken));
            }
            else if (await session.Connection.ExecuteScalarAsync<long>(session.Command(table.CountSql, null, cancellationToken)) > 0)
            {
                throw new ArchiveException($"There are rows in {table.Name} already; an archive is taken into an empty database only.");
            }
        }
    }

    private static async Task FillAsync(
        WriteSession session, ArchivedTable table, TableManifest said, ZipArchiveEntry entry, CancellationToken cancellationToken)
    {
        using var lines = new ArchiveLines(said.Columns);
        object[] values = new object[said.Columns.Count];
        await using ArchiveFill fill = ArchiveFill.Of(session, table.Name, said.Columns);
        await using Stream stream = entry.Open();
        await foreach (ReadOnlyMemory<byte> line in LineReader.ReadAsync(stream, cancellationToken))
        {
            lines.Read(line.Span, values);
            await fill.AddAsync(values, cancellationToken);
        }

        await fill.EndAsync(cancellationToken);
    }

    private static async Task ProveAsync(WriteSession session, ArchivedTable table, TableManifest said, CancellationToken cancellationToken)
    {
        TableDigest digest = await ArchiveExport.DigestAsync(session.Connection, session.Transaction, table, said.Columns, cancellationToken);
        if (digest.Rows != said.Rows || digest.ToString() != said.Digest)
        {
            throw new ArchiveException(FormattableString.Invariant(
                $"{table.Name} did not arrive as it was: {digest.Rows} rows of {said.Rows}, digest {digest} instead of {said.Digest}. Nothing was taken in."));
        }
    }

    private static ZipArchiveEntry Entry(ZipArchive zip, string name) =>
        zip.GetEntry(name) ?? throw new ArchiveException($"The archive has no {name}. Nothing was taken in; write it again.");
}

/// <summary>An archive cannot be taken in; the message says why and that nothing was.</summary>
/// <param name="message">Why.</param>
internal sealed class ArchiveException(string message) : Exception(message);
