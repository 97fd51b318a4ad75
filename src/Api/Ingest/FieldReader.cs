using System.Globalization;
using System.Text;
using Washwear.Api.Http;
using Washwear.Api.Registry;

namespace Washwear.Api.Ingest;

/// <summary>Takes typed values out of a draft and remembers the first thing that is wrong with them.</summary>
/// <param name="draft">The row as written.</param>
internal sealed class FieldReader(RecordDraft draft)
{
    /// <summary>Most characters of a key.</summary>
    public const int LongestKey = 200;

    private const int LongestText = 500;
    private const int LongestNote = 2000;

    /// <summary>The first problem found.</summary>
    public RowProblem? Problem { get; private set; }

    /// <summary>Notes a problem, unless there is one already.</summary>
    /// <param name="problem">The problem.</param>
    public void Refuse(RowProblem problem) => Problem ??= problem;

    /// <summary>A code, 1 to 64 printable characters.</summary>
    /// <param name="field">The field.</param>
    public string? Code(RecordField field)
    {
        string? text = Text(field, Codes.MaxLength);
        if (text is not null && !Codes.IsValid(text))
        {
            Refuse(new(
                RecordFields.Name(field), "code", "A code has no space at its ends and no control characters.", "Correct the code."));
        }

        return text;
    }

    /// <summary>A code that must be there.</summary>
    /// <param name="field">The field.</param>
    public string RequiredCode(RecordField field) => Required(field, Code(field));

    /// <summary>A key, 1 to 200 printable characters, that must be there.</summary>
    /// <param name="field">The field.</param>
    public string RequiredKey(RecordField field) => Required(field, Text(field, LongestKey));

    /// <summary>A key that may be missing.</summary>
    /// <param name="field">The field.</param>
    public string? Key(RecordField field) => Text(field, LongestKey);

    /// <summary>Words in a line, 1 to 500 printable characters.</summary>
    /// <param name="field">The field.</param>
    public string? Words(RecordField field) => Text(field, LongestText);

    /// <summary>Words that must be there.</summary>
    /// <param name="field">The field.</param>
    public string RequiredWords(RecordField field) => Required(field, Words(field));

    /// <summary>A note of several lines, 1 to 2,000 characters.</summary>
    /// <param name="field">The field.</param>
    public string? Note(RecordField field) => Text(field, LongestNote, lines: true);

    /// <summary>A list; null when there is none, or when it is empty.</summary>
    /// <typeparam name="T">What an item is.</typeparam>
    /// <param name="field">The field.</param>
    public IReadOnlyList<T>? List<T>(RecordField field)
    {
        Slot slot = draft[field];
        string name = RecordFields.Name(field);
        bool isList = slot.Kind == SlotKind.List || (draft.TextOnly && slot.Kind == SlotKind.Text);
        RowProblem? problem = slot.Kind == SlotKind.Absent || isList ? null : RowProblems.NoList(name, "The value is no list.");
        IReadOnlyList<T>? items = isList ? ListReader.Read<T>(name, slot.Text!, out problem) : null;
        if (problem is not null)
        {
            Refuse(problem);
        }

        return items;
    }

    /// <summary>One of the words of an enumeration.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="field">The field.</param>
    public T? OneOf<T>(RecordField field)
        where T : struct, Enum
    {
        string? word = Text(field, LongestText);
        if (word is null)
        {
            return null;
        }

        if (EnumText<T>.TryParse(word, out T value))
        {
            return value;
        }

        Refuse(new(RecordFields.Name(field), "unknown_word", $"'{Shorten(word)}' is none of the known words.", $"Use one of {EnumText<T>.List}."));
        return null;
    }

    /// <summary>One of the words of an enumeration, that must be there.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="field">The field.</param>
    public T RequiredOneOf<T>(RecordField field)
        where T : struct, Enum
    {
        if (!draft.Has(field))
        {
            Refuse(Missing(field, $"Give one of {EnumText<T>.List}."));
        }

        return OneOf<T>(field).GetValueOrDefault();
    }

    /// <summary>An instant, cut to the millisecond, in UTC.</summary>
    /// <param name="field">The field.</param>
    public DateTimeOffset? Instant(RecordField field)
    {
        string? text = Text(field, LongestText);
        if (text is null)
        {
            return null;
        }

        if (InstantConverter.TryParse(text, out DateTimeOffset instant))
        {
            return DateTimeOffset.FromUnixTimeMilliseconds(instant.ToUnixTimeMilliseconds());
        }

        Refuse(InstantText.LacksOffset(text)
            ? new(RecordFields.Name(field), "offset", $"'{Shorten(text)}' has no offset from UTC.", $"Write it as {InstantText.Shape}.")
            : new(RecordFields.Name(field), "instant", $"'{Shorten(text)}' is no instant.", $"Write it as {InstantText.Shape}."));
        return null;
    }

    /// <summary>The instant of the record, which some types know by a second name as well.</summary>
    /// <param name="otherName">The second name.</param>
    public DateTimeOffset At(RecordField? otherName)
    {
        DateTimeOffset? at = Instant(RecordField.At);
        DateTimeOffset? other = otherName is { } field ? Instant(field) : null;
        if (at is not null && other is not null && at != other)
        {
            Refuse(new("at", "two_instants", $"at and {RecordFields.Name(otherName!.Value)} are the same thing but differ.", "Give one of them."));
        }

        if ((at ?? other) is null)
        {
            Refuse(Missing(otherName ?? RecordField.At, $"Say when, as {InstantText.Shape}."));
        }

        return (at ?? other).GetValueOrDefault();
    }

    /// <summary>A number; whether it is finite and not negative is for the rules to say.</summary>
    /// <param name="field">The field.</param>
    public double? Number(RecordField field)
    {
        Slot slot = draft[field];
        double number = slot.Number;
        bool isNumber = slot.Kind == SlotKind.Number
            || (draft.TextOnly && slot.Kind == SlotKind.Text
                && double.TryParse(slot.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out number));
        if (slot.Kind == SlotKind.Absent)
        {
            return null;
        }

        string name = RecordFields.Name(field);
        if (!isNumber)
        {
            Refuse(new(name, "number", $"'{Shorten(slot.Text ?? "true or false")}' is no number.", "Write digits with a point, without quotes in JSON, such as 12.5."));
        }

        // Adding zero turns a negative zero into a plain one, so that both are the same content.
        return number + 0.0;
    }

    /// <summary>Yes or no.</summary>
    /// <param name="field">The field.</param>
    public bool? YesOrNo(RecordField field)
    {
        Slot slot = draft[field];
        switch (slot.Kind)
        {
            case SlotKind.Absent:
                return null;
            case SlotKind.True or SlotKind.Nested:
                return true;
            case SlotKind.False:
                return false;
            case SlotKind.Text when draft.TextOnly && bool.TryParse(slot.Text, out bool value):
                return value;
            default:
                Refuse(new(RecordFields.Name(field), "true_or_false", "The value is neither true nor false.", "Write true or false, without quotes in JSON."));
                return null;
        }
    }

    private static RowProblem Missing(RecordField field, string mend) =>
        new(RecordFields.Name(field), "missing", $"The field '{RecordFields.Name(field)}' is missing.", mend);

    private static bool IsPrintable(string text, bool lines)
    {
        foreach (char character in text)
        {
            if ((char.IsControl(character) && !(lines && character is '\n' or '\r' or '\t')) || character is '\u2028' or '\u2029' or '\uFEFF')
            {
                return false;
            }
        }

        return !text.Contains('\uFFFD', StringComparison.Ordinal) && !string.IsNullOrWhiteSpace(text);
    }

    private static string Shorten(string text)
    {
        const int Longest = 60;
        var shown = new StringBuilder();
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (shown.Length >= Longest)
            {
                return shown.Append('…').ToString();
            }

            shown.Append(Rune.IsControl(rune) ? "?" : rune.ToString());
        }

        return shown.ToString();
    }

    private string Required(RecordField field, string? text)
    {
        if (text is null)
        {
            Refuse(Missing(field, "Give the field a value."));
        }

        return text ?? string.Empty;
    }

    private string? Text(RecordField field, int longest, bool lines = false)
    {
        Slot slot = draft[field];
        string name = RecordFields.Name(field);
        switch (slot.Kind)
        {
            case SlotKind.Absent:
                return null;
            case not SlotKind.Text:
                Refuse(new(name, "text", "The value is no text.", "Put it between double quotes."));
                return null;
        }

        string text = slot.Text!;
        if (text.Length > longest)
        {
            Refuse(new(name, "too_long", $"The text has {text.Length} characters; {longest} are allowed.", "Shorten it."));
        }
        else if (!IsPrintable(text, lines))
        {
            Refuse(new(name, "printable", "The text is blank or holds characters that cannot be printed.", "Take them out."));
        }

        return text;
    }
}
