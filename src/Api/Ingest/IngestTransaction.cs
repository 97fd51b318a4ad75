using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Webhooks;

namespace Washwear.Api.Ingest;

/// <summary>Takes portions of several requests in within one transaction. Nothing outside the transaction is changed, so that it can be
/// rolled back and run again.</summary>
internal static class IngestTransaction
{
    private const string Savepoint = "rows";

    /// <summary>Takes the portions in.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="portions">The portions.</param>
    /// <param name="registry">The registry as the transaction sees it.</param>
    /// <param name="now">When they are taken in.</param>
    /// <returns>What became of each row of each portion.</returns>
    public static async Task<IReadOnlyList<IReadOnlyList<RowResult>>> WriteAsync(
        WriteSession session, IReadOnlyList<IngestPortion> portions, RegistrySnapshot registry, DateTimeOffset now)
    {
        var results = new IReadOnlyList<RowResult>[portions.Count];
        var news = new List<ApprovalNews>();
        WriteTogether(session, portions, registry, now, results, news);
        for (int index = 0; index < portions.Count; index++)
        {
            if (portions[index].Options.AllOrNothing)
            {
                results[index] = WriteAllOrNothing(session, portions[index], registry, now, news);
            }
        }

        await WebhookMessages.WriteAsync(session, news, registry, now, CancellationToken.None);
        for (int index = 0; index < portions.Count; index++)
        {
            if (portions[index].Keep is { } keep)
            {
                await keep(session, now, results[index]);
            }
        }

        return results;
    }

    /// <summary>Takes one row in.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="row">The row.</param>
    /// <param name="registry">The registry as the transaction sees it.</param>
    /// <param name="now">When it is taken in.</param>
    /// <returns>What became of it, and its number in the ledger if it is an approval that was accepted.</returns>
    public static async Task<(RowResult Result, long? Seq)> WriteOneAsync(
        WriteSession session, IncomingRow row, RegistrySnapshot registry, DateTimeOffset now)
    {
        using var batch = new IngestBatch(session, registry, now);
        RowResult result = batch.TakeIn(row, new RecordRules(registry, now, new NearestCode()));
        batch.Flush();
        await WebhookMessages.WriteAsync(session, NewsOf(batch, now), registry, now, CancellationToken.None);
        return (result, batch.Approvals.Select(one => (long?)one.Seq).LastOrDefault());
    }

    // The projections of all of them are brought up to date once: a unit that is in several portions is folded on once.
    private static void WriteTogether(
        WriteSession session, IReadOnlyList<IngestPortion> portions, RegistrySnapshot registry, DateTimeOffset now,
        IReadOnlyList<RowResult>[] results, List<ApprovalNews> news)
    {
        if (portions.All(portion => portion.Options.AllOrNothing))
        {
            return;
        }

        using var batch = new IngestBatch(session, registry, now);
        for (int index = 0; index < portions.Count; index++)
        {
            if (!portions[index].Options.AllOrNothing)
            {
                results[index] = TakeIn(batch, portions[index], registry, now);
            }
        }

        batch.Flush();
        news.AddRange(NewsOf(batch, now));
    }

    private static RowResult[] WriteAllOrNothing(
        WriteSession session, IngestPortion portion, RegistrySnapshot registry, DateTimeOffset now, List<ApprovalNews> news)
    {
        session.Transaction.Save(Savepoint);
        RowResult[] results;
        using (var batch = new IngestBatch(session, registry, now))
        {
            results = TakeIn(batch, portion, registry, now);
            if (!Array.Exists(results, result => result.Outcome == RowOutcome.Refused))
            {
                batch.Flush();
                news.AddRange(NewsOf(batch, now));
                return results;
            }
        }

        session.Transaction.Rollback(Savepoint);
        return HoldBack(session, portion, results, now);
    }

    private static RowResult[] HoldBack(WriteSession session, IngestPortion portion, RowResult[] results, DateTimeOffset now)
    {
        using var kept = new RefusedWriter(session, now);
        for (int index = 0; portion.Options.KeepRefused && index < results.Length; index++)
        {
            if (results[index] is { Outcome: RowOutcome.Refused, Problem: { } problem })
            {
                kept.Keep(portion.Rows[index], problem);
            }
        }

        return [.. results.Select(result => result.Outcome == RowOutcome.Accepted ? result with { Outcome = RowOutcome.HeldBack } : result)];
    }

    private static RowResult[] TakeIn(IngestBatch batch, IngestPortion portion, RegistrySnapshot registry, DateTimeOffset now)
    {
        SenderBounds? bounds = portion.Options.Bounds;
        var rules = new RecordRules(bounds is null ? registry : registry.Within(bounds.Scope), now, portion.Nearest) { OnlySource = bounds?.Source };
        batch.Expect(portion.Rows);
        return [.. portion.Rows.Select(row => batch.TakeIn(row, rules))];
    }

    private static ApprovalNews[] NewsOf(IngestBatch batch, DateTimeOffset now) =>
        [.. batch.Approvals.Select(one => ApprovalNews.Of(one.Seq, one.Unit, one.Record, now)).OfType<ApprovalNews>()];
}
