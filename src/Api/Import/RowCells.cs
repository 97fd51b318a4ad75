using System.Globalization;
using NodaTime;
using Washwear.Api.Import.Guessing;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import;

/// <summary>A spelling of a code that is not the registry's own, and the code that it was taken for.</summary>
/// <param name="Field">The field.</param>
/// <param name="Spelling">How the sheet spells it.</param>
/// <param name="Code">The code.</param>
public sealed record Respelled(string Field, string Spelling, string Code);

/// <summary>Reads the cells of one row after the other by a mapping. Not safe for concurrent use.</summary>
internal sealed class RowCells
{
    private const int MostRespelled = 200;
    private static readonly char[] ListMarks = [',', ';', '/', '|', '\n', ' '];
    private static readonly char[] PhraseMarks = [',', ';', '|', '\n'];

    private readonly ImportMapping _mapping;
    private readonly CodeBook _codes;
    private readonly (ImportField Field, int Column)[] _columns;
    private readonly Dictionary<(string Field, string Word), string?> _words = [];
    private readonly Dictionary<(string Field, string Spelling), Respelled> _respelled = [];
    private SheetRow _row = new(0, []);

    /// <summary>Begins.</summary>
    /// <param name="mapping">The mapping.</param>
    /// <param name="headings">Headings of the sheet, unique.</param>
    /// <param name="codes">Codes of the registry.</param>
    public RowCells(ImportMapping mapping, IReadOnlyList<string> headings, CodeBook codes)
    {
        (_mapping, _codes, Kind) = (mapping, codes, mapping.KindOfRows);
        var columns = new List<(ImportField, int)>();
        for (int column = 0; column < headings.Count; column++)
        {
            if (mapping.Columns.FirstOrDefault(mapped => mapped.Heading == headings[column])?.Field is { } name && Kind.Find(name) is { } field)
            {
                columns.Add((field, column));
            }
        }

        _columns = [.. columns];
        foreach (MappedWord word in mapping.Words ?? [])
        {
            _words.TryAdd((word.Field, Headings.Words(word.Word)), word.Value);
        }
    }

    /// <summary>What the rows are.</summary>
    public ImportKind Kind { get; }

    /// <summary>Fields that a column holds.</summary>
    public IEnumerable<ImportField> Held => _columns.Select(pair => pair.Field);

    /// <summary>Spellings that were taken for codes so far.</summary>
    public IReadOnlyCollection<Respelled> Respelled => _respelled.Values;

    /// <summary>The first thing wrong with the row.</summary>
    public RowProblem? Problem { get; private set; }

    /// <summary>Zone of wall times, where the mapping names one.</summary>
    public DateTimeZone? Zone { get; init; }

    /// <summary>Goes on to a row.</summary>
    /// <param name="row">The row.</param>
    public void Begin(SheetRow row)
    {
        _row = row;
        Problem = row.Problem is { } broken ? new RowProblem(null, "row", broken, "Mend the row in the file.") : null;
        foreach ((ImportField field, int column) in _columns)
        {
            if (row[column].Kind == CellKind.Error)
            {
                Refuse(field, "formula", $"The formula in the cell came to {row[column].Text}.", "Mend the formula, or write the value.");
            }
        }
    }

    /// <summary>The cell of a field, empty where no column holds it.</summary>
    /// <param name="field">The field.</param>
    public SheetCell Cell(string field)
    {
        foreach ((ImportField held, int column) in _columns)
        {
            if (held.Name == field)
            {
                return _row[column];
            }
        }

        return SheetCell.Empty;
    }

    /// <summary>What a field says, as records and the registry have it; null: nothing. Instants are not read here.</summary>
    /// <param name="field">The field.</param>
    /// <param name="model">Model whose codes count.</param>
    public string? Text(ImportField field, ModelEntry? model)
    {
        SheetCell cell = Cell(field.Name);
        if (cell.IsEmpty || cell.Kind == CellKind.Error)
        {
            return _mapping.FixedIn(field.Name);
        }

        return field.Role switch
        {
            FieldRole.Code when field.Of is { } of && !(Kind.IsRegistry && field.Name == Kind.Name) => Code(field, of, cell.Text, model),
            FieldRole.Number => Number(field, cell),
            FieldRole.YesNo or FieldRole.Choice => Word(field, cell),
            FieldRole.Day => Day(field, cell),
            FieldRole.Clock => Clock(field, cell)?.ToString("HH:mm", CultureInfo.InvariantCulture),
            _ => cell.Text,
        };
    }

    /// <summary>The codes or phrases of a cell that holds several.</summary>
    /// <param name="field">The field.</param>
    /// <param name="model">Model whose codes count.</param>
    public IReadOnlyList<string> Several(ImportField field, ModelEntry? model) => Cell(field.Name) is { IsEmpty: false } cell
        ? [.. cell.Text.Split(field.Of is not null || field.Name == "weekdays" ? ListMarks : PhraseMarks, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .Select(one => field.Of is { } of ? Code(field, of, one, model) : one)]
        : [];

    /// <summary>The code that a spelling means, else the spelling itself.</summary>
    /// <param name="field">The field.</param>
    /// <param name="of">Kind of code.</param>
    /// <param name="spelling">The spelling.</param>
    /// <param name="model">Model whose codes count.</param>
    public string Code(ImportField field, string of, string spelling, ModelEntry? model)
    {
        string? code = _codes.Find(of, spelling, model);
        if (code is not null && !string.Equals(code, spelling, StringComparison.OrdinalIgnoreCase) && _respelled.Count < MostRespelled)
        {
            _respelled.TryAdd((field.Name, spelling), new Respelled(field.Name, spelling, code));
        }

        return code ?? spelling;
    }

    /// <summary>The date and time of a field with its companion columns; null: nothing is told, or it cannot be read.</summary>
    /// <param name="field">The field of the date.</param>
    public WallTime? Moment(ImportField field)
    {
        SheetCell cell = Cell(field.Name);
        SheetCell clock = Cell(field.Name + ".time");
        LocalTime? time = clock.IsEmpty ? null : Clock(Kind.Find(field.Name + ".time")!, clock);
        if (cell.IsEmpty)
        {
            return time is null ? null : new WallTime(null, time, null);
        }

        WallTime wall;
        switch (cell.Kind)
        {
            case CellKind.Day:
                wall = new WallTime(cell.At.Date, null, null);
                break;
            case CellKind.Moment:
                wall = new WallTime(cell.At.Date, cell.At.TimeOfDay, null);
                break;
            case CellKind.Clock:
                wall = new WallTime(null, cell.At.TimeOfDay, null);
                break;
            default:
                if (SerialDates.Read(cell, _mapping.DecimalMark) is { } counted)
                {
                    wall = new WallTime(counted.Date, counted.TimeOfDay == LocalTime.Midnight ? null : counted.TimeOfDay, null);
                    break;
                }

                if (!DateText.TryRead(cell.Text, _mapping.DateOrder, out wall))
                {
                    RefuseDate(field, cell.Text);
                    return null;
                }

                break;
        }

        return time is null ? wall : wall with { Time = time };
    }

    /// <summary>Minutes of a field; null: nothing is told, or it cannot be read.</summary>
    /// <param name="name">Name of the field.</param>
    public double? MinutesOf(string name)
    {
        SheetCell cell = Cell(name);
        if (cell.IsEmpty || Kind.Find(name) is not { } field)
        {
            return null;
        }

        if (cell.Kind is CellKind.Clock or CellKind.Moment)
        {
            return cell.Number * 24 * 60;
        }

        string text = cell.Text.ToLowerInvariant().Replace("min", string.Empty, StringComparison.Ordinal).Replace("utes", string.Empty, StringComparison.Ordinal).TrimEnd('.', ' ', '\'', 's', 'n', 'e', 'u', 't');
        if (text.Contains(':', StringComparison.Ordinal) && DateText.TryRead(text, null, out WallTime wall) && wall is { Date: null, Time: { } length })
        {
            return (length.Hour * 60) + length.Minute + (length.Second / 60.0);
        }

        if (NumberText.TryRead(text, _mapping.DecimalMark, out double minutes) && minutes >= 0)
        {
            return minutes;
        }

        Refuse(field, "minutes", $"'{Short(cell.Text)}' is no length of time.", "Write minutes, such as 95, or hours and minutes, such as 1:35.");
        return null;
    }

    /// <summary>Notes a problem, unless there is one already.</summary>
    /// <param name="field">The field.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="detail">What was found.</param>
    /// <param name="mend">What to do.</param>
    public void Refuse(ImportField field, string rule, string detail, string mend) => Problem ??= new RowProblem(field.Group, rule, detail, mend);

    /// <summary>The beginning of a text, for people.</summary>
    /// <param name="text">The text.</param>
    public static string Short(string text) => text.Length > 60 ? text[..60] + "…" : text;

    private string? Number(ImportField field, SheetCell cell)
    {
        double number = cell.Number;
        if (cell.Kind is not (CellKind.Number or CellKind.YesNo) && !NumberText.TryRead(cell.Text, _mapping.DecimalMark, out number))
        {
            Refuse(field, "number", $"'{Short(cell.Text)}' is no number.", "Write digits alone, without a unit of measure; leave the cell empty if nobody knows.");
            return cell.Text;
        }

        return number.ToString("R", CultureInfo.InvariantCulture);
    }

    private string Word(ImportField field, SheetCell cell)
    {
        string plain = Headings.Words(cell.Text);
        if (_words.TryGetValue((field.Name, plain), out string? value) && value is not null)
        {
            return value;
        }

        IReadOnlyList<string> values = ValueWords.ValuesOf(Kind, field);
        string? own = values.FirstOrDefault(one => string.Equals(one, cell.Text, StringComparison.OrdinalIgnoreCase));
        if (own is null)
        {
            Refuse(field, "unknown_word", $"Nobody said what '{Short(cell.Text)}' means.", $"Say which of {string.Join(", ", values)} it is, in the mapping or in the sheet.");
        }

        return own ?? cell.Text;
    }

    private string? Day(ImportField field, SheetCell cell)
    {
        LocalDate? day = cell.Kind is CellKind.Day or CellKind.Moment ? cell.At.Date
            : SerialDates.Read(cell, _mapping.DecimalMark)?.Date
                ?? (DateText.TryRead(cell.Text, _mapping.DateOrder, out WallTime wall) ? wall.Date : null);
        if (day is null)
        {
            RefuseDate(field, cell.Text);
        }

        return day?.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture) ?? cell.Text;
    }

    private LocalTime? Clock(ImportField field, SheetCell cell)
    {
        if (cell.Kind is CellKind.Clock or CellKind.Moment)
        {
            return cell.At.TimeOfDay;
        }

        if (SerialDates.Clock(cell) is { } share)
        {
            return share;
        }

        if (cell.Kind == CellKind.Text && DateText.TryRead(cell.Text, _mapping.DateOrder, out WallTime wall) && wall.Time is { } time)
        {
            return time;
        }

        Refuse(field, "time_of_day", $"'{Short(cell.Text)}' is no time of day.", "Write hours and minutes, such as 22:15.");
        return null;
    }

    private void RefuseDate(ImportField field, string text)
    {
        if (_mapping.DateOrder is null && DateText.Open(text) is not null && DateText.TryRead(text, DateOrder.DayFirst, out _))
        {
            Refuse(field, "day_month_order", $"In '{Short(text)}' either number may be the day.", "Say for the whole sheet which comes first, or write 2026-12-31.");
        }
        else
        {
            Refuse(field, "date", $"'{Short(text)}' is no date.", "Write it as 2026-12-31 22:15, or give the cell a date format.");
        }
    }
}
