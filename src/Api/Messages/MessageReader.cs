using System.IO.Pipelines;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Unicode;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.Messages;

/// <summary>A message with what the mapping says of its topic.</summary>
/// <param name="Message">The message.</param>
/// <param name="Subscription">What becomes of it; null: nothing in the mapping is for its topic.</param>
/// <param name="Values">What it offers.</param>
/// <param name="Ready">Rows that need nothing but the message: records as they are, or one that could not be read; null: the rows are made
/// against the registry.</param>
internal sealed record ReadMessage(Message Message, Subscription? Subscription, MessageValues? Values, IReadOnlyList<IncomingRow>? Ready);

/// <summary>Reads messages, as far as that needs no database.</summary>
/// <param name="Subscriptions">The topics, in the order of the mapping: the first that fits has the message.</param>
/// <param name="MaxPayloadBytes">Longest payload, bytes.</param>
internal sealed record MessageReader(IReadOnlyList<Subscription> Subscriptions, int MaxPayloadBytes)
{
    private static readonly JsonDocumentOptions Lenient = new() { MaxDepth = 32 };

    /// <summary>Reads a message.</summary>
    /// <param name="message">The message.</param>
    public async Task<ReadMessage> ReadAsync(Message message)
    {
        foreach (Subscription subscription in Subscriptions)
        {
            if (subscription.Pattern.Match(message.Topic) is { } levels)
            {
                return message.Payload.Length > MaxPayloadBytes
                    ? Refused(message, subscription, RowProblems.TooLong(MaxPayloadBytes))
                    : subscription.Resource.Payload == PayloadFormat.Record
                        ? new ReadMessage(message, subscription, null, await RecordsAsync(message, subscription))
                        : Values(message, subscription, levels);
            }
        }

        return new ReadMessage(message, null, null, []);
    }

    /// <summary>A message that the program cannot deal with.</summary>
    /// <param name="message">The message.</param>
    public static ReadMessage Unmanageable(Message message) => new(message, null, null, [new IncomingRow(
        1, null, new RowProblem(null, "cannot_be_dealt_with", "The program made a mistake on this message; the log says more.", "Report it, and send the record by other means."),
        MappingFile.UsualSource, null, Keep(message), null)]);

    /// <summary>The message as text that can be kept: a JSON object of topic and payload.</summary>
    /// <param name="message">The message.</param>
    /// <param name="withPayload">Whether the payload is part of it.</param>
    public static byte[] Keep(Message message, bool withPayload = true)
    {
        var kept = new JsonObject { ["topic"] = message.Topic };
        if (withPayload)
        {
            kept["payload"] = AsJson(message) ?? JsonValue.Create(TextOf(message.Payload.Span) ?? "base64:" + Convert.ToBase64String(message.Payload.Span));
        }

        return Encoding.UTF8.GetBytes(kept.ToJsonString(Json.Options));
    }

    // What is not JSON, or names half a character in it, is kept as the text that it is.
    private static JsonNode? AsJson(Message message)
    {
        try
        {
            JsonNode? node = JsonNode.Parse(message.Payload.Span, null, Lenient);
            node?.ToJsonString(Json.Options);
            return node;
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException or ArgumentException)
        {
            return null;
        }
    }

    private static string? TextOf(ReadOnlySpan<byte> bytes) => Utf8.IsValid(bytes) ? Encoding.UTF8.GetString(bytes) : null;

    private static ReadMessage Refused(Message message, Subscription subscription, RowProblem problem)
    {
        Message shown = message.Payload.Length > 1024 && problem.Rule == "row_too_long" ? message with { Payload = message.Payload[..1024] } : message;
        return new(message, subscription, null, [new IncomingRow(1, null, problem, subscription.Source, null, Keep(shown), null)]);
    }

    private static ReadMessage Values(Message message, Subscription subscription, IReadOnlyDictionary<string, string> levels)
    {
        if (TextOf(message.Payload.Span) is not { } text)
        {
            return Refused(message, subscription, RowProblems.NotUtf8());
        }

        if (subscription.Resource.Payload is PayloadFormat.Number or PayloadFormat.Text)
        {
            return new ReadMessage(message, subscription, new MessageValues(levels, default, text), null);
        }

        try
        {
            using JsonDocument document = JsonDocument.Parse(message.Payload, Lenient);
            return new ReadMessage(message, subscription, new MessageValues(levels, document.RootElement.Clone(), text), null);
        }
        catch (JsonException error)
        {
            return Refused(message, subscription, RowProblems.NotJson(error));
        }
    }

    private async Task<IReadOnlyList<IncomingRow>> RecordsAsync(Message message, Subscription subscription)
    {
        var rows = new List<IncomingRow>();
        try
        {
            var body = PipeReader.Create(new System.Buffers.ReadOnlySequence<byte>(message.Payload));
            await foreach (IncomingRow row in new BodyReader(BodyFormat.Json, null, subscription.Source, MaxPayloadBytes).ReadAsync(body, CancellationToken.None))
            {
                rows.Add(row);
            }
        }
        catch (UnreadableBodyException error)
        {
            var problem = new RowProblem(null, error.Rule, error.Message, error.Mend);
            rows.Add(new IncomingRow(rows.Count + 1, null, problem, subscription.Source, null, Keep(message), null));
        }

        return rows;
    }
}
