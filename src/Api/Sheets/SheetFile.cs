using Washwear.Api.Ingest;

namespace Washwear.Api.Sheets;

/// <summary>How much of a file is read.</summary>
/// <param name="UnpackedBytes">Most bytes that a workbook may unpack to.</param>
/// <param name="RowBytes">Longest row of a CSV file, bytes.</param>
/// <param name="Rows">Most rows.</param>
internal sealed record SheetLimits(long UnpackedBytes, int RowBytes, int Rows)
{
    /// <summary>Most columns.</summary>
    public const int Columns = 512;

    /// <summary>Most characters of a cell, as spreadsheets have it.</summary>
    public const int CellCharacters = 32_767;

    /// <summary>The limits that the settings ask for.</summary>
    /// <param name="settings">The settings.</param>
    public static SheetLimits Of(Settings settings) => new(settings.ImportUnpackedBytes, settings.RowLimitBytes, settings.ImportRowsMax);
}

/// <summary>A table in a file, read row by row; never more than a row is held, beside the words that a workbook's cells share.</summary>
internal abstract class SheetFile : IDisposable
{
    /// <summary>Names of the sheets that the file holds; one without a name for CSV.</summary>
    public abstract IReadOnlyList<string> Sheets { get; }

    /// <summary>Name of the sheet that is read.</summary>
    public abstract string Sheet { get; }

    /// <summary>Whether semicolons stand between its cells, as spreadsheets write it where decimals have a comma.</summary>
    public virtual bool HasSemicolons => false;

    /// <summary>How the file was understood, in sentences.</summary>
    public abstract IReadOnlyList<string> Notes { get; }

    /// <summary>Opens a file by what it holds, whatever its name says.</summary>
    /// <param name="path">The file.</param>
    /// <param name="sheet">Name of the sheet wanted; null: the first that can be seen.</param>
    /// <param name="limits">How much is read.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="UnreadableBodyException">It cannot be read, for a reason that its sender can mend.</exception>
    public static async Task<SheetFile> OpenAsync(string path, string? sheet, SheetLimits limits, CancellationToken cancellationToken)
    {
        byte[] start = new byte[8];
        await using (FileStream file = File.OpenRead(path))
        {
            int read = await file.ReadAtLeastAsync(start, start.Length, throwOnEndOfStream: false, cancellationToken);
            start = start[..read];
        }

        return start switch
        {
            [] => throw new UnreadableBodyException("empty", "The file is empty.", "Send a file with a row of headings and at least one row."),
            [0xD0, 0xCF, 0x11, 0xE0, ..] => throw new UnreadableBodyException(
                "old_workbook",
                "The file is a workbook of the old kind (.xls), or one that is protected by a password.",
                "Open it, take the password off and save it as .xlsx or as CSV."),
            [(byte)'P', (byte)'K', ..] => XlsxSheet.Open(path, sheet, limits),
            _ => await CsvSheet.OpenAsync(path, limits, cancellationToken),
        };
    }

    /// <summary>The rows that hold something, in order; may be asked for more than once.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="UnreadableBodyException">The rest cannot be read.</exception>
    public abstract IAsyncEnumerable<SheetRow> RowsAsync(CancellationToken cancellationToken);

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Closes the file.</summary>
    /// <param name="disposing">Whether it was asked for.</param>
    protected virtual void Dispose(bool disposing)
    {
    }
}
