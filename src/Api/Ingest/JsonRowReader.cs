using System.Text.Json;
using System.Text.Unicode;

namespace Washwear.Api.Ingest;

/// <summary>Reads one JSON object into a draft.</summary>
internal static class JsonRowReader
{
    /// <summary>Deepest nesting that a row may have; a record needs 3.</summary>
    public const int MaxDepth = 8;

    private const int LongestName = 64;

    private static readonly JsonReaderOptions Options = new() { MaxDepth = MaxDepth };

    /// <summary>Reads a row; whatever could be read is in the draft even when there is a problem.</summary>
    /// <param name="row">The row, UTF-8.</param>
    /// <param name="draft">Where the values go.</param>
    /// <returns>The first problem found, or null.</returns>
    public static RowProblem? Read(ReadOnlySpan<byte> row, RecordDraft draft)
    {
        draft.Clear(textOnly: false);
        if (!Utf8.IsValid(row))
        {
            return RowProblems.NotUtf8();
        }

        RowProblem? problem = null;
        try
        {
            var reader = new Utf8JsonReader(row, Options);
            reader.Read();
            if (reader.TokenType != JsonTokenType.StartObject)
            {
                return RowProblems.NotAnObject();
            }

            ReadObject(ref reader, row, draft, null, ref problem);
            reader.Read();
            return problem;
        }
        catch (JsonException error)
        {
            return error.Message.Contains("depth", StringComparison.OrdinalIgnoreCase) ? RowProblems.TooDeep(MaxDepth) : RowProblems.NotJson(error);
        }
    }

    private static void ReadObject(
        ref Utf8JsonReader reader, ReadOnlySpan<byte> row, RecordDraft draft, string? prefix, ref RowProblem? problem)
    {
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            RecordField? field = FieldOf(ref reader, prefix);
            if (field is null)
            {
                problem ??= RowProblems.UnknownField(prefix + NameForPeople(ref reader));
                reader.Skip();
                continue;
            }

            if (draft.Has(field.Value))
            {
                problem ??= RowProblems.GivenTwice(RecordFields.Name(field.Value));
            }

            reader.Read();
            ReadValue(ref reader, row, draft, field.Value, ref problem);
        }
    }

    private static void ReadValue(
        ref Utf8JsonReader reader, ReadOnlySpan<byte> row, RecordDraft draft, RecordField field, ref RowProblem? problem)
    {
        switch (reader.TokenType)
        {
            case JsonTokenType.String:
                draft.Set(field, new Slot(SlotKind.Text, TextOf(ref reader, field, ref problem)));
                break;
            case JsonTokenType.Number:
                draft.Set(field, new Slot(SlotKind.Number, null, reader.TryGetDouble(out double number) ? number : double.PositiveInfinity));
                break;
            case JsonTokenType.True:
                draft.Set(field, new Slot(SlotKind.True));
                break;
            case JsonTokenType.False:
                draft.Set(field, new Slot(SlotKind.False));
                break;
            case JsonTokenType.StartObject when field is RecordField.Removed or RecordField.Fitted:
                draft.Set(field, new Slot(SlotKind.Nested));
                ReadObject(ref reader, row, draft, RecordFields.Name(field) + ".", ref problem);
                break;
            case JsonTokenType.StartArray when RecordFields.IsList(field):
                int start = (int)reader.TokenStartIndex;
                reader.Skip();
                draft.Set(field, new Slot(SlotKind.List, System.Text.Encoding.UTF8.GetString(row[start..(int)reader.BytesConsumed])));
                break;
            case JsonTokenType.Null:
                break;
            default:
                problem ??= RecordFields.IsList(field)
                    ? RowProblems.NoList(RecordFields.Name(field), "The value is no list.")
                    : RowProblems.Nested(RecordFields.Name(field));
                reader.Skip();
                break;
        }
    }

    private static string TextOf(ref Utf8JsonReader reader, RecordField field, ref RowProblem? problem)
    {
        try
        {
            return reader.GetString()!;
        }
        catch (InvalidOperationException)
        {
            // An escape such as \ud800 names half a character.
            problem ??= RowProblems.HalfACharacter(RecordFields.Name(field));
            return string.Empty;
        }
    }

    private static RecordField? FieldOf(ref Utf8JsonReader reader, string? prefix)
    {
        int start = prefix?.Length ?? 0;
        if (reader.ValueSpan.Length + start > LongestName || reader.ValueIsEscaped)
        {
            return null;
        }

        Span<char> name = stackalloc char[LongestName];
        prefix.AsSpan().CopyTo(name);
        int length = start + reader.CopyString(name[start..]);
        var byName = RecordFields.ByName.GetAlternateLookup<ReadOnlySpan<char>>();
        return byName.TryGetValue(name[..length], out RecordField field) ? field : null;
    }

    private static string NameForPeople(ref Utf8JsonReader reader)
    {
        ReadOnlySpan<byte> name = reader.ValueSpan;
        string text = System.Text.Encoding.UTF8.GetString(name[..Math.Min(name.Length, LongestName)]);
        return name.Length > LongestName ? text + "…" : text;
    }
}
