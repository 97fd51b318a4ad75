using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Webhooks;

namespace Washwear.Api.Ingest;

/// <summary>The one way in for records, from requests, files and the demo alike. Safe for concurrent use.</summary>
/// <remarks>Rows are taken in by transactions of at most 5,000 rows and 8 MiB of text, each acknowledged after its commit, so that a
/// long request neither holds the database nor the memory; while one is written, the rows of the next are read. All-or-nothing requests are one transaction and hold all rows till then.</remarks>
/// <param name="database">The database.</param>
/// <param name="registryCache">The registry.</param>
/// <param name="clock">The clock.</param>
public sealed class IngestService(Database database, RegistryCache registryCache, TimeProvider clock)
{
    /// <summary>Most rows of one all-or-nothing request.</summary>
    public const int MostRowsAllOrNothing = 100_000;

    private const int RowsPerTransaction = 5_000;
    private const int TextBytesPerTransaction = 8 * 1024 * 1024;
    private const string Savepoint = "rows";

    /// <summary>Takes records in that were never a text, such as those of the demo.</summary>
    /// <param name="records">The records; row numbers in the answer count from 1.</param>
    /// <param name="cancellationToken">Stops between transactions.</param>
    public Task<IngestAnswer> TakeInAsync(IEnumerable<IncomingRecord> records, CancellationToken cancellationToken)
    {
        IEnumerable<IncomingRow> rows =
            records.Select((record, index) => new IncomingRow(index + 1, record, null, record.Source, record.Key, null, null));
        return TakeInAsync(rows.ToAsyncEnumerable(), new IngestOptions(), cancellationToken);
    }

    /// <summary>Takes one record in that is made within the transaction, from what no one can change meanwhile.</summary>
    /// <param name="make">Makes the record; null: nothing is taken in.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    /// <returns>What became of it, and its number in the ledger if it was accepted; null: nothing was made.</returns>
    internal Task<(RowResult Result, long? Seq)?> TakeInMadeAsync(
        Func<WriteSession, RegistrySnapshot, Task<IncomingRecord?>> make, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            DateTimeOffset now = clock.GetUtcNow();
            RegistrySnapshot registry = await registryCache.CurrentAsync(CancellationToken.None);
            if (await make(session, registry) is not { } record)
            {
                return ((RowResult Result, long? Seq)?)null;
            }

            using var batch = new IngestBatch(session, new RecordRules(registry, now, new NearestCode()), now);
            RowResult result = batch.TakeIn(new IncomingRow(1, record, null, record.Source, record.Key, null, null));
            batch.Flush();
            (long Seq, UnitEntry Unit, ApprovalRecord Record)[] approvals = [.. batch.Approvals];
            ApprovalNews[] news = [.. approvals.Select(one => ApprovalNews.Of(one.Seq, one.Unit, one.Record, now)).OfType<ApprovalNews>()];
            await WebhookMessages.WriteAsync(session, news, registry, now, CancellationToken.None);
            return (result, approvals.Length == 0 ? null : approvals[^1].Seq);
        },
        cancellationToken);

    /// <summary>Takes rows in as they are read.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="options">How.</param>
    /// <param name="cancellationToken">Stops reading; what was committed stays.</param>
    /// <exception cref="UnreadableBodyException">Nothing was taken in, because nothing could be read, or not all of an all-or-nothing
    /// request.</exception>
    internal async Task<IngestAnswer> TakeInAsync(
        IAsyncEnumerable<IncomingRow> rows, IngestOptions options, CancellationToken cancellationToken)
    {
        var run = new Run(options, new IngestTally(options.AllRows), new NearestCode());
        try
        {
            await ReadAsync(rows, run, cancellationToken);
        }
        finally
        {
            // Whatever stopped the reading, what was read before is written.
            await run.Writing;
        }

        return run.Tally.ToAnswer();
    }

    private async Task ReadAsync(IAsyncEnumerable<IncomingRow> rows, Run run, CancellationToken cancellationToken)
    {
        var batch = new List<IncomingRow>();
        int textBytes = 0;
        int lastNumber = 0;
        await using IAsyncEnumerator<IncomingRow> reader = rows.GetAsyncEnumerator(cancellationToken);
        while (await NextAsync(reader, lastNumber, run) is { } row)
        {
            lastNumber = row.Number;
            textBytes += row.TextBytes;
            batch.Add(row);
            if (run.Tally.UnreadFromRow is not null)
            {
                break;
            }

            if (!run.Options.AllOrNothing && (batch.Count == RowsPerTransaction || textBytes > TextBytesPerTransaction))
            {
                await HandOverAsync(batch, run);
                batch = [];
                textBytes = 0;
            }
        }

        if (batch.Count > 0)
        {
            await HandOverAsync(batch, run);
        }
    }

    // The next rows are read while these are written; the transactions of a request come one after the other.
    private async Task HandOverAsync(List<IncomingRow> batch, Run run)
    {
        await run.Writing;
        run.Writing = Task.Run(() => WriteAsync(batch, run), CancellationToken.None);
    }

    // A body that breaks off after good rows is told of in a row of its own; one of which nothing could be read is an error.
    private static async Task<IncomingRow?> NextAsync(IAsyncEnumerator<IncomingRow> reader, int lastNumber, Run run)
    {
        if (run.Options.AllOrNothing && lastNumber > MostRowsAllOrNothing)
        {
            throw new UnreadableBodyException(
                "too_many_rows",
                $"An all-or-nothing request holds at most {MostRowsAllOrNothing} rows.",
                "Send fewer rows at once, or without all_or_nothing: sending again is safe.");
        }

        bool mayBreakOff = lastNumber > 0 && !run.Options.AllOrNothing;
        try
        {
            return await reader.MoveNextAsync() ? reader.Current : null;
        }
        catch (UnreadableBodyException error) when (mayBreakOff)
        {
            return BrokenOff(lastNumber, error.Message, error.Mend, run);
        }
        catch (BadHttpRequestException error) when (mayBreakOff)
        {
            return BrokenOff(lastNumber, error.Message, "Send smaller requests, and each to its end.", run);
        }
    }

    private static IncomingRow BrokenOff(int lastNumber, string detail, string mend, Run run)
    {
        run.Tally.UnreadFromRow = lastNumber + 1;
        return new IncomingRow(lastNumber + 1, null, RowProblems.UnreadableRest(detail, mend), string.Empty, null, null, null);
    }

    // Once rows are read they are written, even if the sender has gone: it may send them again and get duplicates.
    private Task WriteAsync(List<IncomingRow> rows, Run run) => database.WriteAsync(
        async session =>
        {
            DateTimeOffset now = clock.GetUtcNow();
            // No other writer can change the registry while this transaction is open.
            RegistrySnapshot registry = await registryCache.CurrentAsync(CancellationToken.None);
            var news = new List<ApprovalNews>();
            List<RowResult> results = TakeIn(session, rows, new RecordRules(registry, now, run.Nearest), now, run.Options, news);
            await WebhookMessages.WriteAsync(session, news, registry, now, CancellationToken.None);
            for (int index = 0; index < rows.Count; index++)
            {
                run.Tally.Count(rows[index], results[index]);
            }
        },
        CancellationToken.None);

    private static List<RowResult> TakeIn(
        WriteSession session, List<IncomingRow> rows, RecordRules rules, DateTimeOffset now, IngestOptions options, List<ApprovalNews> news)
    {
        if (options.AllOrNothing)
        {
            session.Transaction.Save(Savepoint);
        }

        List<RowResult> results;
        using (var batch = new IngestBatch(session, rules, now))
        {
            results = [.. rows.Select(batch.TakeIn)];
            batch.Flush();
            news.AddRange(batch.Approvals.Select(one => ApprovalNews.Of(one.Seq, one.Unit, one.Record, now)).OfType<ApprovalNews>());
        }

        if (options.AllOrNothing && results.Exists(result => result.Outcome == RowOutcome.Refused))
        {
            news.Clear();
            return HoldBack(session, rows, results, now, options.KeepRefused);
        }

        return results;
    }

    private static List<RowResult> HoldBack(WriteSession session, List<IncomingRow> rows, List<RowResult> results, DateTimeOffset now, bool keep)
    {
        session.Transaction.Rollback(Savepoint);
        using var kept = new RefusedWriter(session, now);
        for (int index = 0; keep && index < rows.Count; index++)
        {
            if (results[index] is { Outcome: RowOutcome.Refused, Problem: { } problem })
            {
                kept.Keep(rows[index], problem);
            }
        }

        return [.. results.Select(result => result.Outcome == RowOutcome.Accepted ? result with { Outcome = RowOutcome.HeldBack } : result)];
    }

    private sealed record Run(IngestOptions Options, IngestTally Tally, NearestCode Nearest)
    {
        public Task Writing { get; set; } = Task.CompletedTask;
    }
}
