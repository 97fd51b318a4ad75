using System.Globalization;
using Washwear.Dashboard.Import;

namespace Washwear.Api.Import.Guessing;

/// <summary>Guesses what the columns of a sheet hold, from their headings and their cells. Pure: the same sheet and registry give the same
/// guess.</summary>
/// <param name="kind">What the rows are.</param>
/// <param name="profile">The sheet.</param>
/// <param name="codes">Codes of the registry.</param>
internal sealed class MappingGuesser(ImportKind kind, SheetProfile profile, CodeBook codes)
{
    private const double Most = 0.8;

    /// <summary>Makes the guess.</summary>
    /// <param name="sheet">Name of the sheet in its workbook; null: it needs none.</param>
    public Guess Make(string? sheet = null)
    {
        Dictionary<int, Candidate> chosen = Choose();
        TakeTheOnlyDates(chosen);
        var columns = new List<GuessedColumn>();
        for (int i = 0; i < profile.Columns.Count; i++)
        {
            ColumnProfile column = profile.Columns[i];
            columns.Add(chosen.TryGetValue(i, out Candidate? best)
                ? new GuessedColumn(column.Heading, column.Samples, best.Field.Name, best.Sureness, best.Why)
                : new GuessedColumn(column.Heading, column.Samples, null, Sureness.LeftOut, LeftOutBecause(column, chosen)));
        }

        return Complete(new ImportMapping(kind.Name, [.. columns.Select(column => new MappedColumn(column.Heading, column.Field))], Sheet: sheet), columns);
    }

    /// <summary>Goes by a mapping that was made before, and says what it leaves open in this sheet.</summary>
    /// <param name="mapping">The mapping.</param>
    public Guess Apply(ImportMapping mapping)
    {
        var byHeading = mapping.Columns.GroupBy(column => Key(column.Heading)).ToDictionary(same => same.Key, same => same.First());
        GuessedColumn[] columns =
        [
            .. profile.Columns.Select(column => byHeading.TryGetValue(Key(column.Heading), out MappedColumn? known)
                ? new GuessedColumn(column.Heading, column.Samples, known.Field, known.Field is null ? Sureness.LeftOut : Sureness.Sure, ImportSentences.Why(ImportWhy.MappingSays))
                : new GuessedColumn(column.Heading, column.Samples, null, Sureness.LeftOut, ImportSentences.Why(ImportWhy.MappingNamesNot))),
        ];
        ImportQuestion[] missing =
        [
            .. mapping.Columns.Where(column => column.Field is not null && !columns.Any(one => Key(one.Heading) == Key(column.Heading)))
                .Select(column => new ImportQuestion(
                    column.Field!, ImportSentences.Ask(ImportAsk.ColumnGone, ("heading", column.Heading)),
                    "Choose another mapping, or mend the heading in the sheet.", kind.Find(column.Field!)?.Required ?? false)),
        ];
        MappedColumn[] mapped = [.. columns.Select(column => new MappedColumn(column.Heading, column.Field))];
        Guess guess = Complete(mapping with { Columns = mapped }, columns);
        return guess with { Questions = [.. missing, .. guess.Questions] };
    }

    private static string Key(string heading) => Headings.Compact(Headings.Words(heading)) is { Length: > 0 } compact ? compact : heading;

    private Guess Complete(ImportMapping mapping, IReadOnlyList<GuessedColumn> columns)
    {
        var terms = new MappingTerms(kind, profile);
        ImportMapping complete = terms.Complete(mapping);
        return new Guess(complete, columns, [.. terms.Questions(complete)], [.. terms.Notes(complete)]);
    }

    // The best pairs of column and field first; a field is held by one column, a column holds one field.
    private Dictionary<int, Candidate> Choose()
    {
        var candidates = new List<(int Column, Candidate Candidate)>();
        for (int i = 0; i < profile.Columns.Count; i++)
        {
            candidates.AddRange(kind.Fields.Select(field => Judge(profile.Columns[i], field)).OfType<Candidate>().Select(one => (i, one)));
        }

        var chosen = new Dictionary<int, Candidate>();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach ((int column, Candidate one) in candidates.OrderByDescending(pair => pair.Candidate.Score).ThenBy(pair => pair.Column))
        {
            if (!chosen.ContainsKey(column) && taken.Add(one.Field.Name))
            {
                chosen.Add(column, one);
            }
        }

        return chosen;
    }

    // A sheet with one column of dates, whatever its heading, says with it when things happened.
    private void TakeTheOnlyDates(Dictionary<int, Candidate> chosen)
    {
        if (kind.When is not { Required: true } when || chosen.Values.Any(one => one.Field.Name == when.Name))
        {
            return;
        }

        int[] dates = [.. Enumerable.Range(0, profile.Columns.Count).Where(i => !chosen.ContainsKey(i) && Share(profile.Columns[i].Dates, profile.Columns[i]) >= Most)];
        if (dates.Length > 0)
        {
            chosen.Add(dates[0], new Candidate(when, 0, Sureness.Likely, ImportSentences.Why(ImportWhy.OnlyDates)));
        }
    }

    private string LeftOutBecause(ColumnProfile column, Dictionary<int, Candidate> chosen)
    {
        Candidate? would = kind.Fields.Select(field => Judge(column, field)).OfType<Candidate>().OrderByDescending(one => one.Score).FirstOrDefault();
        int? other = would is null ? null : chosen.Where(pair => pair.Value.Field.Name == would.Field.Name).Select(pair => (int?)pair.Key).FirstOrDefault();
        return column.Filled == 0 ? ImportSentences.Why(ImportWhy.Empty)
            : other is { } at ? ImportSentences.Why(ImportWhy.TakenByOther, ("field", kind.LabelOf(would!.Field.Name)), ("heading", profile.Columns[at].Heading))
            : ImportSentences.Why(ImportWhy.NothingTells);
    }

    private Candidate? Judge(ColumnProfile column, ImportField field)
    {
        int heading = HeadingWords.Score(column.Heading, field);
        (double fit, string? cells) = Fit(column, field);
        bool byCells = heading == 0 && fit >= Most && cells is not null && field.Of is not null and not "part" && (field.Required || field.Of is "unit" or "programme");
        byCells |= heading == 0 && fit >= Most && cells is not null && field is { Role: FieldRole.Choice, Required: true } && column.Words.Count is > 0 and < 20;
        if (heading == 0 && !byCells)
        {
            return null;
        }

        // Cells that cannot be what the heading says: another field with the same heading may do.
        bool contradicted = column.Filled >= 2 && fit < 0.3;
        if (contradicted && field.Role is FieldRole.Moment or FieldRole.Clock or FieldRole.Day && heading > 0 && SiblingFits(column))
        {
            return null;
        }

        double score = heading + (40 * fit) - (contradicted ? 50 : 0) + (field.Required ? 3 : 0) - (field.Role == FieldRole.Clock ? 1 : 0);
        if (score < 30)
        {
            return null;
        }

        bool sure = !contradicted && (heading >= HeadingWords.Exact || (heading >= HeadingWords.Near && cells is not null && fit >= Most));
        string why = ImportSentences.Why(heading >= HeadingWords.Exact ? ImportWhy.HeadingSays : heading > 0 ? ImportWhy.HeadingClose : ImportWhy.CellsLook);
        string? fits = contradicted ? ImportSentences.Why(ImportWhy.FewCells, ("cells", cells ?? ImportSentences.Why(ImportWhy.NoneFits))) : cells;
        return new Candidate(field, score, sure ? Sureness.Sure : Sureness.Likely, string.Join("; ", new[] { why, fits }.OfType<string>()));
    }

    private static bool SiblingFits(ColumnProfile column) => Share(column.Dates, column) >= 0.3 || Share(column.Clocks, column) >= 0.3;

    // How many of the cells can be what the field asks for, 0 to 1, and how to say it; half where cells tell nothing.
    private (double Fit, string? Words) Fit(ColumnProfile column, ImportField field)
    {
        if (column.Filled == 0)
        {
            return (0.5, null);
        }

        switch (field.Role)
        {
            case FieldRole.Moment or FieldRole.Day:
                return (Share(column.Dates, column), Counted(ImportWhy.Dates, column.Dates, column.Filled));
            case FieldRole.Clock:
                return (Share(column.Clocks, column), Counted(ImportWhy.TimesOfDay, column.Clocks, column.Filled));
            case FieldRole.Number or FieldRole.Minutes:
                int numbers = column.Numbers + (field.Role == FieldRole.Minutes ? column.Clocks : 0);
                return (Share(numbers, column), Counted(ImportWhy.Numbers, numbers, column.Filled));
            case FieldRole.YesNo or FieldRole.Choice:
                int known = column.Words.Where(pair => ValueWords.Meaning(kind, field, pair.Key) is not null).Sum(pair => pair.Value);
                return (Share(known, column), Counted(ImportWhy.KnownWords, known, column.Filled));
            case FieldRole.Code when field.Of is { } of && !(kind.IsRegistry && field.Name == kind.Name):
                int found = column.Values.Count(value => codes.Find(of, value) is not null);
                return ((double)found / column.Values.Count, Counted(ImportWhy.KnownCodes, found, column.Values.Count));
            case FieldRole.Words when column.Dates == column.Filled:
                return (0, ImportSentences.Why(ImportWhy.CellsAreDates));
            default:
                return (0.5, null);
        }
    }

    private static string Counted(ImportWhy why, int some, int all) =>
        ImportSentences.Why(why, ("some", some.ToString(CultureInfo.InvariantCulture)), ("all", all.ToString(CultureInfo.InvariantCulture)));

    private static double Share(int count, ColumnProfile column) => column.Filled == 0 ? 0 : Math.Min(1, (double)count / column.Filled);

    private sealed record Candidate(ImportField Field, double Score, Sureness Sureness, string Why);
}
