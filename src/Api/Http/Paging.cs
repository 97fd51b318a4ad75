using System.Buffers.Text;
using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Http.Extensions;
using Microsoft.Extensions.Primitives;

namespace Washwear.Api.Http;

/// <summary>One page of a list.</summary>
/// <typeparam name="T">A row.</typeparam>
/// <param name="Items">The rows.</param>
/// <param name="Next">Opaque cursor of the next page, to be sent as after; null on the last.</param>
public sealed record PageOf<T>(IReadOnlyList<T> Items, string? Next);

/// <summary>Which page was asked for.</summary>
/// <param name="Limit">Most rows wanted.</param>
/// <param name="After">Sort key of the last row that the caller has, in its parts; null: from the start.</param>
public sealed record PageRequest(int Limit, IReadOnlyList<string>? After)
{
    /// <summary>Column to sort by; null: the usual order.</summary>
    public string? SortBy { get; init; }

    /// <summary>Whether the greatest stands first.</summary>
    public bool Descending { get; init; }
}

/// <summary>Keyset paging: a cursor names the last row seen, so that rows that come or go shift nothing.</summary>
public static class Paging
{
    private const char Separator = '\u001f';

    /// <summary>Reads ?limit and ?after.</summary>
    /// <param name="request">The request.</param>
    /// <param name="settings">Usual and largest page.</param>
    /// <param name="keyParts">How many parts the sort key has.</param>
    /// <param name="page">The page asked for.</param>
    /// <returns>What is wrong; null: nothing.</returns>
    public static ProblemResult? Read(HttpRequest request, Settings settings, int keyParts, out PageRequest page)
    {
        page = new PageRequest(settings.PageRows, null);
        string limitText = request.Query["limit"].ToString();
        int limit = settings.PageRows;
        if (limitText.Length > 0
            && !(int.TryParse(limitText, NumberStyles.None, CultureInfo.InvariantCulture, out limit) && limit >= 1 && limit <= settings.PageRowsMax))
        {
            string range = FormattableString.Invariant($"a whole number from 1 to {settings.PageRowsMax}");
            return Problems.Invalid("limit", "range", $"'{limitText}' is not {range}.", $"Give {range}, or leave limit out.");
        }

        string after = request.Query["after"].ToString();
        if (after.Length == 0)
        {
            page = new PageRequest(limit, null);
            return null;
        }

        string[]? parts = Decode(after, keyParts);
        if (parts?.Length != keyParts)
        {
            return Problems.Invalid(
                "after", "cursor", "This is no cursor of this list.", "Send the cursor that the page before gave, or leave after out.");
        }

        page = new PageRequest(limit, parts);
        return null;
    }

    /// <summary>Makes the cursor of a row.</summary>
    /// <param name="key">Its sort key, in its parts.</param>
    public static string Cursor(params string[] key) => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(string.Join(Separator, key)));

    /// <summary>Takes a page out of rows that are in order already, starting behind the cursor.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="rows">All rows, in ascending ordinal order of their key.</param>
    /// <param name="key">Sort key of a row.</param>
    /// <param name="page">The page asked for.</param>
    public static PageOf<T> Take<T>(IEnumerable<T> rows, Func<T, string> key, PageRequest page)
    {
        IEnumerable<T> rest = page.After is { } after ? rows.Where(row => string.CompareOrdinal(key(row), after[0]) > 0) : rows;
        List<T> taken = [.. rest.Take(page.Limit + 1)];
        return Trim(taken, row => [key(row)], page);
    }

    /// <summary>Takes a page out of rows that are in order already, making the keys of few rows only.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="rows">All rows, in ascending ordinal order of their key.</param>
    /// <param name="key">Sort key of a row.</param>
    /// <param name="page">The page asked for.</param>
    public static PageOf<T> TakeSorted<T>(IReadOnlyList<T> rows, Func<T, string> key, PageRequest page)
    {
        int first = 0;
        int behind = page.After is null ? 0 : rows.Count;
        while (first < behind)
        {
            int middle = first + ((behind - first) / 2);
            (first, behind) = string.CompareOrdinal(key(rows[middle]), page.After![0]) > 0 ? (first, middle) : (middle + 1, behind);
        }

        return Trim([.. rows.Skip(first).Take(page.Limit + 1)], row => [key(row)], page);
    }

    /// <summary>Makes a page of rows that were read with one row more than the limit.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="rows">Up to limit + 1 rows.</param>
    /// <param name="key">Sort key of a row, in its parts.</param>
    /// <param name="page">The page asked for.</param>
    public static PageOf<T> Trim<T>(IReadOnlyList<T> rows, Func<T, string[]> key, PageRequest page) => rows.Count <= page.Limit
        ? new PageOf<T>(rows, null)
        : new PageOf<T>([.. rows.Take(page.Limit)], Cursor(key(rows[page.Limit - 1])));

    /// <summary>Says in the Link header (RFC 8288) where the next page is.</summary>
    /// <param name="context">The request.</param>
    /// <param name="next">Cursor of the next page; null: this is the last.</param>
    public static void LinkNext(HttpContext context, string? next)
    {
        if (next is null)
        {
            return;
        }

        IEnumerable<KeyValuePair<string, StringValues>> kept = context.Request.Query.Where(pair => pair.Key != "after");
        QueryString query = new QueryBuilder(kept) { { "after", next } }.ToQueryString();
        context.Response.Headers.Append("Link", $"<{context.Request.PathBase}{context.Request.Path.ToUriComponent()}{query}>; rel=\"next\"");
    }

    // A key of one part is never cut: it may hold the separator itself, between what it is put together from.
    private static string[]? Decode(string cursor, int keyParts)
    {
        try
        {
            return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(Base64Url.DecodeFromChars(cursor)).Split(Separator, keyParts == 1 ? 1 : int.MaxValue);
        }
        catch (Exception error) when (error is FormatException or ArgumentException)
        {
            return null;
        }
    }
}
