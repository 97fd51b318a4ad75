using System.Text.Json.Serialization;
using Washwear.Api.Import.Guessing;

namespace Washwear.Api.Import;

/// <summary>What a column of a sheet holds.</summary>
/// <param name="Heading">Its heading; a heading that comes twice has (2) behind it the second time, a column without one is 'column C'.</param>
/// <param name="Field">The field; null: the column is left out.</param>
public sealed record MappedColumn(string Heading, string? Field);

/// <summary>What a word of a sheet means.</summary>
/// <param name="Field">The field in which it stands.</param>
/// <param name="Word">The word, compared without case and accents.</param>
/// <param name="Value">The value that it stands for; null: rows with it are refused.</param>
public sealed record MappedWord(string Field, string Word, string? Value);

/// <summary>What all rows of a sheet have in a field that no column holds, or that a row leaves empty.</summary>
/// <param name="Field">The field.</param>
/// <param name="Value">The value.</param>
public sealed record FixedValue(string Field, string Value);

/// <summary>What stands before the fraction of a number.</summary>
public enum DecimalMark
{
    /// <summary>A point, as in 1,234.5.</summary>
    Point,

    /// <summary>A comma, as in 1.234,5.</summary>
    Comma,
}

/// <summary>How the rows of a sheet are read.</summary>
/// <param name="Kind">What the rows are: a type of record, such as wash, or operator, site, model or unit.</param>
/// <param name="Columns">What each column holds.</param>
/// <param name="DateOrder">Which of day and month comes first where a date leaves that open; null: such dates are refused.</param>
/// <param name="DecimalMark">What stands before the fraction of a number; null: a point, and a comma with other than three digits behind it.</param>
/// <param name="TimeZone">IANA time zone of times without an offset; null: that of the unit's site.</param>
/// <param name="Words">What the words of the sheet mean; null: only the program's own words are known.</param>
/// <param name="Fixed">What all rows have that no column holds; null: nothing.</param>
/// <param name="Sheet">Name of the sheet in a workbook; null: the first that can be seen.</param>
public sealed record ImportMapping(
    string Kind,
    IReadOnlyList<MappedColumn> Columns,
    DateOrder? DateOrder = null,
    DecimalMark? DecimalMark = null,
    string? TimeZone = null,
    IReadOnlyList<MappedWord>? Words = null,
    IReadOnlyList<FixedValue>? Fixed = null,
    string? Sheet = null)
{
    /// <summary>The value that all rows have in a field; null: none.</summary>
    /// <param name="field">The field.</param>
    public string? FixedIn(string field) => Fixed?.FirstOrDefault(one => one.Field == field)?.Value;

    /// <summary>Whether a column holds the field.</summary>
    /// <param name="field">The field.</param>
    public bool Holds(string field) => Columns.Any(column => column.Field == field);

    /// <summary>The rows' kind.</summary>
    [JsonIgnore]
    internal ImportKind KindOfRows => ImportKinds.Find(Kind) ?? throw new InvalidOperationException($"There is no kind '{Kind}'.");
}
