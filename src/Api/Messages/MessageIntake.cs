using System.Data.Common;
using Washwear.Api.Equipment;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Messages;

/// <summary>What became of a message.</summary>
/// <param name="Accepted">Records taken in.</param>
/// <param name="Duplicate">Records that had been taken in before.</param>
/// <param name="Refused">Why rows of it were refused.</param>
internal sealed record MessageOutcome(int Accepted, int Duplicate, IReadOnlyList<RowProblem> Refused);

/// <summary>What a row would become.</summary>
/// <param name="Message">Place of its message, from 0.</param>
/// <param name="Record">The record; null: none could be made.</param>
/// <param name="Problem">Why it would be refused; null: it would not.</param>
/// <param name="Doubts">What looks wrong with it.</param>
internal sealed record TriedRow(int Message, IncomingRecord? Record, RowProblem? Problem, IReadOnlyList<RowProblem> Doubts);

/// <summary>Takes messages in: reads them, makes records of them and has these judged and written. Safe for concurrent use.</summary>
/// <param name="ingest">The one way in for records.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class MessageIntake(IngestService ingest, TimeProvider clock, ILogger<MessageIntake> log)
{
    /// <summary>Takes messages in by one transaction, in their order; when this returns, everything is on disk.</summary>
    /// <param name="reader">The mapping.</param>
    /// <param name="messages">The messages.</param>
    /// <returns>What became of each.</returns>
    /// <exception cref="System.Data.Common.DbException">Nothing was taken in.</exception>
    public async Task<IReadOnlyList<MessageOutcome>> TakeInAsync(MessageReader reader, IReadOnlyList<Message> messages)
    {
        var read = new List<ReadMessage>();
        foreach (Message message in messages)
        {
            read.Add(await ReadAsync(reader, message));
        }

        var owners = new List<int>();
        IReadOnlyList<RowResult> results = await ingest.TakeInMadeRowsAsync(
            (session, registry) => MakeAsync(session, registry, read, owners), CancellationToken.None);
        ILookup<int, RowResult> byMessage = results.Select((result, index) => (result, owner: owners[index])).ToLookup(pair => pair.owner, pair => pair.result);
        return [.. messages.Select((_, index) => OutcomeOf([.. byMessage[index]]))];
    }

    /// <summary>Says what messages would become, one after the other, and leaves everything as it is.</summary>
    /// <param name="reader">The mapping.</param>
    /// <param name="messages">The messages.</param>
    public async Task<IReadOnlyList<TriedRow>> TryAsync(MessageReader reader, IReadOnlyList<Message> messages)
    {
        var read = new List<ReadMessage>();
        foreach (Message message in messages)
        {
            read.Add(await reader.ReadAsync(message));
        }

        IReadOnlyList<TriedRow> tried = [];
        try
        {
            await ingest.TakeInMadeRowsAsync(
                async (session, registry) =>
                {
                    var owners = new List<int>();
                    var rules = new RecordRules(registry, clock.GetUtcNow(), new NearestCode());
                    IReadOnlyList<IncomingRow> rows = await MakeAsync(session, registry, read, owners);
                    tried = [.. rows.Select((row, index) => Try(owners[index], row, rules))];
                    throw new OnlyTriedException();
                },
                CancellationToken.None);
        }
        catch (OnlyTriedException)
        {
            // The transaction is undone.
        }

        return tried;
    }

    private static TriedRow Try(int message, IncomingRow row, RecordRules rules)
    {
        Verdict verdict = row.Record is { } record ? rules.Check(record) : new Verdict(null, row.Problem, null);
        return new TriedRow(message, row.Record, verdict.Problem, verdict.Doubts ?? []);
    }

    private sealed class OnlyTriedException : Exception;

    [LoggerMessage(Level = LogLevel.Error, Message = "A message cannot be dealt with because of a mistake in the program; it is kept as refused.")]
    private partial void LogMistake(Exception error);

    // A message on which the program stumbles would come again and again and hold up all that follow.
    private async Task<ReadMessage> ReadAsync(MessageReader reader, Message message)
    {
        try
        {
            return await reader.ReadAsync(message);
        }
#pragma warning disable CA1031 // Told in the log; the message is kept.
        catch (Exception error)
#pragma warning restore CA1031
        {
            LogMistake(error);
            return MessageReader.Unmanageable(message);
        }
    }

    private async Task<IReadOnlyList<MadeRow>> RowsOfAsync(MessageRecords records, EquipmentRecords equipment, ReadMessage read)
    {
        try
        {
            return read.Ready is null && read.Subscription!.Resource.Payload == PayloadFormat.Equipment
                ? [.. (await equipment.OfAsync(read)).Select(row => new MadeRow(row, false))]
                : records.Of(read);
        }
#pragma warning disable CA1031 // Told in the log; the message is kept. What the database cannot do now it may do later.
        catch (Exception error) when (error is not DbException)
#pragma warning restore CA1031
        {
            LogMistake(error);
            return records.Of(MessageReader.Unmanageable(read.Message));
        }
    }

    private async Task<IReadOnlyList<IncomingRow>> MakeAsync(
        WriteSession session, RegistrySnapshot registry, List<ReadMessage> messages, List<int> owners)
    {
        var units = new UnitFinder(registry);
        var records = new MessageRecords(units);
        var equipment = new EquipmentRecords(session, units, clock.GetUtcNow());
        var rows = new List<IncomingRow>();
        var seen = new Dictionary<(string Source, string Key), DateTimeOffset>();
        owners.Clear();
        for (int index = 0; index < messages.Count; index++)
        {
            foreach (MadeRow made in await RowsOfAsync(records, equipment, messages[index]))
            {
                rows.Add(made.HappenedOnArrival && made.Row.Record is { } record ? await AsBeforeAsync(session, made.Row, record, seen) : made.Row);
                owners.Add(index);
            }
        }

        return rows;
    }

    // What came before under this key happened when it came first; the second arrival is no news.
    private static async Task<IncomingRow> AsBeforeAsync(
        WriteSession session, IncomingRow row, IncomingRecord record, Dictionary<(string Source, string Key), DateTimeOffset> seen)
    {
        if (!seen.TryGetValue((record.Source, record.Key), out DateTimeOffset first))
        {
            first = await MessageQueries.InstantAsync(session, record.Source, record.Key) ?? record.At;
            seen.Add((record.Source, record.Key), first);
        }

        return row with { Record = record with { At = first } };
    }

    private static MessageOutcome OutcomeOf(RowResult[] results) => new(
        results.Count(result => result.Outcome == RowOutcome.Accepted),
        results.Count(result => result.Outcome == RowOutcome.Duplicate),
        [.. results.Where(result => result.Outcome == RowOutcome.Refused).Select(result => result.Problem!)]);
}
