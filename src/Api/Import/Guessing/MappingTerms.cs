using NodaTime;

namespace Washwear.Api.Import.Guessing;

/// <summary>What a mapping says beside its columns: order of day and month, decimal mark, words, time zone; and what it leaves open.</summary>
/// <param name="kind">What the rows are.</param>
/// <param name="profile">The sheet.</param>
internal sealed class MappingTerms(ImportKind kind, SheetProfile profile)
{
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
                field.Name, $"No column holds {field.Label}. {field.Help}", $"Choose the column, or say what all rows have: fixed, {field.Name}.", Blocks: true);
        }

        if (Alternatives() is { } any && !kind.Fields.Any(field => any.Fields.Contains(field.Group) && IsTold(mapping, field)))
        {
            yield return new ImportQuestion(any.Fields[0], any.Text, any.Say, Blocks: true);
        }

        foreach (IGrouping<string, MappedColumn> twice in mapping.Columns.Where(column => column.Field is not null).GroupBy(column => column.Field!).Where(same => same.Count() > 1))
        {
            yield return new ImportQuestion(
                twice.Key, $"{string.Join(" and ", twice.Select(column => $"'{column.Heading}'"))} are both {LabelOf(twice.Key)}.", "Choose one of them.", Blocks: true);
        }

        if (mapping.DateOrder is null && OpenDate(mapping) is { } open)
        {
            yield return new ImportQuestion(
                "date_order", $"In '{open}', which comes first: the day or the month? No date of the sheet decides it.", "date_order: day_first or month_first.", Blocks: true);
        }

        if (mapping.DecimalMark is null && Columns(mapping, FieldRole.Number, FieldRole.Minutes).Select(column => column.Marks.Open).FirstOrDefault(text => text is not null) is { } number)
        {
            yield return new ImportQuestion("decimal_mark", $"Is '{number}' more than a thousand, or a number with a fraction?", "decimal_mark: point or comma.", Blocks: true);
        }

        if (mapping.TimeZone is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
        {
            yield return new ImportQuestion("time_zone", $"There is no time zone '{zone}'.", "Write an IANA name, such as Europe/Vienna, or leave it out.", Blocks: true);
        }

        foreach (MappedWord word in mapping.Words?.Where(word => word.Value is null) ?? [])
        {
            yield return new ImportQuestion(
                word.Field, $"What does '{word.Word}' mean as {LabelOf(word.Field)}? Rows with it are refused.", $"words: {word.Field}, '{word.Word}', one of {string.Join(", ", ValuesOf(word.Field))}.", Blocks: false);
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
            string first = order == DateOrder.DayFirst ? "day" : "month";
            yield return proof is not null ? $"Dates: the {first} comes first, as '{proof}' proves."
                : dates.Any(column => column.Points && column.OpenDate == example) ? $"Dates: the {first} comes first, as dates with points such as '{example}' are written."
                : $"Dates: the {first} comes first, as was said.";
        }

        if (mapping.DateOrder is not null && proof is not null && against is not null)
        {
            yield return $"Mind: '{against}' has it the other way round; dates with a number above 12 are read as they must be, the others by the order above.";
        }

        if (dates.FirstOrDefault(column => column.TrueDates > 0 && column.Dates > column.TrueDates) is { } mixed)
        {
            yield return $"Mind: some cells of '{mixed.Heading}' are dates and others are text. A spreadsheet may have swapped day and month in those that became dates; look at the rows below.";
        }

        if (dates.Length > 0 && kind is { IsRegistry: false })
        {
            yield return mapping.TimeZone is { } zone ? $"Times without an offset are taken as those of {zone}." : "Times without an offset are taken as wall times of the unit's own site.";
            yield return "A date without a time of day is taken as noon" + (kind.Name == "wash" ? "; an end without one is left out." : ".");
        }

        if (Columns(mapping, FieldRole.Number, FieldRole.Minutes).Any(column => column.Marks.Comma is not null || column.Marks.Open is not null) && mapping.DecimalMark is { } mark)
        {
            yield return mark == DecimalMark.Comma ? "Numbers: a comma stands before the fraction." : "Numbers: a point stands before the fraction.";
        }

        if (kind is { IsRegistry: false } && !mapping.Holds("key"))
        {
            yield return "No column holds a key of yours; one is made from each row's content, so sending the sheet again gives duplicates, never twins.";
        }

        string[] left = [.. mapping.Columns.Where(column => column.Field is null).Select(column => $"'{column.Heading}'")];
        if (left.Length > 0)
        {
            yield return $"Left out: {string.Join(", ", left.Take(20))}{(left.Length > 20 ? " and others" : string.Empty)}.";
        }

        if (profile.Notes > 0)
        {
            yield return $"Rows whose first cell begins with # are notes to people and left out ({profile.Notes} so far).";
        }
    }

    private static string? Proof(IEnumerable<ColumnProfile> columns, Func<ColumnProfile, string?> of) => columns.Select(of).FirstOrDefault(text => text is not null);

    // Fields of which one at least must be told, though none alone is required.
    private (string[] Fields, string Text, string Say)? Alternatives() => kind.Name switch
    {
        "part_change" => (
            ["fitted", "removed", "removed.reason", "removed.failure_mode", "fitted.part_number", "fitted.batch", "fitted.supplier", "fitted.age_days", "fitted.age_washes"],
            "Nothing says whether a part was taken out or put in.", "Choose columns, or say for all rows: fixed, fitted, true and fixed, removed.reason, failed or precaution."),
        "meter" => (["washes_total", "operating_hours_total"], "No column holds a reading.", "Choose the column of washes_total or operating_hours_total."),
        "visit" => (["arrived_at", "asked_at", "left_at"], "No column says when the visit was.", "Choose the column of arrived_at, asked_at or left_at."),
        _ => null,
    };

    private static bool IsTold(ImportMapping mapping, ImportField field) => mapping.Holds(field.Name) || mapping.FixedIn(field.Name) is not null;

    private string LabelOf(string field) => kind.Find(field)?.Label ?? field;

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
