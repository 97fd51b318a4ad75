using System.Text.Json;
using System.Text.Unicode;

namespace Washwear.Api.Ingest;

/// <summary>Reads one CloudEvent in JSON (structured mode, or an element of a batch) into a draft.</summary>
internal static class CloudEventReader
{
    // The event is one level around its record.
    private static readonly JsonReaderOptions Options = new() { MaxDepth = JsonRowReader.MaxDepth + 1 };

    /// <summary>Reads an event; whatever could be read of record and attributes is in the draft even when there is a problem.</summary>
    /// <param name="row">The event, UTF-8.</param>
    /// <param name="draft">Where the values go.</param>
    /// <param name="type">Type of record that the request names; null: none.</param>
    /// <param name="source">Source that the request names; null: none.</param>
    /// <returns>The first problem found, or null.</returns>
    public static RowProblem? Read(ReadOnlySpan<byte> row, RecordDraft draft, string? type, string? source)
    {
        draft.Clear(textOnly: false);
        if (!Utf8.IsValid(row))
        {
            return RowProblems.NotUtf8();
        }

        try
        {
            var reader = new Utf8JsonReader(row, Options);
            reader.Read();
            if (reader.TokenType != JsonTokenType.StartObject)
            {
                return RowProblems.NotAnObject();
            }

            var members = new Members();
            while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
            {
                members.Read(ref reader);
            }

            reader.Read();
            return Judge(members, row, draft, type, source);
        }
        catch (JsonException error)
        {
            return error.Message.Contains("depth", StringComparison.OrdinalIgnoreCase)
                ? RowProblems.TooDeep(JsonRowReader.MaxDepth) : RowProblems.NotJson(error);
        }
    }

    private static RowProblem? Judge(Members members, ReadOnlySpan<byte> row, RecordDraft draft, string? type, string? source)
    {
        ReadOnlySpan<byte> data = row[members.Data];
        bool isObject = data is [(byte)'{', ..];
        RowProblem? inside = isObject ? JsonRowReader.Read(data, draft) : null;
        RowProblem? around = members.Attributes.Complete(draft, type, source);
        return members.Problem
            ?? around
            ?? (isObject ? inside : data.IsEmpty ? CloudEventProblems.NoData() : CloudEventProblems.DataNoObject());
    }

    // Members that are not known are extension attributes, which say nothing about the record.
    private sealed class Members
    {
        private static readonly string[] Names = ["specversion", "id", "source", "type", "time", "datacontenttype"];

        private readonly string?[] _values = new string?[Names.Length];
        private bool _hasData;

        public Range Data { get; private set; }

        public RowProblem? Problem { get; private set; }

        public CloudEventAttributes Attributes => new(_values[0], _values[1], _values[2], _values[3], _values[4], _values[5]);

        public void Read(ref Utf8JsonReader reader)
        {
            int known = reader.ValueIsEscaped ? -1 : IndexOf(ref reader);
            bool isData = !reader.ValueIsEscaped && reader.ValueTextEquals("data"u8);
            bool isBase64 = !reader.ValueIsEscaped && reader.ValueTextEquals("data_base64"u8);
            reader.Read();
            if (known >= 0)
            {
                ReadText(ref reader, known);
                return;
            }

            int start = (int)reader.TokenStartIndex;
            bool isNull = reader.TokenType == JsonTokenType.Null;
            reader.Skip();
            if (isBase64 && !isNull)
            {
                Problem ??= CloudEventProblems.NotJson("data_base64");
            }
            else if (isData)
            {
                Problem ??= _hasData ? RowProblems.GivenTwice("data") : null;
                _hasData = true;
                Data = isNull ? default : start..(int)reader.BytesConsumed;
            }
        }

        private static int IndexOf(ref Utf8JsonReader reader)
        {
            for (int index = 0; index < Names.Length; index++)
            {
                if (reader.ValueTextEquals(Names[index]))
                {
                    return index;
                }
            }

            return -1;
        }

        private void ReadText(ref Utf8JsonReader reader, int index)
        {
            if (_values[index] is not null)
            {
                Problem ??= RowProblems.GivenTwice(Names[index]);
            }

            switch (reader.TokenType)
            {
                case JsonTokenType.String:
                    _values[index] = TextOf(ref reader, Names[index]);
                    break;
                case JsonTokenType.Null:
                    break;
                default:
                    Problem ??= CloudEventProblems.NotText(Names[index]);
                    reader.Skip();
                    break;
            }
        }

        private string? TextOf(ref Utf8JsonReader reader, string name)
        {
            try
            {
                return reader.GetString();
            }
            catch (InvalidOperationException)
            {
                // An escape such as \ud800 names half a character.
                Problem ??= RowProblems.HalfACharacter(name);
                return null;
            }
        }
    }
}
