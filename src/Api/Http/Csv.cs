using System.Globalization;
using System.Text;

namespace Washwear.Api.Http;

/// <summary>A column of a list as CSV.</summary>
/// <typeparam name="T">A row of the list.</typeparam>
/// <param name="Name">Header, the name of the JSON field where there is one.</param>
/// <param name="Value">Cell of a row: text, number, truth value, instant, date, enum or null.</param>
public sealed record CsvColumn<T>(string Name, Func<T, object?> Value);

/// <summary>What tells cells and decimals of a file apart.</summary>
/// <param name="Separator">Between two cells.</param>
/// <param name="DecimalMark">Before decimals.</param>
/// <param name="Begin">What the file begins with.</param>
public sealed record CsvForm(char Separator, char DecimalMark, string Begin)
{
    /// <summary>RFC 4180, for programs.</summary>
    public static readonly CsvForm Standard = new(',', '.', string.Empty);

    /// <summary>What a spreadsheet opens by itself where decimals have a comma: it takes semicolons between cells there, and knows UTF-8 by its
    /// mark.</summary>
    public static readonly CsvForm DecimalComma = new(';', ',', "\uFEFF");
}

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
    public static string Text<T>(IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows) => Text(columns, rows, CsvForm.Standard);

    /// <summary>Rows as CSV text.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="columns">The columns, in order.</param>
    /// <param name="rows">The rows, in order.</param>
    /// <param name="form">What tells cells and decimals apart.</param>
    public static string Text<T>(IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows, CsvForm form)
    {
        var text = new StringBuilder(form.Begin);
        text.AppendJoin(form.Separator, columns.Select(column => Quote(column.Name, form))).Append(NewLine);
        foreach (T row in rows)
        {
            text.AppendJoin(form.Separator, columns.Select(column => Quote(Cell(column.Value(row), form), form))).Append(NewLine);
        }

        return text.ToString();
    }

    /// <summary>Rows as an answer, in the form that ?decimal_mark asks for.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="request">The request.</param>
    /// <param name="columns">The columns, in order.</param>
    /// <param name="rows">The rows, in order.</param>
    public static IResult Result<T>(HttpRequest request, IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows) =>
        FormOf(request) is { } form
            ? Results.Text(Text(columns, rows, form), ContentType)
            : Problems.Invalid("decimal_mark", "choice", $"'{request.Query["decimal_mark"]}' is no mark of decimals.", "Give point or comma, or leave decimal_mark out.");

    /// <summary>The form that ?decimal_mark asks for; null: it says something else than point or comma.</summary>
    /// <param name="request">The request.</param>
    public static CsvForm? FormOf(HttpRequest request) => request.Query["decimal_mark"].ToString() switch
    {
        "" or "point" => CsvForm.Standard,
        "comma" => CsvForm.DecimalComma,
        _ => null,
    };

    private static string Cell(object? value, CsvForm form) => value switch
    {
        null => string.Empty,
        string text => Disarm(text),
        bool truth => truth ? "true" : "false",
        DateTimeOffset instant => InstantConverter.Format(instant),
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Enum name => Json.Name(name.ToString()),
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture).Replace('.', form.DecimalMark),
        _ => throw new ArgumentOutOfRangeException(nameof(value), value.GetType(), "A cell cannot hold this type."),
    };

    // The last four are the full-width forms, which some spreadsheets take as well.
    private static string Disarm(string text) =>
        text.Length > 0 && "=+-@\t\r\n\0\uFF1D\uFF0B\uFF0D\uFF20".Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;

    private static string Quote(string cell, CsvForm form) =>
        cell.AsSpan().ContainsAny(form.Separator, '"', '\r') || cell.Contains('\n', StringComparison.Ordinal) || cell.StartsWith(' ') || cell.EndsWith(' ')
            ? "\"" + cell.Replace("\"", "\"\"", StringComparison.Ordinal) + "\""
            : cell;
}
