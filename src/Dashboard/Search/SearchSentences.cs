using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Search;

/// <summary>What search says, in words; page and API say the same.</summary>
public static class SearchSentences
{
    private static SearchTexts Texts => SearchTexts.Now;

    private static SearchStateTexts States => SearchTexts.Now.States;

    /// <summary>The kind, as a heading.</summary>
    /// <param name="kind">The kind.</param>
    public static string Heading(SearchKind kind) => Texts.Headings[kind];

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
            return Texts.NothingAsked;
        }

        if (groups.Count == 0)
        {
            return Fill.In(hasNearest ? Texts.NothingMatchesBut : Texts.NothingMatches, ("query", query));
        }

        string[] counted = [.. groups.Select(group => Texts.Counted[group.Kind].For(group.Total))];
        string all = counted.Length == 1 ? counted[0] : Fill.In(Texts.And, ("all", string.Join(", ", counted[..^1])), ("last", counted[^1]));
        return Texts.Matches.For(groups.Sum(group => group.Total), ("things", all), ("query", query));
    }

    /// <summary>Why something matches.</summary>
    /// <param name="field">What was looked at.</param>
    /// <param name="value">What stands there.</param>
    /// <param name="how">How it matches.</param>
    /// <param name="query">What was searched for.</param>
    /// <returns>A clause with a capital, without a full stop.</returns>
    public static string Why(SearchBy field, string value, SearchMatch how, string query) =>
        Fill.In(Texts.Why[how], ("field", Texts.Fields[field]), ("query", query), ("value", value));

    /// <summary>Where a visit was made.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="site">Name of the kitchen.</param>
    public static string VisitAt(string unit, string site) => Fill.In(States.VisitAt, ("unit", unit), ("site", site));

    /// <summary>How a visit ended, and when.</summary>
    /// <param name="isVoided">Whether a later record voids or replaces it.</param>
    /// <param name="outcome">Code of its outcome; null: not told.</param>
    /// <param name="day">Its date.</param>
    public static string Visit(bool isVoided, string? outcome, string day) =>
        (isVoided ? States.Voided : outcome is null ? States.NoOutcome : States.Outcomes.GetValueOrDefault(outcome) ?? Text.Words(outcome)) + ", " + day;

    /// <summary>A unit that has left.</summary>
    /// <param name="day">When.</param>
    public static string LeftService(DateOnly day) => Fill.In(States.LeftService, ("day", Text.Date(day)));

    /// <summary>A unit that no rule asks about.</summary>
    public static string UnderNoRule() => States.NoRule;

    /// <summary>How the ovens of a kitchen stand.</summary>
    /// <param name="states">How many are in each state, the most urgent first.</param>
    public static string Ovens(IReadOnlyList<(CleaningState State, int Count)> states)
    {
        ArgumentNullException.ThrowIfNull(states);
        return states.Count == 0 ? States.NoOvens
            : States.Ovens.For(
                states.Sum(state => state.Count),
                ("states", string.Join(", ", states.Select(state => Fill.In(States.OvensBy[state.State], ("count", Text.Count(state.Count)))))));
    }

    /// <summary>How an operator's kitchens stand.</summary>
    /// <param name="kitchens">How many there are.</param>
    /// <param name="ovens">How their ovens stand, in words.</param>
    public static string Kitchens(int kitchens, string ovens) => Texts.Counted[SearchKind.Site].For(kitchens) + "; " + ovens;

    /// <summary>Where a fault is raised.</summary>
    /// <param name="units">At how many units.</param>
    /// <param name="locksOut">Whether it locks out washing.</param>
    public static string Raised(int units, bool locksOut) =>
        (units == 0 ? States.RaisedNowhere : States.Raised.For(units)) + (locksOut ? "; " + States.LocksOut : string.Empty);

    /// <summary>Where a position is.</summary>
    /// <param name="models">In how many models.</param>
    /// <param name="parts">How many part numbers belong to it.</param>
    public static string Position(int models, int parts) => States.InModels.For(models) + "; " + Texts.Counted[SearchKind.Part].For(parts);

    /// <summary>Where a part fits, and how many are in store.</summary>
    /// <param name="position">Name of the first position that it fits; null: none.</param>
    /// <param name="inStore">How many are in store; null: not told.</param>
    public static string Part(string? position, int? inStore) =>
        (position is null ? States.FitsNothing : Fill.In(States.Fits, ("position", Text.Inside(position))))
        + (inStore is { } count ? "; " + Fill.In(States.InStore, ("count", Text.Count(count))) : string.Empty);
}

/// <summary>By which text something is found.</summary>
public enum SearchBy
{
    /// <summary>A unit's asset tag.</summary>
    AssetTag,

    /// <summary>A unit's serial number.</summary>
    SerialNumber,

    /// <summary>A code.</summary>
    Code,

    /// <summary>A name.</summary>
    Name,

    /// <summary>What a fault code means.</summary>
    Text,

    /// <summary>A part number.</summary>
    Number,

    /// <summary>The key of a record.</summary>
    Key,
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
