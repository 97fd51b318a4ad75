using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Sites;

/// <summary>What a kitchen has to do about its own units, in the words of those who work there.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Sentence">What there is to do, in one sentence.</param>
/// <param name="Units">One entry a unit in service, those that need somebody first.</param>
/// <param name="ComingDays">The present trading day and the six after it, for ticking washes off on paper.</param>
public sealed record KitchenReport(
    Basis Basis,
    string Site,
    string SiteName,
    string Operator,
    string OperatorName,
    string TimeZone,
    string Sentence,
    IReadOnlyList<KitchenUnit> Units,
    IReadOnlyList<KitchenDay> ComingDays)
{
    /// <summary>The latest days of its timeline, for the page alone; null: it was not asked for.</summary>
    [JsonIgnore]
    public TimelineReport? Timeline { get; init; }
}

/// <summary>One unit as its kitchen sees it.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="Task">How pressing it is.</param>
/// <param name="State">The worst state over the rules that apply; null where no rule does.</param>
/// <param name="ToDo">What to do, in a sentence or two.</param>
/// <param name="Washed">When it was last washed so that it counts.</param>
/// <param name="NextWash">When the next wash is due and with which programme; null where none is.</param>
/// <param name="NextWashDueAt">The same as an instant.</param>
/// <param name="WhoseMove">Who can end the state: kitchen, service, approver, supplier, connection or nobody.</param>
/// <param name="AskWhom">Whom to ask, in words; null: nobody.</param>
/// <param name="Also">Further washes that other rules ask for, such as a weekly intensive one.</param>
/// <param name="Days">The last 14 trading days, oldest first.</param>
public sealed record KitchenUnit(
    string Unit,
    string ModelName,
    KitchenTask Task,
    CleaningState? State,
    string ToDo,
    string Washed,
    string? NextWash,
    DateTimeOffset? NextWashDueAt,
    string WhoseMove,
    string? AskWhom,
    IReadOnlyList<string> Also,
    IReadOnlyList<WashDay> Days);

/// <summary>How pressing a unit is for its kitchen, most pressing first.</summary>
public enum KitchenTask
{
    /// <summary>Wash it now.</summary>
    WashNow,

    /// <summary>It cannot wash, or should not: somebody else has to come or decide.</summary>
    Wait,

    /// <summary>Nothing is heard from it: look at plug and network.</summary>
    LookAtPlug,

    /// <summary>Wash it before this trading day ends.</summary>
    WashToday,

    /// <summary>Nothing to do on this trading day.</summary>
    Nothing,
}

/// <summary>One trading day to come.</summary>
/// <param name="Day">Its date.</param>
/// <param name="Open">Whether the site trades on it.</param>
public sealed record KitchenDay(DateOnly Day, bool Open);

/// <summary>The kitchens, found by a simple search.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Search">What was searched for in name and code; null: nothing, so all sites.</param>
/// <param name="Total">Sites that match, on this page and the ones after it.</param>
/// <param name="Rows">The sites of this page, by name.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record SiteListReport(Basis Basis, string? Search, int Total, IReadOnlyList<SiteListRow> Rows, string? Next);

/// <summary>One kitchen in the list.</summary>
/// <param name="Site">Code.</param>
/// <param name="SiteName">Name.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Region">Region, if any.</param>
/// <param name="Units">Units in service under a cleaning rule.</param>
/// <param name="UnitsByState">How many of them are in each state.</param>
public sealed record SiteListRow(
    string Site,
    string SiteName,
    string Operator,
    string OperatorName,
    string? Region,
    int Units,
    IReadOnlyDictionary<CleaningState, int> UnitsByState);
