using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Search;

/// <summary>What search says, in words; page and API say the same.</summary>
public static class SearchSentences
{
    /// <summary>What can be found, each with what it is found by.</summary>
    public static IReadOnlyList<(SearchKind Kind, string By)> Findable { get; } =
    [
        (SearchKind.Unit, "asset tag or serial number"),
        (SearchKind.Site, "code or name"),
        (SearchKind.Operator, "code or name"),
        (SearchKind.Fault, "code or a word of its text"),
        (SearchKind.Position, "code or name, such as wash pump"),
        (SearchKind.Part, "number or name"),
        (SearchKind.Visit, "how its key begins"),
    ];

    /// <summary>The kind, as a heading.</summary>
    /// <param name="kind">The kind.</param>
    public static string Heading(SearchKind kind) => kind switch
    {
        SearchKind.Unit => "Units",
        SearchKind.Site => "Kitchens",
        SearchKind.Operator => "Operators",
        SearchKind.Fault => "Fault codes",
        SearchKind.Position => "Part positions",
        SearchKind.Part => "Part numbers",
        SearchKind.Visit => "Visits",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind without a heading."),
    };

    /// <summary>The finding.</summary>
    /// <param name="query">What was searched for.</param>
    /// <param name="groups">What was found.</param>
    /// <param name="hasNearest">Whether something is spelled alike.</param>
    /// <returns>A sentence.</returns>
    public static string Finding(string query, IReadOnlyList<SearchGroup> groups, bool hasNearest)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (query.Length == 0)
        {
            return "Find a unit, a kitchen, an operator, a fault, a part or a visit.";
        }

        if (groups.Count == 0)
        {
            return "Nothing matches '" + query + "'" + (hasNearest ? "; these are spelled most alike." : ".");
        }

        string[] counted = [.. groups.Select(group => Counted(group.Kind, group.Total))];
        string all = counted.Length == 1 ? counted[0] : string.Join(", ", counted[..^1]) + " and " + counted[^1];
        return Text.Capital(all) + (groups.Sum(group => group.Total) == 1 ? " matches '" : " match '") + query + "'.";
    }

    /// <summary>Why something matches.</summary>
    /// <param name="field">What was looked at, such as serial number.</param>
    /// <param name="value">What stands there.</param>
    /// <param name="how">How it matches.</param>
    /// <param name="query">What was searched for.</param>
    /// <returns>A clause with a capital, without a full stop.</returns>
    public static string Why(string field, string value, SearchMatch how, string query) => Text.Capital(field) + how switch
    {
        SearchMatch.Exact => " is '" + value + "'",
        SearchMatch.Begins => " '" + value + "' begins with '" + query + "'",
        SearchMatch.WordBegins => " '" + value + "' has a word that begins with '" + query + "'",
        SearchMatch.Contains => " '" + value + "' contains '" + query + "'",
        SearchMatch.EachWord => " '" + value + "' and where it stands contain each word of '" + query + "'",
        SearchMatch.Near => " '" + value + "' is spelled nearly so",
        _ => throw new ArgumentOutOfRangeException(nameof(how), how, "A match without words."),
    };

    private static string Counted(SearchKind kind, int count) => kind switch
    {
        SearchKind.Unit => Text.Counted(count, "unit"),
        SearchKind.Site => Text.Counted(count, "kitchen"),
        SearchKind.Operator => Text.Counted(count, "operator"),
        SearchKind.Fault => Text.Counted(count, "fault code"),
        SearchKind.Position => Text.Counted(count, "part position"),
        SearchKind.Part => Text.Counted(count, "part number"),
        SearchKind.Visit => Text.Counted(count, "visit"),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind that cannot be counted."),
    };
}

/// <summary>How something matches, the best first.</summary>
public enum SearchMatch
{
    /// <summary>It is what was searched for.</summary>
    Exact,

    /// <summary>It begins with it.</summary>
    Begins,

    /// <summary>One of its words begins with it.</summary>
    WordBegins,

    /// <summary>It contains it.</summary>
    Contains,

    /// <summary>Each word of what was searched for is in it or in what tells where it stands.</summary>
    EachWord,

    /// <summary>It is spelled nearly so.</summary>
    Near,
}
