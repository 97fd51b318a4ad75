using System.Globalization;

namespace Washwear.Api.Http;

/// <summary>A column that a list can be sorted by.</summary>
/// <typeparam name="T">A row.</typeparam>
/// <param name="Name">Name, as an address spells it.</param>
/// <param name="Key">What a row is sorted by; null stands last in either direction.</param>
public sealed record SortColumn<T>(string Name, Func<T, IComparable?> Key);

/// <summary>Sorts lists of a page by ?sort: a column's name, with a hyphen before it for the greatest first.</summary>
/// <remarks>A sorted list is paged by place: where rows come or go between two looks, one may be seen twice or missed.</remarks>
public static class Sorting
{
    // Rows without a value are told apart before: among themselves they are alike.
    private static readonly Comparer<IComparable?> Order = Comparer<IComparable?>.Create((one, other) => (one, other) switch
    {
        (null, _) or (_, null) => 0,
        (string text, string with) => string.Compare(text, with, StringComparison.OrdinalIgnoreCase),
        _ => one.CompareTo(other),
    });

    /// <summary>Most rows that a page of the dashboard shows at once.</summary>
    public const int MostRowsOnAPage = 100;

    /// <summary>Rows that a page shows at first where each takes several lines on a phone; ?limit asks for more.</summary>
    public const int RowsOfManyLines = 25;

    /// <summary>Reads ?sort.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="request">The request.</param>
    /// <param name="columns">Columns that may be named.</param>
    /// <param name="page">The page asked for, which is told how to sort and how many rows a page may have.</param>
    /// <param name="usual">Most rows where the address does not say how many.</param>
    /// <returns>What is wrong; null: nothing.</returns>
    public static ProblemResult? Read<T>(HttpRequest request, IReadOnlyList<SortColumn<T>> columns, ref PageRequest page, int usual = MostRowsOnAPage)
    {
        page = page with { Limit = Math.Min(page.Limit, request.Query.ContainsKey("limit") ? MostRowsOnAPage : usual) };
        string given = request.Query["sort"].ToString().Trim();
        if (given.Length == 0)
        {
            return null;
        }

        bool down = given[0] == '-';
        string name = down ? given[1..] : given;
        if (!columns.Any(column => column.Name == name))
        {
            return Problems.Invalid(
                "sort",
                "choice",
                $"'{given}' is no column that this list can be sorted by.",
                $"Give one of {string.Join(", ", columns.Select(column => column.Name))}; with a hyphen before it for the greatest first.");
        }

        page = page with { SortBy = name, Descending = down };
        return null;
    }

    /// <summary>Takes a page out of rows, sorted as it was asked for.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="rows">All rows, in their usual order, which decides where two are alike.</param>
    /// <param name="columns">The columns.</param>
    /// <param name="page">The page asked for, with a column to sort by.</param>
    public static PageOf<T> Take<T>(IEnumerable<T> rows, IReadOnlyList<SortColumn<T>> columns, PageRequest page)
    {
        SortColumn<T> column = columns.First(one => one.Name == page.SortBy);
        int from = From(page);
        var keyed = rows.Select(row => (Row: row, Key: column.Key(row))).OrderBy(pair => pair.Key is null);
        var sorted = page.Descending ? keyed.ThenByDescending(pair => pair.Key, Order) : keyed.ThenBy(pair => pair.Key, Order);
        T[] taken = [.. sorted.Skip(from).Take(page.Limit + 1).Select(pair => pair.Row)];
        return taken.Length <= page.Limit
            ? new PageOf<T>(taken, null)
            : new PageOf<T>(taken[..page.Limit], Paging.Cursor((from + page.Limit).ToString(CultureInfo.InvariantCulture)));
    }

    /// <summary>How many rows of a sorted list lie before a page.</summary>
    /// <param name="page">The page.</param>
    public static int From(PageRequest page) =>
        page.After is { } after && int.TryParse(after[0], NumberStyles.None, CultureInfo.InvariantCulture, out int from) ? from : 0;
}
