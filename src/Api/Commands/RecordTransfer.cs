using System.IO.Pipelines;
using System.Runtime.CompilerServices;
using Washwear.Api.Import;
using Washwear.Api.Ingest;

namespace Washwear.Api.Commands;

/// <summary>import of files that are written as the API reads them.</summary>
internal static class RecordTransfer
{
    // Small enough to lose little when killed, large enough for rows to be read while others are written.
    private const int RowsBetweenNotes = 20_000;

    public static async Task<int> RunAsync(IServiceProvider services, ImportOrder order, CancellationToken cancellationToken)
    {
        BodyFormat format = order.File.Extension.ToUpperInvariant() switch
        {
            ".CSV" => BodyFormat.Csv,
            ".NDJSON" or ".JSONL" => BodyFormat.NdJson,
            ".JSON" => BodyFormat.Json,
            _ => throw new CommandException($"'{order.File.Extension}' is no ending that is read; use .xlsx, .csv, .ndjson, .jsonl or .json."),
        };
        var watch = new ImportWatch(
            services.GetRequiredService<ImportProgressQueries>(), await ImportWatch.DigestAsync(order.File, $"{format}\n{order.Type}\n{order.Source}", cancellationToken));
        await watch.BeginAsync(order.FromStart, cancellationToken);
        await using FileStream stream = order.File.OpenRead();
        var reader = new BodyReader(format, order.Type, order.Source, services.GetRequiredService<Settings>().RowLimitBytes);
        try
        {
            bool whole = await TakeInAsync(reader, stream, services.GetRequiredService<IngestService>(), watch, cancellationToken);
            int code = await watch.EndAsync("Records");
            return whole ? code : 1;
        }
        catch (UnreadableBodyException unreadable)
        {
            throw new CommandException(unreadable.Message + " " + unreadable.Mend);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            return watch.Stopped();
        }
    }

    private static async Task<bool> TakeInAsync(BodyReader reader, FileStream stream, IngestService ingest, ImportWatch watch, CancellationToken cancellationToken)
    {
        await using IAsyncEnumerator<IncomingRow> rows = reader.ReadAsync(PipeReader.Create(stream), cancellationToken).GetAsyncEnumerator(cancellationToken);
        for (int skipped = 0; skipped < watch.Before && await rows.MoveNextAsync(); skipped++)
        {
        }

        var slice = new Slice(rows);
        while (!slice.IsOver)
        {
            IngestAnswer answer = await ingest.TakeInAsync(slice.NextAsync(cancellationToken), new IngestOptions(), CancellationToken.None);
            foreach (RowAnswer row in answer.Rows.Where(row => row.Problem is not null))
            {
                watch.Tell(row.Row, row.Key, row.Problem!);
            }

            int dealtWith = answer.Accepted + answer.Duplicate + answer.Refused;
            await watch.DoneAsync(dealtWith, (answer.Accepted, answer.Doubted, answer.Duplicate, answer.Refused), stream.Length == 0 ? null : (double)stream.Position / stream.Length);
            if (answer.UnreadFromRow is not null)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Gives the rows of a file in pieces.</summary>
    private sealed class Slice(IAsyncEnumerator<IncomingRow> rows)
    {
        public bool IsOver { get; private set; }

        public async IAsyncEnumerable<IncomingRow> NextAsync([EnumeratorCancellation] CancellationToken cancellationToken)
        {
            for (int count = 0; count < RowsBetweenNotes; count++)
            {
                cancellationToken.ThrowIfCancellationRequested();
                if (!await rows.MoveNextAsync())
                {
                    IsOver = true;
                    yield break;
                }

                yield return rows.Current;
            }
        }
    }
}
