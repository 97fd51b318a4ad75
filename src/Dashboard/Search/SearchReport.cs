using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Search;

/// <summary>What a search found.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Query">What was searched for; empty: nothing yet.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Total">How many things match in all.</param>
/// <param name="GoesTo">Address of the one unit, kitchen, fault code or visit that is meant exactly; null: none, or more than one.</param>
/// <param name="Groups">The hits by kind; kinds without a hit are left out.</param>
/// <param name="Nearest">Where nothing matches: what is spelled most alike, nearest first.</param>
public sealed record SearchReport(
    Basis Basis,
    string Query,
    string Sentence,
    int Total,
    string? GoesTo,
    IReadOnlyList<SearchGroup> Groups,
    IReadOnlyList<SearchHit> Nearest);

/// <summary>Hits of one kind, the best first.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Total">How many there are.</param>
/// <param name="Hits">The best of them.</param>
public sealed record SearchGroup(SearchKind Kind, int Total, IReadOnlyList<SearchHit> Hits);

/// <summary>One thing found.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Code">Its asset tag, code, number or key.</param>
/// <param name="Name">What it is called: its name, its text, or where it stands.</param>
/// <param name="Why">Why it matches, in a few words.</param>
/// <param name="State">How it stands now, in a few words.</param>
/// <param name="Href">Address of its page.</param>
/// <param name="Standing">State of a unit's cleaning; null for all else, and for a unit under no rule.</param>
public sealed record SearchHit(
    SearchKind Kind, string Code, string Name, string Why, string State, string Href, CleaningState? Standing = null);

/// <summary>What can be found.</summary>
public enum SearchKind
{
    /// <summary>A unit, by asset tag or serial number.</summary>
    Unit,

    /// <summary>A kitchen, by code or name.</summary>
    Site,

    /// <summary>An operator, by code or name.</summary>
    Operator,

    /// <summary>A fault, by code or text.</summary>
    Fault,

    /// <summary>A position of a part, by code or name.</summary>
    Position,

    /// <summary>A part number, by number or name.</summary>
    Part,

    /// <summary>A visit, by key.</summary>
    Visit,
}
