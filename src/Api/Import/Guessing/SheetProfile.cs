using System.Globalization;
using NodaTime;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import.Guessing;

/// <summary>What the cells of a column look like.</summary>
/// <param name="Heading">Heading, unique in the sheet.</param>
internal sealed class ColumnProfile(string Heading)
{
    private const int MostWords = 60;

    private readonly Dictionary<string, int> _words = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Heading, unique in the sheet.</summary>
    public string Heading { get; } = Heading;

    /// <summary>First cells that hold something.</summary>
    public List<string> Samples { get; } = [];

    /// <summary>Cells that hold something.</summary>
    public int Filled { get; private set; }

    /// <summary>Cells that can be read as a number.</summary>
    public int Numbers { get; private set; }

    /// <summary>Cells with a date, with or without a time.</summary>
    public int Dates { get; private set; }

    /// <summary>Cells with a time of day alone.</summary>
    public int Clocks { get; private set; }

    /// <summary>Dates that a spreadsheet holds as dates.</summary>
    public int TrueDates { get; private set; }

    /// <summary>First date whose two numbers leave open which is the day; null: none.</summary>
    public string? OpenDate { get; private set; }

    /// <summary>First date that proves that the day comes first.</summary>
    public string? DayFirst { get; private set; }

    /// <summary>First date that proves that the month comes first.</summary>
    public string? MonthFirst { get; private set; }

    /// <summary>Whether an open date is written with points, as only those do who write the day first.</summary>
    public bool Points { get; private set; }

    /// <summary>First number that only a decimal comma explains, and one that only a decimal point explains, and one that leaves it open.</summary>
    public (string? Comma, string? Point, string? Open) Marks { get; private set; }

    /// <summary>Different words and how often each comes; empty: too many to be a few words that stand for something.</summary>
    public IReadOnlyDictionary<string, int> Words => _words.Count > MostWords ? new Dictionary<string, int>() : _words;

    /// <summary>Different cells, the first hundreds of them.</summary>
    public HashSet<string> Values { get; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>First cell that would be a date if it stood in a column of dates, and which; null: there is none.</summary>
    public (string Text, LocalDateTime At)? Serial { get; private set; }

    /// <summary>Looks at a cell.</summary>
    /// <param name="cell">The cell.</param>
    public void Look(SheetCell cell)
    {
        if (cell.IsEmpty)
        {
            return;
        }

        Filled++;
        if (Samples.Count < 3)
        {
            Samples.Add(cell.Text.Length > 60 ? cell.Text[..60] + "…" : cell.Text);
        }

        if (Values.Count < 500)
        {
            Values.Add(cell.Text);
        }

        if (_words.Count <= MostWords && cell.Text.Length <= 60)
        {
            _words[cell.Text] = _words.GetValueOrDefault(cell.Text) + 1;
        }

        if (Serial is null && SerialDates.Read(cell, null) is { } counted)
        {
            Serial = (cell.Text, counted);
        }

        switch (cell.Kind)
        {
            case CellKind.Number:
                Numbers++;
                break;
            case CellKind.Day or CellKind.Moment:
                Dates++;
                TrueDates++;
                break;
            case CellKind.Clock:
                Clocks++;
                break;
            case CellKind.Text:
                LookAtText(cell.Text);
                break;
        }
    }

    private void LookAtText(string text)
    {
        if (NumberText.TryRead(text, null, out _) || NumberText.TryRead(text, DecimalMark.Comma, out _))
        {
            Numbers++;
            LookAtMark(text);
        }

        // Digits alone with a point are numbers, yet may be a date such as 2.3.26.
        if (!char.IsAsciiLetterOrDigit(text[0]))
        {
            return;
        }

        if (DateText.Open(text) is { } two)
        {
            Dates++;
            DateOrder? proof = DateText.OrderOf(two);
            DayFirst ??= proof == DateOrder.DayFirst ? text : null;
            MonthFirst ??= proof == DateOrder.MonthFirst ? text : null;
            OpenDate ??= proof is null && two.First != two.Second ? text : null;
            Points |= two.Mark == '.';
        }
        else if (DateText.TryRead(text, null, out WallTime wall))
        {
            Dates += wall.Date is null ? 0 : 1;
            Clocks += wall.Date is null ? 1 : 0;
        }
    }

    private void LookAtMark(string text)
    {
        DecimalMark? proof = NumberText.MarkOf(text, out bool open);
        Marks = (
            Marks.Comma ?? (proof == DecimalMark.Comma ? text : null),
            Marks.Point ?? (proof == DecimalMark.Point ? text : null),
            Marks.Open ?? (open ? text : null));
    }
}

/// <summary>What a sheet looks like: its headings, and its columns by their first rows.</summary>
/// <param name="HeadingRow">Number of the row with the headings.</param>
/// <param name="Columns">The columns.</param>
/// <param name="RowsSeen">Rows that were looked at.</param>
/// <param name="Notes">Rows that begin with # and are left out.</param>
internal sealed record SheetProfile(int HeadingRow, IReadOnlyList<ColumnProfile> Columns, int RowsSeen, int Notes)
{
    private const int RowsToLookAt = 20_000;
    private const int RowsAboveHeadings = 15;

    /// <summary>The headings.</summary>
    public IReadOnlyList<string> Headings { get; } = [.. Columns.Select(column => column.Heading)];

    /// <summary>Looks a sheet through.</summary>
    /// <param name="rows">Its rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<SheetProfile> LookAsync(IAsyncEnumerable<SheetRow> rows, CancellationToken cancellationToken)
    {
        var first = new List<SheetRow>();
        ColumnProfile[]? columns = null;
        int heading = 0;
        int seen = 0;
        int notes = 0;
        await foreach (SheetRow row in rows.WithCancellation(cancellationToken))
        {
            if (columns is null)
            {
                first.Add(row);
                if (first.Count < RowsAboveHeadings)
                {
                    continue;
                }
            }

            foreach (SheetRow one in columns is null ? Begin(first, out columns, out heading) : [row])
            {
                Look(one, columns, ref seen, ref notes);
            }

            if (seen >= RowsToLookAt)
            {
                break;
            }
        }

        if (columns is null)
        {
            foreach (SheetRow one in Begin(first, out columns, out heading))
            {
                Look(one, columns, ref seen, ref notes);
            }
        }

        return new SheetProfile(heading, columns, seen, notes);
    }

    /// <summary>The row that heads the others: of the first ones that with most cells that are known as headings, else the first with two
    /// cells of words, else the first.</summary>
    /// <param name="first">The first rows.</param>
    internal static int HeadingRowOf(IReadOnlyList<SheetRow> first)
    {
        int best = -1;
        int bestKnown = 0;
        for (int i = 0; i < first.Count; i++)
        {
            int known = first[i].Cells.Count(cell => cell.Kind == CellKind.Text && HeadingWords.IsKnown(cell.Text));
            (best, bestKnown) = known > bestKnown ? (i, known) : (best, bestKnown);
        }

        int words = first.Select((row, i) => (row, i)).FirstOrDefault(pair => pair.row.Cells.Count(cell => cell.Kind == CellKind.Text) >= 2, (null!, 0)).i;
        return bestKnown >= 2 || (bestKnown == 1 && words == 0 && best == 0) ? best : words;
    }

    private static IEnumerable<SheetRow> Begin(List<SheetRow> first, out ColumnProfile[] columns, out int heading)
    {
        int index = first.Count == 0 ? -1 : HeadingRowOf(first);
        heading = index < 0 ? 0 : first[index].Number;
        int width = first.Count == 0 ? 0 : Math.Max(first[index].Cells.Count, first.Skip(index).Max(row => row.Cells.Count));
        columns = [.. Unique(Enumerable.Range(0, width).Select(column => first[index][column].Text)).Select(name => new ColumnProfile(name))];
        return first.Skip(index + 1);
    }

    private static void Look(SheetRow row, ColumnProfile[] columns, ref int seen, ref int notes)
    {
        if (row.IsNote)
        {
            notes++;
            return;
        }

        seen++;
        for (int column = 0; column < columns.Length; column++)
        {
            columns[column].Look(row[column]);
        }
    }

    private static IEnumerable<string> Unique(IEnumerable<string> names)
    {
        var times = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        int column = 0;
        foreach (string name in names)
        {
            string heading = name.Length == 0 ? "column " + Letters(column) : name.ReplaceLineEndings(" ");
            column++;
            heading = heading.Length > 100 ? heading[..100] : heading;
            times[heading] = times.GetValueOrDefault(heading) + 1;
            yield return times[heading] == 1 ? heading : string.Create(CultureInfo.InvariantCulture, $"{heading} ({times[heading]})");
        }
    }

    private static string Letters(int column) =>
        column < 26 ? ((char)('A' + column)).ToString() : Letters((column / 26) - 1) + (char)('A' + (column % 26));
}
