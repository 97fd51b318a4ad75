using System.Globalization;
using System.Text;

namespace Washwear.Api.Http;

/// <summary>A column of a list as CSV.</summary>
/// <typeparam name="T">A row of the list.</typeparam>
/// <param name="Name">Header, the name of the JSON field where there is one.</param>
/// <param name="Value">Cell of a row: text, number, truth value, instant, date, enum or null.</param>
public sealed record CsvColumn<T>(string Name, Func<T, object?> Value);

/// <summary>Writes lists as RFC 4180: a header, CRLF, quotes doubled; text that a spreadsheet would run as a formula is disarmed.</summary>
public static class Csv
{
    /// <summary>Media type of a list.</summary>
    public const string ContentType = "text/csv; charset=utf-8; header=present";

    private const string NewLine = "\r\n";

    /// <summary>Rows as CSV text.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="columns">The columns, in order.</param>
    /// <param name="rows">The rows, in order.</param>
    public static string Text<T>(IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows)
    {
        var text = new StringBuilder();
        text.AppendJoin(',', columns.Select(column => Quote(column.Name))).Append(NewLine);
        foreach (T row in rows)
        {
            text.AppendJoin(',', columns.Select(column => Quote(Cell(column.Value(row))))).Append(NewLine);
        }

        return text.ToString();
    }

    /// <summary>Rows as an answer.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="columns">The columns, in order.</param>
    /// <param name="rows">The rows, in order.</param>
    public static IResult Result<T>(IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows) =>
        Results.Text(Text(columns, rows), ContentType);

    private static string Cell(object? value) => value switch
    {
        null => string.Empty,
        string text => Disarm(text),
        bool truth => truth ? "true" : "false",
        DateTimeOffset instant => InstantConverter.Format(instant),
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Enum name => Json.Name(name.ToString()),
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => throw new ArgumentOutOfRangeException(nameof(value), value.GetType(), "A cell cannot hold this type."),
    };

    // The last four are the full-width forms, which some spreadsheets take as well.
    private static string Disarm(string text) =>
        text.Length > 0 && "=+-@\t\r\n\0\uFF1D\uFF0B\uFF0D\uFF20".Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;

    private static string Quote(string cell) =>
        cell.AsSpan().ContainsAny(",\"\r\n") || cell.StartsWith(' ') || cell.EndsWith(' ')
            ? "\"" + cell.Replace("\"", "\"\"", StringComparison.Ordinal) + "\""
            : cell;
}
