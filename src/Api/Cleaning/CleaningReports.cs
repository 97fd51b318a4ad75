using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the reports on cleaning.</summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads the records.</param>
public sealed class CleaningReports(RegistryCache registry, CleaningQueries queries)
{
    private const string StatusMethod = "last wash that counts against the rule's due instant, by the site's own trading days";

    // What waits for somebody stands first; within a state, the longest wait.
    private static readonly CleaningState[] Urgency =
    [
        CleaningState.Overdue, CleaningState.LockedOut, CleaningState.Silent, CleaningState.Due,
        CleaningState.Clean, CleaningState.OutOfService, CleaningState.Closed,
    ];

    /// <summary>How every unit stands under every rule that applies to it.</summary>
    /// <param name="filter">Which units and which state.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>All rows, worst first; counts by state are over all states, whatever the filter's state.</returns>
    public async Task<CleaningStatusReport> AssembleStatusAsync(CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (IReadOnlyList<UnitTerms> units, bool all) = Select(await registry.CurrentAsync(cancellationToken), filter, asOf, asOf);
        IReadOnlyDictionary<int, UnitHistory> histories = await queries.HistoriesAsync(units, all, asOf, cancellationToken);
        UnitCleaning[] rows = [.. units.SelectMany(unit => Status(unit, histories[unit.Unit.Id], asOf))];
        Dictionary<CleaningState, int> byState = rows.CountBy(row => row.State).ToDictionary();
        int withoutRule = units.Count(unit => unit.Rules.Count == 0);
        return new CleaningStatusReport(
            new Basis(asOf, null, null, StatusMethod, null, rows.Length, null, Counted("under_no_rule", withoutRule), WithoutRule(withoutRule)),
            CleaningSentences.Fleet(byState),
            byState,
            [.. rows.Where(row => filter.State is null || row.State == filter.State).OrderBy(SortKey, StringComparer.Ordinal)],
            null);
    }

    /// <summary>How one unit stands under each rule that applies to it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">Its records.</param>
    /// <param name="asOf">The instant.</param>
    public static IEnumerable<UnitCleaning> Status(UnitTerms unit, UnitHistory history, DateTimeOffset asOf) =>
        unit.Rules.Select(rule => Row(unit, rule, CauseTimeline.At(rule.Rule, unit.Calendar, history, Instant.FromDateTimeOffset(asOf))));

    /// <summary>Sort key of a row: the most urgent state first, within a state the longest wait.</summary>
    /// <param name="row">The row.</param>
    public static string SortKey(UnitCleaning row)
    {
        DateTimeOffset? waits = row.State is CleaningState.LockedOut or CleaningState.Silent ? row.Since : row.DueAt;
        DateTimeOffset unknown = row.State is CleaningState.LockedOut or CleaningState.Silent ? DateTimeOffset.UnixEpoch : DateTimeOffset.MaxValue;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{UrgencyOf(row.State)} {(waits ?? unknown).ToUnixTimeMilliseconds():D16} {row.Unit.ToUpperInvariant()} {row.Rule.ToUpperInvariant()}");
    }

    /// <summary>How urgent a state is: 0 is the most urgent.</summary>
    /// <param name="state">The state.</param>
    public static int UrgencyOf(CleaningState state) => Array.IndexOf(Urgency, state);

    /// <summary>The units that a filter speaks of and that were in the registry's service at some time of a window.</summary>
    /// <param name="snapshot">The registry.</param>
    /// <param name="filter">Which units.</param>
    /// <param name="from">Start of the window.</param>
    /// <param name="to">End of the window.</param>
    /// <returns>The units, and whether that is every unit of the registry.</returns>
    public static (IReadOnlyList<UnitTerms> Units, bool All) Select(
        RegistrySnapshot snapshot, CleaningFilter filter, DateTimeOffset from, DateTimeOffset to)
    {
        UnitTerms[] units = [.. snapshot.Cleaning.Units.Where(unit => Matches(unit, filter) && Serves(unit, from, to))];
        return (units, units.Length == snapshot.UnitList.Count);
    }

    private static bool Matches(UnitTerms unit, CleaningFilter filter) =>
        Names(filter.Operator, unit.Unit.Site.Operator.Resource.Operator) && Names(filter.Region, unit.Unit.Site.Resource.Region);

    private static bool Names(string? asked, string? actual) =>
        string.IsNullOrEmpty(asked) || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);

    private static bool Serves(UnitTerms unit, DateTimeOffset from, DateTimeOffset to) =>
        (unit.Service.CommissionedOn is not { } begins || unit.Calendar.StartOf(begins) <= Instant.FromDateTimeOffset(to))
        && (unit.Service.DecommissionedOn is not { } ends || unit.Calendar.StartOf(ends) > Instant.FromDateTimeOffset(from));

    private static UnitCleaning Row(UnitTerms unit, RuleTerms rule, CleaningStatus status)
    {
        SiteEntry site = unit.Unit.Site;
        return new UnitCleaning(
            unit.Unit.Resource.Unit,
            site.Resource.Site,
            site.Resource.Name,
            site.Operator.Resource.Operator,
            site.Operator.Resource.Name,
            unit.Unit.Model.Resource.Model,
            site.Resource.Region,
            site.Resource.TimeZone,
            rule.Entry.Resource.Rule,
            CleaningSentences.Rule(rule.Rule),
            rule.Entry.Resource.Basis,
            status.State,
            status.State == CleaningState.LockedOut ? status.Lockout ?? status.Cause : status.Cause,
            status.Since?.ToDateTimeOffset(),
            status.WhoseMove.ToString().ToLowerInvariant(),
            status.LastCountedWashEnd?.ToDateTimeOffset(),
            status.Due?.ToDateTimeOffset(),
            status.OverdueBy.TotalHours,
            CleaningSentences.Status(status, site.Resource.TimeZone));
    }

    private static Dictionary<string, int> Counted(string reason, int count) => count == 0 ? [] : new() { [reason] = count };

    private static string[] WithoutRule(int count) =>
        count == 0 ? [] : [Text.Counted(count, "unit is", "units are") + " under no cleaning rule and not shown."];
}
