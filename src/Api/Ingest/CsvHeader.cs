using System.Text;
using System.Text.Unicode;

namespace Washwear.Api.Ingest;

/// <summary>The header of a CSV body: which column holds which field.</summary>
/// <param name="Text">The header as it came, without its line end.</param>
/// <param name="Delimiter">What separates cells: comma, semicolon or tab.</param>
/// <param name="Fields">Field of each column.</param>
internal sealed record CsvHeader(string Text, char Delimiter, IReadOnlyList<RecordField> Fields)
{
    /// <summary>Reads a header; all that is wrong with it is told at once.</summary>
    /// <param name="line">The first line of the body.</param>
    /// <param name="type">Type of all rows; null: a column tells it.</param>
    /// <exception cref="UnreadableBodyException">Rows under this header could not be understood.</exception>
    public static CsvHeader Read(RawRow line, string? type)
    {
        if (line.TooLong || !Utf8.IsValid(line.Text))
        {
            throw new UnreadableBodyException("header", "The first line is no CSV header in UTF-8.", "Send the field names as the first line, in UTF-8.");
        }

        string text = Encoding.UTF8.GetString(line.Text).TrimEnd('\r');
        char delimiter = DelimiterOf(text);
        string[] names = [.. (CsvCells.Split(text, delimiter) ?? []).Select(name => name.Trim().ToLowerInvariant())];
        RefuseUnknown(names, type);
        RefuseMissing(names, type);
        return new CsvHeader(text, delimiter, [.. names.Select(name => RecordFields.ByName[name])]);
    }

    private static char DelimiterOf(string header)
    {
        foreach (char delimiter in (ReadOnlySpan<char>)[',', ';', '\t'])
        {
            if (header.Contains(delimiter, StringComparison.Ordinal))
            {
                return delimiter;
            }
        }

        return ',';
    }

    private static void RefuseUnknown(string[] names, string? type)
    {
        string[] unknown = [.. names.Where(name =>
            !RecordFields.ByName.TryGetValue(name, out RecordField field)
            || (type is not null && (RecordFields.Allowed[type] & RecordFields.Mask(field)) == 0))];
        string[] twice = [.. names.GroupBy(name => name, StringComparer.Ordinal).Where(same => same.Count() > 1).Select(same => same.Key)];
        if (unknown.Length > 0)
        {
            throw new UnreadableBodyException(
                "unknown_column",
                $"The header names columns that are not known: {Quoted(unknown)}.",
                type is null ? "Correct the names or take the columns out." : $"Correct the names or take the columns out; {type} has: {RecordFields.ListFor(type)}.");
        }

        if (twice.Length > 0)
        {
            throw new UnreadableBodyException("column_twice", $"The header names columns twice: {Quoted(twice)}.", "Name each column once.");
        }
    }

    private static void RefuseMissing(string[] names, string? type)
    {
        string[] required = type switch
        {
            null => ["type", "key"],
            "void" => ["key", "voids", "reason"],
            "wash" => ["key", "unit", "outcome"],
            "fault" or "fault_cleared" => ["key", "unit", "code"],
            "part_change" => ["key", "unit", "position"],
            "condition" => ["key", "unit", "position", "grade"],
            _ => ["key", "unit"],
        };
        string[] missing = [.. required.Except(names, StringComparer.Ordinal)];
        if (missing.Length > 0)
        {
            throw new UnreadableBodyException(
                "missing_column",
                $"The header lacks columns: {Quoted(missing)}.",
                type is null ? "Add them, or name the type of all rows with ?type=." : "Add them.");
        }
    }

    private static string Quoted(string[] names) => string.Join(", ", names.Take(20).Select(name => $"'{(name.Length > 64 ? name[..64] : name)}'"));
}
