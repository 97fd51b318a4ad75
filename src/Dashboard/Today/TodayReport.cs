using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>What needs somebody today.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Units">Units in the registry that are in service.</param>
/// <param name="UnitsByState">How many units are in each state, each counted once, by its most urgent rule.</param>
/// <param name="LockedOut">The units that have been unable to wash for longest, at most twenty.</param>
/// <param name="Overdue">The units that have been past the deadline of a wash that counts for longest, at most twenty.</param>
/// <param name="Silent">The units that have been silent for longest, at most twenty.</param>
/// <param name="WearingOut">Fitted parts most likely to fail within 90 days, most likely first.</param>
/// <param name="RefusedRows">Rows refused at the door and not yet sent again, by source.</param>
/// <param name="Cleaning">The last 28 days of the whole fleet, up to the last full hour.</param>
public sealed record TodayReport(
    Basis Basis,
    string Sentence,
    int Units,
    IReadOnlyDictionary<CleaningState, int> UnitsByState,
    IReadOnlyList<UnitCleaning> LockedOut,
    IReadOnlyList<UnitCleaning> Overdue,
    IReadOnlyList<UnitCleaning> Silent,
    IReadOnlyList<WearingPart> WearingOut,
    IReadOnlyDictionary<string, int> RefusedRows,
    ComplianceRow Cleaning)
{
    /// <summary>Units whose last repair is not proven.</summary>
    public UnprovenRepairs Unproven { get; init; } = UnprovenRepairs.None;

    /// <summary>Whose lines these are; null: everybody's.</summary>
    public TodayRole? For { get; init; }

    /// <summary>What needs whom, role by role.</summary>
    public IReadOnlyList<TodayLine> Lines { get; init; } = [];

    /// <summary>How many units are in a state.</summary>
    /// <param name="state">The state.</param>
    public int In(CleaningState state) => UnitsByState.GetValueOrDefault(state);
}

/// <summary>A fitted part that is likely to fail soon.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="AgeDays">Age in days.</param>
/// <param name="ChanceToFail90Days">Chance to fail within the next 90 days given that it works now, 0 to 1.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record WearingPart(
    string Unit,
    string Site,
    string SiteName,
    string Position,
    string PositionName,
    double AgeDays,
    [property: JsonPropertyName("chance_to_fail_90_days")] double ChanceToFail90Days,
    string Sentence);
