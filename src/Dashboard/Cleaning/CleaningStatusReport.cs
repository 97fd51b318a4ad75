using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>Which units are clean, due, overdue, locked out, silent, closed or out of service now, worst first.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="UnitsByState">How many units are in each state, each counted once, by its most urgent rule.</param>
/// <param name="Rows">One row a unit and rule: overdue and locked out first, longest first.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record CleaningStatusReport(
    Basis Basis,
    string Sentence,
    IReadOnlyDictionary<CleaningState, int> UnitsByState,
    IReadOnlyList<UnitCleaning> Rows,
    string? Next);

/// <summary>One unit under one cleaning rule, now.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="Region">Region of the site, if any.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Rule">Code of the cleaning rule.</param>
/// <param name="RuleText">The rule in words: grade, interval, grace.</param>
/// <param name="RuleBasis">Where the rule comes from, in the user's words.</param>
/// <param name="State">The state now.</param>
/// <param name="Cause">Why the unit is in that state.</param>
/// <param name="Since">Since when the state holds: locked out, past the deadline, silent; null if since before records began.</param>
/// <param name="WhoseMove">Who can end it: kitchen, service, approver, supplier, connection or nobody.</param>
/// <param name="LastCountedWashAt">End of the last wash that counts under this rule; null if none is known.</param>
/// <param name="DueAt">When the next wash is (or was) due; null where nothing is due.</param>
/// <param name="OverdueHours">Elapsed hours past the deadline; 0 when not overdue.</param>
/// <param name="Sentence">What holds and whose move it is, in one sentence.</param>
/// <param name="Grade">Lowest grade that the rule asks for; descale: the wash that is due is a descaling.</param>
public sealed record UnitCleaning(
    string Unit,
    string Site,
    string SiteName,
    string Operator,
    string OperatorName,
    string Model,
    string? Region,
    string TimeZone,
    string Rule,
    string RuleText,
    string RuleBasis,
    CleaningState State,
    Cause Cause,
    DateTimeOffset? Since,
    string WhoseMove,
    DateTimeOffset? LastCountedWashAt,
    DateTimeOffset? DueAt,
    double OverdueHours,
    string Sentence,
    ProgrammeGrade Grade)
{
    /// <summary>Whether the unit itself, locked out as it is, has since run a wash that counts, so that the lockout may be over; the sentence says it.</summary>
    [JsonIgnore]
    public bool HasWashedSince { get; init; }
}
