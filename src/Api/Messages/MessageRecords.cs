using System.Security.Cryptography;
using System.Text;
using Washwear.Api.Ingest;

namespace Washwear.Api.Messages;

/// <summary>A row made of a message.</summary>
/// <param name="Row">The row.</param>
/// <param name="HappenedOnArrival">Whether its instant is that of the arrival, for want of another: delivered again, it would differ.</param>
internal readonly record struct MadeRow(IncomingRow Row, bool HappenedOnArrival);

/// <summary>Makes records of messages as the mapping says. Not safe for concurrent use.</summary>
/// <param name="units">Finds units.</param>
internal sealed class MessageRecords(UnitFinder units)
{
    private readonly RecordDraft _draft = new();

    /// <summary>The rows that a message becomes.</summary>
    /// <param name="read">The message.</param>
    public IReadOnlyList<MadeRow> Of(ReadMessage read)
    {
        if (read.Ready is { } ready)
        {
            return [.. ready.Select(row => new MadeRow(row, false))];
        }

        var rows = new List<MadeRow>();
        foreach (RecordResource record in read.Subscription!.Resource.Records!)
        {
            if (MakeIfReadable(rows.Count + 1, record, read) is { } row)
            {
                rows.Add(row);
            }
        }

        return rows;
    }

    // An escape such as \ud800 names half a character, which is found only when the text is read.
    private MadeRow? MakeIfReadable(int number, RecordResource record, ReadMessage read)
    {
        try
        {
            return Applies(record, read) ? Make(number, record, read) : null;
        }
        catch (InvalidOperationException)
        {
            return new MadeRow(Finish(number, read, RowProblems.HalfACharacter("payload")), false);
        }
    }

    private static bool Applies(RecordResource record, ReadMessage read) =>
        record.When is not { } when
        || (read.Values!.Read("when", when.Value with { Optional = true }, false, out _) is { } value && when.Is.Contains(value, StringComparer.Ordinal));

    private MadeRow? Make(int number, RecordResource record, ReadMessage read)
    {
        bool onArrival = record.At is null && !RecordWords.NamesItsInstant(record.Type);
        if (onArrival && read.Message.Retained)
        {
            // A message that the broker has kept for who knows how long says nothing about now.
            return null;
        }

        _draft.Clear(textOnly: true);
        Put(RecordField.Type, record.Type);
        RowProblem? problem = Unit(record, read);
        problem ??= onArrival ? null : Fill("at", RecordField.At, record.At, read);
        if (onArrival)
        {
            Put(RecordField.At, Http.InstantConverter.Format(read.Message.ArrivedAt.ToUniversalTime()));
        }

        foreach ((string name, ValueResource value) in record.Fields ?? new Dictionary<string, ValueResource>())
        {
            problem ??= Fill(name, RecordFields.ByName[name], value, read);
        }

        problem ??= Key(record, read);
        return new MadeRow(Finish(number, read, problem), onArrival);
    }

    private IncomingRow Finish(int number, ReadMessage read, RowProblem? problem)
    {
        string source = read.Subscription!.Source;
        IncomingRecord? made = problem is null ? RecordBuilder.Build(_draft, null, source, out problem) : null;
        return made is null
            ? new IncomingRow(number, null, problem, source, _draft.TextOrNull(RecordField.Key), MessageReader.Keep(read.Message), null)
            : new IncomingRow(number, made, null, source, made.Key, null, null);
    }

    private RowProblem? Fill(string name, RecordField field, ValueResource? value, ReadMessage read)
    {
        if (value is null)
        {
            return null;
        }

        string? text = read.Values!.Read(name, value, RecordWords.IsInstant(field), out RowProblem? problem);
        Put(field, text);
        return problem;
    }

    private RowProblem? Unit(RecordResource record, ReadMessage read)
    {
        if (record.Unit is not { } value)
        {
            return null;
        }

        Put(RecordField.Unit, units.AssetTag(read.Values!, value, out RowProblem? problem));
        return problem;
    }

    // The same message has the same key however often it is delivered.
    private RowProblem? Key(RecordResource record, ReadMessage read)
    {
        if (record.Key is not { Count: > 0 } parts)
        {
            Put(RecordField.Key, Hash(record.Type, read.Message));
            return null;
        }

        var values = new List<string>();
        foreach (ValueResource part in parts)
        {
            if (read.Values!.Read("key", part, false, out RowProblem? problem) is not { } value)
            {
                return problem;
            }

            values.Add(value);
        }

        Put(RecordField.Key, string.Join('/', values));
        return null;
    }

    private string Hash(string type, Message message)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        string head = string.Join('\n', type, _draft.TextOrNull(RecordField.Unit), _draft.TextOrNull(RecordField.At), message.Topic) + "\n";
        hash.AppendData(Encoding.UTF8.GetBytes(head));
        hash.AppendData(message.Payload.Span);
        return "message-" + Convert.ToHexStringLower(hash.GetHashAndReset().AsSpan(0, 16));
    }

    private void Put(RecordField field, string? text) =>
        _draft.Set(field, text is null ? default : new Slot(SlotKind.Text, text));
}
