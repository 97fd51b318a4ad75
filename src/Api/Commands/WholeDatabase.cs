using System.Globalization;
using Washwear.Api.Storage;
using Washwear.Api.Storage.Archive;

namespace Washwear.Api.Commands;

/// <summary>A whole database out of one engine and into another: what export --all and import of its file do.</summary>
internal static class WholeDatabase
{
    /// <summary>Writes the archive beside its place first, so that what has its name is whole.</summary>
    /// <param name="services">The program's services.</param>
    /// <param name="file">Where to; must not exist.</param>
    /// <param name="cancellationToken">Stops.</param>
    /// <exception cref="CommandException">The file exists.</exception>
    public static async Task<int> ExportAsync(IServiceProvider services, FileInfo file, CancellationToken cancellationToken)
    {
        if (file.Exists)
        {
            throw new CommandException($"{file.FullName} exists already; an archive overwrites nothing.");
        }

        string unfinished = file.FullName + ".unfinished";
        ArchiveManifest manifest;
        try
        {
            await using FileStream stream = File.Create(unfinished);
            manifest = await ArchiveExport.WriteAsync(
                services.GetRequiredService<Database>(), stream, services.GetRequiredService<TimeProvider>().GetUtcNow(), Tell, cancellationToken);
            stream.Flush(flushToDisk: true);
        }
        catch
        {
            File.Delete(unfinished);
            throw;
        }

        File.Move(unfinished, file.FullName);
        Console.Out.WriteLine($"Written to {file.FullName}: {Rows(manifest)} in {manifest.Tables.Count} tables. It holds keys' hashes and webhooks' secrets: keep it as safe as the database.");
        return 0;
    }

    /// <summary>Takes an archive in.</summary>
    /// <param name="services">The program's services.</param>
    /// <param name="file">The archive.</param>
    /// <param name="cancellationToken">Stops; nothing was taken in.</param>
    /// <exception cref="CommandException">Nothing was taken in; says why.</exception>
    public static async Task<int> ImportAsync(IServiceProvider services, FileInfo file, CancellationToken cancellationToken)
    {
        try
        {
            ArchiveManifest manifest = await ArchiveImport.ReadAsync(services.GetRequiredService<Database>(), file, Tell, cancellationToken);
            Console.Out.WriteLine($"Taken in: {Rows(manifest)} in {manifest.Tables.Count} tables; counts and digests of all tables are as in the archive.");
            return 0;
        }
        catch (ArchiveException error)
        {
            throw new CommandException(error.Message);
        }
    }

    private static void Tell(TableManifest table) =>
        Console.Out.WriteLine($"{table.Table,-20} {table.Rows.ToString("N0", CultureInfo.InvariantCulture),14} rows  {table.Digest}");

    private static string Rows(ArchiveManifest manifest) =>
        manifest.Tables.Sum(table => table.Rows).ToString("N0", CultureInfo.InvariantCulture) + " rows";
}
