using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the reports on cleaning.</summary>
/// <param name="registry">The registry.</param>
/// <param name="records">Reads the records.</param>
public sealed class CleaningReports(RegistryCache registry, CleaningRecords records)
{
    private const string StatusMethod = "last wash that counts against the rule's due instant, by the site's own trading days";

    // What waits for somebody stands first; within a state, the longest wait.
    private static readonly CleaningState[] Urgency =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Silent, CleaningState.Due,
        CleaningState.Clean, CleaningState.OutOfService, CleaningState.Closed,
    ];

    /// <summary>How every unit stands under every rule that applies to it.</summary>
    /// <param name="filter">Which units and which state.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>All rows, worst first; counts by state are over all states, whatever the filter's state.</returns>
    public async Task<CleaningStatusReport> AssembleStatusAsync(CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        IReadOnlyList<UnitTerms> units = Select(await registry.CurrentAsync(cancellationToken), filter, asOf, asOf);
        KnownRecords known = await records.ReadAsync(units, asOf, asOf, cancellationToken);
        UnitCleaning[] rows = [.. units.SelectMany(unit => Status(unit, known, asOf))];
        Dictionary<CleaningState, int> byState = rows.GroupBy(row => row.Unit, StringComparer.OrdinalIgnoreCase)
            .CountBy(unit => unit.MinBy(row => UrgencyOf(row.State))!.State).ToDictionary();
        int withoutRule = units.Count(unit => unit.Rules.Count == 0);
        return new CleaningStatusReport(
            new Basis(asOf, null, null, StatusMethod, null, rows.Length, null, Counted("under_no_rule", withoutRule), WithoutRule(withoutRule)),
            CleaningSentences.Fleet(byState),
            byState,
            [.. rows.Where(row => IsAskedFor(row, filter)).OrderBy(SortKey, StringComparer.Ordinal)],
            null);
    }

    /// <summary>How one unit stands under each rule that applies to it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="known">Its records.</param>
    /// <param name="asOf">The instant.</param>
    public static IEnumerable<UnitCleaning> Status(UnitTerms unit, KnownRecords known, DateTimeOffset asOf)
    {
        UnitHistory history = known.Histories[unit.Unit.Id];
        var at = Instant.FromDateTimeOffset(asOf);
        return unit.Rules.Select(rule =>
        {
            CleaningStatus status = CauseTimeline.At(rule.Rule, unit.Calendar, history, at, known.From(unit, rule));
            return Row(unit, rule, status, status.State == CleaningState.LockedOut ? LockedOutSince(history, at) : status.Since);
        });
    }

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
    public static IReadOnlyList<UnitTerms> Select(RegistrySnapshot snapshot, CleaningFilter filter, DateTimeOffset from, DateTimeOffset to) =>
        [.. snapshot.Cleaning.Units.Where(unit => Matches(unit, filter) && Serves(unit, from, to))];

    // The oldest fault that keeps it from washing, else the refusal.
    private static Instant? LockedOutSince(UnitHistory history, Instant asOf)
    {
        WashFault[] standing =
            [.. history.Faults.Where(fault => fault.LocksOutWashing && fault.RaisedAt <= asOf && (fault.ClearedAt is not { } cleared || cleared > asOf))];
        return standing.Length > 0
            ? standing.Min(fault => fault.RaisedAt)
            : history.Washes.Where(wash => wash.Outcome == WashOutcome.Refused && wash.StartedAt <= asOf)
                .Select(wash => (Instant?)wash.StartedAt).Max();
    }

    private static bool Matches(UnitTerms unit, CleaningFilter filter) =>
        Names(filter.Operator, unit.Unit.Site.Operator.Resource.Operator) && Names(filter.Region, unit.Unit.Site.Resource.Region)
        && Names(filter.Site, unit.Unit.Site.Resource.Site) && Names(filter.Model, unit.Unit.Model.Resource.Model)
        && Names(filter.Unit, unit.Unit.Resource.Unit);

    private static bool IsAskedFor(UnitCleaning row, CleaningFilter filter) =>
        (filter.State is null || row.State == filter.State) && Names(filter.Move?.ToString(), row.WhoseMove);

    private static bool Names(string? asked, string? actual) =>
        string.IsNullOrEmpty(asked) || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);

    private static bool Serves(UnitTerms unit, DateTimeOffset from, DateTimeOffset to) =>
        (unit.Service.CommissionedOn is not { } begins || unit.Calendar.StartOf(begins) <= Instant.FromDateTimeOffset(to))
        && (unit.Service.DecommissionedOn is not { } ends || unit.Calendar.StartOf(ends) > Instant.FromDateTimeOffset(from));

    private static UnitCleaning Row(UnitTerms unit, RuleTerms rule, CleaningStatus status, Instant? since)
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
            since?.ToDateTimeOffset(),
            status.WhoseMove.ToString().ToLowerInvariant(),
            status.LastCountedWashEnd?.ToDateTimeOffset(),
            status.Due?.ToDateTimeOffset(),
            status.OverdueBy.TotalHours,
            CleaningSentences.Status(status, site.Resource.TimeZone, since));
    }

    private static Dictionary<string, int> Counted(string reason, int count) => count == 0 ? [] : new() { [reason] = count };

    private static string[] WithoutRule(int count) =>
        count == 0 ? [] : [Text.Counted(count, "unit is", "units are") + " under no cleaning rule and not shown."];
}
