using System.Globalization;
using NodaTime;
using Washwear.Dashboard.Import;

namespace Washwear.Api.Import.Guessing;

/// <summary>What a mapping says beside its columns: order of day and month, decimal mark, words, time zone; and what it leaves open.</summary>
/// <param name="kind">What the rows are.</param>
/// <param name="profile">The sheet.</param>
internal sealed class MappingTerms(ImportKind kind, SheetProfile profile)
{
    /// <summary>What the question for the order of day and month is about.</summary>
    public const string DateOrderAsked = "date_order";

    /// <summary>Adds what the cells prove, and the meanings of the sheet's words.</summary>
    /// <param name="mapping">The mapping.</param>
    public ImportMapping Complete(ImportMapping mapping) => mapping with
    {
        DateOrder = mapping.DateOrder ?? ProvenOrder(mapping),
        DecimalMark = mapping.DecimalMark ?? ProvenMark(mapping),
        Words = Words(mapping),
    };

    /// <summary>What is open.</summary>
    /// <param name="mapping">The mapping, completed.</param>
    public IEnumerable<ImportQuestion> Questions(ImportMapping mapping)
    {
        foreach (ImportField field in kind.Fields.Where(field => field.Required && !IsTold(mapping, field)))
        {
            yield return new ImportQuestion(
                field.Name, ImportSentences.Ask(ImportAsk.NoColumn, ("field", kind.LabelOf(field.Name)), ("help", kind.HelpOf(field))),
                $"Choose the column, or say what all rows have: fixed, {field.Name}.", Blocks: true);
        }

        if (Alternatives() is { } any && !kind.Fields.Any(field => any.Fields.Contains(field.Group) && IsTold(mapping, field)))
        {
            yield return new ImportQuestion(any.Fields[0], ImportSentences.Ask(any.Ask), any.Say, Blocks: true);
        }

        foreach (IGrouping<string, MappedColumn> twice in mapping.Columns.Where(column => column.Field is not null).GroupBy(column => column.Field!).Where(same => same.Count() > 1))
        {
            yield return new ImportQuestion(
                twice.Key, ImportSentences.Ask(ImportAsk.Twice, ("columns", ImportSentences.Both(twice.Select(column => column.Heading))), ("field", kind.LabelOf(twice.Key))),
                "Choose one of them.", Blocks: true);
        }

        if (mapping.DateOrder is null && OpenDate(mapping) is { } open)
        {
            yield return new ImportQuestion(
                DateOrderAsked, ImportSentences.Ask(ImportAsk.DateOrder, ("date", open)), "date_order: day_first or month_first.", Blocks: true);
        }

        if (mapping.DecimalMark is null && Columns(mapping, FieldRole.Number, FieldRole.Minutes).Select(column => column.Marks.Open).FirstOrDefault(text => text is not null) is { } number)
        {
            yield return new ImportQuestion("decimal_mark", ImportSentences.Ask(ImportAsk.DecimalMark, ("number", number)), "decimal_mark: point or comma.", Blocks: true);
        }

        if (mapping.TimeZone is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
        {
            yield return new ImportQuestion("time_zone", ImportSentences.Ask(ImportAsk.TimeZone, ("zone", zone)), "Write an IANA name, such as Europe/Vienna, or leave it out.", Blocks: true);
        }

        foreach (MappedWord word in mapping.Words?.Where(word => word.Value is null) ?? [])
        {
            yield return new ImportQuestion(
                word.Field, ImportSentences.Ask(ImportAsk.Word, ("word", word.Word), ("field", kind.LabelOf(word.Field))),
                $"words: {word.Field}, '{word.Word}', one of {string.Join(", ", ValuesOf(word.Field))}.", Blocks: false);
        }
    }

    /// <summary>What was decided beside the columns, and from what.</summary>
    /// <param name="mapping">The mapping, completed.</param>
    public IEnumerable<string> Notes(ImportMapping mapping)
    {
        ColumnProfile[] dates = [.. Columns(mapping, FieldRole.Moment, FieldRole.Day)];
        string? proof = mapping.DateOrder == DateOrder.MonthFirst ? Proof(dates, column => column.MonthFirst) : Proof(dates, column => column.DayFirst);
        string? against = mapping.DateOrder == DateOrder.MonthFirst ? Proof(dates, column => column.DayFirst) : Proof(dates, column => column.MonthFirst);
        if (mapping.DateOrder is { } order && (proof ?? against ?? OpenDate(mapping)) is { } example)
        {
            bool isDay = order == DateOrder.DayFirst;
            yield return proof is not null ? ImportSentences.Note(isDay ? ImportNote.DayFirstProven : ImportNote.MonthFirstProven, ("date", proof))
                : dates.Any(column => column.Points && column.OpenDate == example)
                    ? ImportSentences.Note(isDay ? ImportNote.DayFirstByPoints : ImportNote.MonthFirstByPoints, ("date", example))
                : ImportSentences.Note(isDay ? ImportNote.DayFirstSaid : ImportNote.MonthFirstSaid);
        }

        if (mapping.DateOrder is not null && proof is not null && against is not null)
        {
            yield return ImportSentences.Note(ImportNote.OtherOrder, ("date", against));
        }

        if (dates.FirstOrDefault(column => column.TrueDates > 0 && column.Dates > column.TrueDates) is { } mixed)
        {
            yield return ImportSentences.Note(ImportNote.MixedDates, ("heading", mixed.Heading));
        }

        if (dates.Select(column => column.Serial).FirstOrDefault(serial => serial is not null) is { } lost)
        {
            yield return ImportSentences.Note(
                ImportNote.SerialDates, ("number", lost.Text), ("date", lost.At.ToString("uuuu-MM-dd HH:mm", CultureInfo.InvariantCulture)));
        }

        if (dates.Length > 0 && kind is { IsRegistry: false })
        {
            yield return mapping.TimeZone is { } zone ? ImportSentences.Note(ImportNote.ZoneGiven, ("zone", zone)) : ImportSentences.Note(ImportNote.ZoneOfSite);
            yield return ImportSentences.Note(kind.Name == "wash" ? ImportNote.NoonNoEnd : ImportNote.Noon);
        }

        if (Columns(mapping, FieldRole.Number, FieldRole.Minutes).Any(column => column.Marks.Comma is not null || column.Marks.Open is not null) && mapping.DecimalMark is { } mark)
        {
            yield return ImportSentences.Note(mark == DecimalMark.Comma ? ImportNote.Comma : ImportNote.Point);
        }

        if (kind is { IsRegistry: false } && !mapping.Holds("key"))
        {
            yield return ImportSentences.Note(ImportNote.NoKey);
        }

        string[] left = [.. mapping.Columns.Where(column => column.Field is null).Select(column => ImportSentences.Quoted(column.Heading))];
        if (left.Length > 0)
        {
            yield return ImportSentences.Note(left.Length > 20 ? ImportNote.LeftOutMore : ImportNote.LeftOut, ("columns", string.Join(", ", left.Take(20))));
        }

        if (profile.Notes > 0)
        {
            yield return ImportSentences.Note(ImportNote.NoteRows, ("count", profile.Notes.ToString(CultureInfo.InvariantCulture)));
        }
    }

    private static string? Proof(IEnumerable<ColumnProfile> columns, Func<ColumnProfile, string?> of) => columns.Select(of).FirstOrDefault(text => text is not null);

    // Fields of which one at least must be told, though none alone is required.
    private (string[] Fields, ImportAsk Ask, string Say)? Alternatives() => kind.Name switch
    {
        "part_change" => (
            ["fitted", "removed", "removed.reason", "removed.failure_mode", "fitted.part_number", "fitted.batch", "fitted.supplier", "fitted.age_days", "fitted.age_washes"],
            ImportAsk.OutOrIn, "Choose columns, or say for all rows: fixed, fitted, true and fixed, removed.reason, failed or precaution."),
        "meter" => (["washes_total", "operating_hours_total"], ImportAsk.NoReading, "Choose the column of washes_total or operating_hours_total."),
        "visit" => (["arrived_at", "asked_at", "left_at"], ImportAsk.NoVisitTime, "Choose the column of arrived_at, asked_at or left_at."),
        _ => null,
    };

    private static bool IsTold(ImportMapping mapping, ImportField field) => mapping.Holds(field.Name) || mapping.FixedIn(field.Name) is not null;

    private IReadOnlyList<string> ValuesOf(string field) => kind.Find(field) is { } known ? ValueWords.ValuesOf(kind, known) : [];

    private IEnumerable<ColumnProfile> Columns(ImportMapping mapping, params FieldRole[] roles) => profile.Columns.Where(column =>
        mapping.Columns.Any(mapped => mapped.Heading == column.Heading && mapped.Field is { } name && kind.Find(name) is { } field && roles.Contains(field.Role)));

    private DateOrder? ProvenOrder(ImportMapping mapping)
    {
        ColumnProfile[] dates = [.. Columns(mapping, FieldRole.Moment, FieldRole.Day)];
        bool day = dates.Any(column => column.DayFirst is not null);
        bool month = dates.Any(column => column.MonthFirst is not null);
        return day && month ? null
            : day ? DateOrder.DayFirst
            : month ? DateOrder.MonthFirst
            : dates.Any(column => column.OpenDate is not null) && dates.All(column => column.OpenDate is null || column.Points) ? DateOrder.DayFirst
            : null;
    }

    private string? OpenDate(ImportMapping mapping) => Columns(mapping, FieldRole.Moment, FieldRole.Day).Select(column => column.OpenDate).FirstOrDefault(text => text is not null);

    private DecimalMark? ProvenMark(ImportMapping mapping)
    {
        ColumnProfile[] numbers = [.. Columns(mapping, FieldRole.Number, FieldRole.Minutes)];
        bool comma = numbers.Any(column => column.Marks.Comma is not null);
        bool point = numbers.Any(column => column.Marks.Point is not null);
        return comma == point ? null : comma ? DecimalMark.Comma : DecimalMark.Point;
    }

    private List<MappedWord> Words(ImportMapping mapping)
    {
        var words = new List<MappedWord>();
        foreach (MappedColumn mapped in mapping.Columns)
        {
            if (mapped.Field is null || kind.Find(mapped.Field) is not { Role: FieldRole.Choice or FieldRole.YesNo } field
                || profile.Columns.FirstOrDefault(one => one.Heading == mapped.Heading) is not { } column)
            {
                continue;
            }

            IReadOnlyList<string> values = ValueWords.ValuesOf(kind, field);
            words.AddRange(column.Words.OrderByDescending(pair => pair.Value).Select(pair => pair.Key).Where(word => !values.Contains(word, StringComparer.OrdinalIgnoreCase))
                .DistinctBy(Headings.Words)
                .Select(word => new MappedWord(field.Name, word, Said(mapping, field, word) ?? ValueWords.Meaning(kind, field, word))));
        }

        // Words that this sheet lacks stay known for the next one.
        words.AddRange((mapping.Words ?? []).Where(old => old.Value is not null && !words.Any(word => word.Field == old.Field && Headings.Words(word.Word) == Headings.Words(old.Word))));
        return words;
    }

    private static string? Said(ImportMapping mapping, ImportField field, string word) =>
        mapping.Words?.FirstOrDefault(one => one.Field == field.Name && Headings.Words(one.Word) == Headings.Words(word))?.Value;
}
