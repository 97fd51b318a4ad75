using NodaTime;
using Washwear.Api.Http;
using Washwear.Api.Import.Guessing;

namespace Washwear.Api.Import;

/// <summary>What a mapping must be like before it is kept or used.</summary>
internal static class MappingRules
{
    private const int MostColumns = 512;
    private const int MostWords = 5_000;

    /// <summary>What is wrong with a mapping; empty: nothing.</summary>
    /// <param name="mapping">The mapping.</param>
    public static IReadOnlyList<FieldProblem> Check(ImportMapping mapping)
    {
        if (ImportKinds.Find(mapping.Kind) is not { } kind || kind.Name != mapping.Kind)
        {
            return [new("kind", "choice", $"'{mapping.Kind}' is no kind of rows.", $"Give one of {ImportKinds.List}.")];
        }

        var problems = new List<FieldProblem>();
        if (mapping.Columns.Count is 0 or > MostColumns || (mapping.Words?.Count ?? 0) > MostWords)
        {
            problems.Add(new("columns", "count", $"A mapping has 1 to {MostColumns} columns and at most {MostWords} words.", "Name the columns that the sheet has."));
        }

        for (int i = 0; i < mapping.Columns.Count; i++)
        {
            CheckField(FormattableString.Invariant($"columns[{i}].field"), mapping.Columns[i].Field, kind, problems);
        }

        for (int i = 0; i < (mapping.Fixed?.Count ?? 0); i++)
        {
            CheckField(FormattableString.Invariant($"fixed[{i}].field"), mapping.Fixed![i].Field, kind, problems);
            CheckValue(FormattableString.Invariant($"fixed[{i}].value"), mapping.Fixed[i].Field, mapping.Fixed[i].Value, kind, problems);
        }

        for (int i = 0; i < (mapping.Words?.Count ?? 0); i++)
        {
            CheckField(FormattableString.Invariant($"words[{i}].field"), mapping.Words![i].Field, kind, problems);
            CheckValue(FormattableString.Invariant($"words[{i}].value"), mapping.Words[i].Field, mapping.Words[i].Value, kind, problems);
        }

        if (mapping.TimeZone is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
        {
            problems.Add(new("time_zone", "time_zone", $"There is no time zone '{zone}'.", "Give an IANA name, such as Europe/Vienna, or leave it out."));
        }

        return problems;
    }

    private static void CheckField(string path, string? name, ImportKind kind, List<FieldProblem> problems)
    {
        if (name is not null && kind.Find(name) is null)
        {
            problems.Add(new(path, "unknown_field", $"{kind.Label} have no field '{name}'.", $"Give one of {string.Join(", ", kind.Fields.Select(field => field.Name))}, or null."));
        }
    }

    private static void CheckValue(string path, string name, string? value, ImportKind kind, List<FieldProblem> problems)
    {
        if (value is not null && kind.Find(name) is { } field && ValueWords.ValuesOf(kind, field) is { Count: > 0 } values && !values.Contains(value))
        {
            problems.Add(new(path, "choice", $"'{value}' is none of the values of {name}.", $"Give one of {string.Join(", ", values)}."));
        }
    }
}
