using NodaTime;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>One opened sheet with what it looks like and how it is read.</summary>
/// <param name="File">The file.</param>
/// <param name="Profile">What it looks like.</param>
/// <param name="Guess">How it is read, and what is open.</param>
/// <param name="Codes">Codes of the registry.</param>
internal sealed record OpenedSheet(SheetFile File, SheetProfile Profile, Guess Guess, CodeBook Codes) : IDisposable
{
    /// <summary>How rows are read.</summary>
    public ImportMapping Mapping => Guess.Mapping;

    /// <summary>The rows below the headings that are no notes.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async IAsyncEnumerable<SheetRow> RowsAsync([System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (SheetRow row in File.RowsAsync(cancellationToken))
        {
            if (row.Number > Profile.HeadingRow && !row.IsNote)
            {
                yield return row;
            }
        }
    }

    /// <summary>Reads cells by the mapping.</summary>
    public RowCells Cells() => new(Mapping, Profile.Headings, Codes)
    {
        Zone = Mapping.TimeZone is { } zone ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) : null,
    };

    /// <inheritdoc/>
    public void Dispose() => File.Dispose();
}

/// <summary>Opens sheets and finds out how they are meant.</summary>
/// <param name="registry">The registry.</param>
/// <param name="settings">The settings.</param>
internal sealed class SheetReader(RegistryCache registry, Settings settings)
{
    /// <summary>Opens a sheet.</summary>
    /// <param name="path">The file.</param>
    /// <param name="kind">What its rows are.</param>
    /// <param name="mapping">How rows are read; null: it is guessed.</param>
    /// <param name="sheet">Name of the sheet in a workbook; null: that of the mapping, else the first.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="UnreadableBodyException">It cannot be read.</exception>
    public async Task<OpenedSheet> OpenAsync(string path, ImportKind kind, ImportMapping? mapping, string? sheet, CancellationToken cancellationToken)
    {
        SheetFile file = await OpenFileAsync(path, sheet ?? mapping?.Sheet, sheet is null, cancellationToken);
        try
        {
            SheetProfile profile = await SheetProfile.LookAsync(file.RowsAsync(cancellationToken), cancellationToken);
            if (profile.RowsSeen == 0)
            {
                throw new UnreadableBodyException(
                    "no_rows", profile.HeadingRow == 0 ? "The sheet is empty." : "The sheet has headings but no rows below them.", "Fill in at least one row, or choose another sheet of the workbook.");
            }

            var codes = new CodeBook(await registry.CurrentAsync(cancellationToken));
            var guesser = new MappingGuesser(kind, profile, codes);
            return new OpenedSheet(file, profile, mapping is null ? guesser.Make(file.Sheets.Count > 1 ? file.Sheet : null) : guesser.Apply(mapping), codes);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    // A remembered mapping names the sheet that it was made for; the next workbook may call it otherwise.
    private async Task<SheetFile> OpenFileAsync(string path, string? sheet, bool elseFirst, CancellationToken cancellationToken)
    {
        SheetLimits limits = SheetLimits.Of(settings);
        try
        {
            return await SheetFile.OpenAsync(path, sheet, limits, cancellationToken);
        }
        catch (UnreadableBodyException error) when (error.Rule == "no_sheet" && elseFirst && sheet is not null)
        {
            return await SheetFile.OpenAsync(path, null, limits, cancellationToken);
        }
    }
}
