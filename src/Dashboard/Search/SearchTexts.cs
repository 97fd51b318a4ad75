using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Search;

/// <summary>Texts of the search: Search.en.json and its fellows. A name is the text's key.</summary>
internal sealed record SearchTexts
{
    internal static TextFile<SearchTexts> File { get; } = new("Search");

    internal static SearchTexts Now => File.Now;

    public required string Find { get; init; }

    public required string FoundTitle { get; init; }

    public required string MoreOf { get; init; }

    public required string FirstOf { get; init; }

    public required string SpelledAlike { get; init; }

    public required string Findable { get; init; }

    public required string FindableHow { get; init; }

    public required IReadOnlyDictionary<SearchKind, string> FindableBy { get; init; }

    public required string LookThrough { get; init; }

    public required string AllKitchens { get; init; }

    public required string AllUnits { get; init; }

    public required IReadOnlyDictionary<SearchKind, string> Headings { get; init; }

    public required string NothingAsked { get; init; }

    public required string NothingMatches { get; init; }

    public required string NothingMatchesBut { get; init; }

    public required PluralText Matches { get; init; }

    // The last of several things.
    public required string And { get; init; }

    public required IReadOnlyDictionary<SearchKind, PluralText> Counted { get; init; }

    public required IReadOnlyDictionary<SearchMatch, string> Why { get; init; }

    public required IReadOnlyDictionary<SearchBy, string> Fields { get; init; }

    public required SearchStateTexts States { get; init; }
}

/// <summary>How things stand.</summary>
internal sealed record SearchStateTexts
{
    public required string VisitAt { get; init; }

    public required string Voided { get; init; }

    public required string NoOutcome { get; init; }

    // By the code of the record.
    public required IReadOnlyDictionary<string, string> Outcomes { get; init; }

    public required string LeftService { get; init; }

    public required string NoRule { get; init; }

    public required string NoOvens { get; init; }

    public required PluralText Ovens { get; init; }

    public required IReadOnlyDictionary<CleaningState, string> OvensBy { get; init; }

    public required string RaisedNowhere { get; init; }

    public required PluralText Raised { get; init; }

    public required string LocksOut { get; init; }

    public required PluralText InModels { get; init; }

    public required string FitsNothing { get; init; }

    public required string Fits { get; init; }

    public required string InStore { get; init; }
}
