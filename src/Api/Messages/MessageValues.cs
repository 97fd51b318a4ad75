using System.Globalization;
using System.Text;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.Messages;

/// <summary>What a message offers to a mapping.</summary>
/// <param name="Levels">Named levels of its topic.</param>
/// <param name="Root">Its payload as JSON; undefined if it is none.</param>
/// <param name="Text">Its payload as text.</param>
internal sealed record MessageValues(IReadOnlyDictionary<string, string> Levels, JsonElement Root, string Text)
{
    private const string AnyOther = "*";

    /// <summary>A value, as the text that a CSV cell would hold.</summary>
    /// <param name="field">Name of the field that it is for.</param>
    /// <param name="value">Where it comes from.</param>
    /// <param name="isInstant">Whether it is an instant.</param>
    /// <param name="problem">What is wrong with it.</param>
    /// <returns>The text; null: there is none, or there is a problem.</returns>
    public string? Read(string field, ValueResource value, bool isInstant, out RowProblem? problem)
    {
        string? text = Raw(value);
        problem = null;
        if (string.IsNullOrEmpty(text))
        {
            problem = value.Optional ? null : Missing(field, value);
            return null;
        }

        if (value.Map is { } map)
        {
            text = map.GetValueOrDefault(text) ?? map.GetValueOrDefault(AnyOther);
            problem = text is null && !value.Optional ? NotInMap(field, Raw(value)!) : null;
        }

        if (text is not null && value.Multiply is { } factor)
        {
            text = Number(text) is { } number ? (number * factor).ToString("R", CultureInfo.InvariantCulture) : null;
            problem = text is null ? NoNumber(field) : null;
        }

        return text is not null && isInstant ? Instant(field, text, value.Time ?? TimeForm.Iso, out problem) : text;
    }

    private static string? Instant(string field, string text, TimeForm form, out RowProblem? problem)
    {
        problem = null;
        if (form == TimeForm.Iso)
        {
            return text;
        }

        double? number = Number(text);
        double ms = form == TimeForm.EpochS ? (number ?? double.NaN) * 1000 : number ?? double.NaN;
        const double Latest = 253402300799999;
        if (ms is >= 0 and <= Latest)
        {
            return InstantConverter.Format(DateTimeOffset.FromUnixTimeMilliseconds((long)Math.Round(ms)));
        }

        problem = new(
            field, "instant", $"The value is no number of {(form == TimeForm.EpochS ? "seconds" : "milliseconds")} since 1970.",
            "Correct the value, or 'time' in the mapping: iso, epoch_s or epoch_ms.");
        return null;
    }

    private string? Raw(ValueResource value) =>
        value.Level is { } level ? Levels.GetValueOrDefault(level)
        : value.Template is { } template ? TopicTemplate.Fill(template, Levels)
        : value.Constant is { } constant ? TextOf(constant)
        : value.Path is { } path ? (JsonPointer.Find(Root, path) is { } found ? TextOf(found) : null)
        : Text.Trim();

    private static string? TextOf(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Null or JsonValueKind.Undefined => null,
        JsonValueKind.String => value.GetString(),
        _ => value.GetRawText(),
    };

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) ? number : null;

    private static RowProblem Missing(string field, ValueResource value) => new(
        field, "missing_in_message", value.Path is { } path ? $"The payload has nothing at {path}." : "The message has no such value.",
        "Send it, mend the mapping, or mark the value as optional there.");

    private static RowProblem NotInMap(string field, string text) => new(
        field, "not_in_map", $"The mapping does not say what '{Shorten(text)}' means.", "Add it to the map of this field, or '*' for any other value.");

    private static RowProblem NoNumber(string field) => new(field, "number", "The value is no number, so that it cannot be multiplied.", "Send digits with a point.");

    private static string Shorten(string text)
    {
        const int Most = 40;
        var shown = new StringBuilder(text.Length > Most ? text[..Most] + "…" : text);
        for (int index = 0; index < shown.Length; index++)
        {
            shown[index] = char.IsControl(shown[index]) ? '?' : shown[index];
        }

        return shown.ToString();
    }
}
