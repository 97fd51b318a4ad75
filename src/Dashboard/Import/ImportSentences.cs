using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Import;

/// <summary>Words on what a sheet may hold and how it was understood; page, API and templates say the same.</summary>
public static class ImportSentences
{
    private const string TimeOfDay = ".time";

    private static ImportGuessTexts Guesses => ImportGuessTexts.Now;

    private static ImportFieldTexts Names => ImportFieldTexts.Now;

    /// <summary>What rows of a kind are called, in the plural.</summary>
    /// <param name="kind">Name of the kind.</param>
    public static string Kind(string kind) => Names.Kinds.GetValueOrDefault(kind, kind);

    /// <summary>The same within a sentence.</summary>
    /// <param name="kind">Name of the kind.</param>
    public static string KindInside(string kind) => Names.KindsInside.GetValueOrDefault(kind, kind);

    /// <summary>A field's name for people.</summary>
    /// <param name="kind">Name of the kind of rows.</param>
    /// <param name="field">Name of the field.</param>
    public static string Field(string kind, string field)
    {
        ArgumentNullException.ThrowIfNull(field);
        return field.EndsWith(TimeOfDay, StringComparison.Ordinal)
            ? Fill.In(Names.TimeOfDay, ("label", Field(kind, field[..^TimeOfDay.Length])))
            : Of(kind, field)?.Label ?? field;
    }

    /// <summary>A line that explains a field.</summary>
    /// <param name="kind">Name of the kind of rows.</param>
    /// <param name="field">Name of the field.</param>
    /// <param name="isMoment">Whether it takes a date with its time.</param>
    public static string Help(string kind, string field, bool isMoment)
    {
        ArgumentNullException.ThrowIfNull(field);
        return field.EndsWith(TimeOfDay, StringComparison.Ordinal)
            ? Fill.In(Names.TimeAlone, ("what", Of(kind, field[..^TimeOfDay.Length])?.Help ?? string.Empty))
            : isMoment ? Fill.In(Names.Moment, ("what", Of(kind, field)?.Help ?? string.Empty))
            : Of(kind, field)?.Help ?? string.Empty;
    }

    /// <summary>One of the few values that a field knows.</summary>
    /// <param name="value">The value, such as stopped_by_person.</param>
    public static string Value(string value) => Names.Values.GetValueOrDefault(value) ?? Text.Words(value);

    /// <summary>Why a column is taken for a field, or for none.</summary>
    /// <param name="why">The reason.</param>
    /// <param name="values">What its text takes.</param>
    public static string Why(ImportWhy why, params (string Name, string Value)[] values) => Fill.In(Guesses.Whys[why], values);

    /// <summary>What has to be answered.</summary>
    /// <param name="ask">The question.</param>
    /// <param name="values">What its text takes.</param>
    public static string Ask(ImportAsk ask, params (string Name, string Value)[] values) => Fill.In(Guesses.Asks[ask], values);

    /// <summary>What was decided or found out.</summary>
    /// <param name="note">The note.</param>
    /// <param name="values">What its text takes.</param>
    public static string Note(ImportNote note, params (string Name, string Value)[] values) => Fill.In(Guesses.Notes[note], values);

    /// <summary>What parts the cells of a file.</summary>
    /// <param name="delimiter">The character.</param>
    public static string Separator(char delimiter) => Guesses.Separators[delimiter switch { ';' => "semicolons", '\t' => "tabs", _ => "commas" }];

    /// <summary>Words of a sheet in quotation marks.</summary>
    /// <param name="text">The words.</param>
    public static string Quoted(string text) => Fill.In(Guesses.Quoted, ("text", text));

    /// <summary>Some headings in quotation marks.</summary>
    /// <param name="headings">The headings, at least one.</param>
    public static string Both(IEnumerable<string> headings) =>
        headings.Select(Quoted).Aggregate((first, second) => Fill.In(Guesses.Both, ("first", first), ("second", second)));

    /// <summary>What would become of a sheet.</summary>
    /// <param name="rows">Its rows.</param>
    /// <param name="good">Rows that would be taken in.</param>
    /// <param name="refused">Rows that would be refused.</param>
    /// <param name="isBlocked">Whether something has to be said first.</param>
    /// <param name="kind">Name of the kind of rows.</param>
    public static string Finding(int rows, int good, int refused, bool isBlocked, string kind)
    {
        ImportFindingTexts texts = ImportTexts.Now.Finding;
        return isBlocked ? texts.Blocked.For(rows)
            : good == 0 ? texts.None.For(rows)
            : refused == 0 ? texts.All.For(rows, ("kind", KindInside(kind)))
            : texts.Some.For(rows, ("good", Text.Count(good)), ("kind", KindInside(kind)), ("refused", Text.Count(refused)));
    }

    /// <summary>A field that a column may hold, among others to choose from.</summary>
    /// <param name="kind">Name of the kind of rows.</param>
    /// <param name="field">Name of the field.</param>
    /// <param name="isRequired">Whether nothing can be taken in without it.</param>
    public static string FieldChoice(string kind, string field, bool isRequired) =>
        isRequired ? Fill.In(ImportTexts.Now.Columns.Required, ("field", Field(kind, field))) : Field(kind, field);

    /// <summary>What a code of another spelling is a code of.</summary>
    /// <param name="field">Name of the field that holds it.</param>
    internal static string CodeOf(string field) => Names.Codes.GetValueOrDefault(field) ?? Text.Words(field).ToLowerInvariant();

    private static FieldText? Of(string kind, string field) => Names.Fields.GetValueOrDefault(kind + "." + field) ?? Names.Fields.GetValueOrDefault(field);
}
