using System.Text;
using System.Text.Json;
using System.Threading.Channels;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.Import;

/// <summary>Takes uploaded sheets in, one after the other, portion by portion. The place reached is on disk after each portion, so that a
/// sheet goes on after a restart; a portion that was taken in just before the program died is told as taken in before.</summary>
/// <param name="queries">The sheets.</param>
/// <param name="files">Their files.</param>
/// <param name="reader">Opens them.</param>
/// <param name="importer">Takes rows in.</param>
/// <param name="settings">The settings.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class ImportRuns(
    ImportSheetQueries queries, ImportFiles files, SheetReader reader, SheetImporter importer, Settings settings, TimeProvider clock, ILogger<ImportRuns> log) : BackgroundService
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan BetweenForgetting = TimeSpan.FromHours(1);

    private readonly Channel<bool> _signal = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>Says that there is something to take in.</summary>
    public void Wake() => _signal.Writer.TryWrite(true);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await Task.Yield();
        DateTimeOffset forgotten = DateTimeOffset.MinValue;
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await RunAllAsync(stoppingToken);
                if (clock.GetUtcNow() - forgotten >= BetweenForgetting)
                {
                    forgotten = clock.GetUtcNow();
                    await ForgetOldAsync(stoppingToken);
                }
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                LogFailed(error);
            }

            using var wait = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
            wait.CancelAfter(BetweenLooks);
            try
            {
                await _signal.Reader.ReadAsync(wait.Token);
            }
            catch (OperationCanceledException) when (!stoppingToken.IsCancellationRequested)
            {
                // Nobody called; look again, for another node may have left something.
            }
        }
    }

    /// <summary>Forgets a sheet with its files.</summary>
    /// <param name="sheet">The sheet.</param>
    internal async Task ForgetAsync(StoredSheet sheet)
    {
        if (await queries.DeleteAsync(sheet.Id))
        {
            files.Forget(sheet.StoredName);
        }
    }

    private async Task RunAllAsync(CancellationToken cancellationToken)
    {
        foreach (StoredSheet sheet in await queries.RunningAsync(cancellationToken))
        {
            await RunAsync(sheet, cancellationToken);
        }
    }

    private async Task RunAsync(StoredSheet stored, CancellationToken cancellationToken)
    {
        try
        {
            ImportMapping mapping = JsonSerializer.Deserialize<ImportMapping>(stored.Mapping!, Json.Options)!;
            using OpenedSheet sheet = await reader.OpenAsync(files.Of(stored.StoredName), mapping.KindOfRows, mapping, null, cancellationToken);
            await using FileStream refused = new(files.RefusedOf(stored.StoredName), FileMode.OpenOrCreate, FileAccess.Write);
            // What was written for a portion that was not noted any more is written again.
            refused.SetLength(Math.Min(refused.Length, stored.RefusedBytes));
            refused.Position = refused.Length;
            await importer.RunAsync(sheet, stored.Source, stored.LastRow, portion => NoteAsync(stored, sheet, portion, refused, cancellationToken), cancellationToken);
            await queries.MoveAsync(stored.Id, ImportState.Running, ImportState.Done);
        }
        catch (Exception error) when (error is UnreadableBodyException or FileNotFoundException or DirectoryNotFoundException)
        {
            string why = error is UnreadableBodyException unreadable ? unreadable.Message + " " + unreadable.Mend : "The file is not here any more; upload it again. Rows that are in are known again.";
            await queries.MoveAsync(stored.Id, ImportState.Running, ImportState.Failed, why);
        }
    }

    private async Task<bool> NoteAsync(StoredSheet stored, OpenedSheet sheet, PortionDone portion, FileStream refused, CancellationToken cancellationToken)
    {
        if (portion.Refused.Count > 0)
        {
            // It is opened with what wrote the sheet; cells stay as they stood there.
            CsvForm form = sheet.File.HasSemicolons || sheet.Mapping.DecimalMark == DecimalMark.Comma ? CsvForm.DecimalComma : CsvForm.Standard;
            string text = Csv.Text(Columns(sheet), portion.Refused, form with { Begin = "\uFEFF" });
            string lines = refused.Length == 0 ? text : text[(text.IndexOf('\n', StringComparison.Ordinal) + 1)..];
            await refused.WriteAsync(Encoding.UTF8.GetBytes(lines), CancellationToken.None);
            await refused.FlushAsync(CancellationToken.None);
        }

        await queries.AddAsync(stored.Id, portion, refused.Length);
        return !cancellationToken.IsCancellationRequested
            && (await queries.FindAsync(stored.Owner, stored.Id, CancellationToken.None))?.State == ImportState.Running;
    }

    // The sheet's own columns, so that the mended file is read as the sheet was.
    private static CsvColumn<RefusedRow>[] Columns(OpenedSheet sheet) =>
    [
        .. sheet.Profile.Headings.Select((heading, column) => new CsvColumn<RefusedRow>(heading, row => row.Row[column].Text)),
        new("what is wrong (left out)", row => $"row {row.Row.Number}, {row.Problem.Field ?? "row"}: {row.Problem.Detail}"),
        new("what to do (left out)", row => row.Problem.Mend),
    ];

    private async Task ForgetOldAsync(CancellationToken cancellationToken)
    {
        foreach (StoredSheet old in await queries.OldAsync(clock.GetUtcNow() - settings.ImportKeep, cancellationToken))
        {
            await ForgetAsync(old);
        }

        HashSet<string> known = [.. await queries.StoredNamesAsync(cancellationToken)];
        files.ForgetStray(known, TimeProvider.System.GetUtcNow().UtcDateTime);
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Taking in uploaded sheets failed; it is tried again.")]
    private partial void LogFailed(Exception error);
}
