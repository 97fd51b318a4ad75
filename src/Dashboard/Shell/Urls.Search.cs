using Washwear.Dashboard.Search;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Shell;

/// <content>Links of search and of what needs whom today.</content>
public static partial class Urls
{
    /// <summary>Route of search.</summary>
    public const string SearchRoute = "/search";

    /// <summary>What a search finds.</summary>
    /// <param name="query">What is searched for; null: the page that says what can be.</param>
    /// <param name="kind">Only hits of this kind, and more of them; null: of all.</param>
    /// <returns>The address.</returns>
    public static string Search(string? query = null, SearchKind? kind = null) =>
        Query(SearchRoute, ("q", query), ("kind", kind is { } only ? SearchKindCode(only) : null));

    /// <summary>A kind of hit as addresses and the API spell it.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>Lower case.</returns>
    public static string SearchKindCode(SearchKind kind) => Snake(kind.ToString());

    /// <summary>What needs a role today.</summary>
    /// <param name="role">The role; null: everybody, whatever the reader prefers.</param>
    /// <returns>The address.</returns>
    public static string TodayOf(TodayRole? role) => Query(Today, ("for", role is { } only ? RoleCode(only) : "all"));

    /// <summary>A role as addresses and the API spell it.</summary>
    /// <param name="role">The role.</param>
    /// <returns>Lower case.</returns>
    public static string RoleCode(TodayRole role) => Snake(role.ToString());

    /// <summary>Rows that were refused at the door, of one source.</summary>
    /// <param name="source">The source.</param>
    /// <returns>The address.</returns>
    public static string RefusedRowsOf(string source) => Query(RefusedRows, ("source", source));
}
