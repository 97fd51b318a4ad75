using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>How a unit stands under one of its rules.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Status">How it stands.</param>
public readonly record struct UnitStatus(UnitTerms Unit, RuleTerms Rule, CleaningStatus Status);

/// <summary>Assembles the reports on cleaning.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="queries">Reads records.</param>
public sealed class CleaningReports(FleetRuns runs, CleaningQueries queries)
{
    // What waits for somebody stands first; within a state, the longest wait.
    private static readonly CleaningState[] Urgency =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Silent, CleaningState.Due,
        CleaningState.Clean, CleaningState.OutOfService, CleaningState.Closed,
    ];

    private static readonly Comparer<(int Rank, long SinceMs, string Unit, bool Descales, string Rule)> KeyOrder =
        Comparer<(int Rank, long SinceMs, string Unit, bool Descales, string Rule)>.Create((one, other) =>
        {
            int order = one.Rank != other.Rank ? one.Rank.CompareTo(other.Rank) : one.SinceMs.CompareTo(other.SinceMs);
            order = order != 0 ? order : string.CompareOrdinal(one.Unit, other.Unit);
            order = order != 0 ? order : one.Descales.CompareTo(other.Descales);
            return order != 0 ? order : string.CompareOrdinal(one.Rule, other.Rule);
        });

    /// <summary>How every unit stands under every rule that applies to it.</summary>
    /// <param name="filter">Which units, which state, whose move.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <param name="page">The page of rows to give; null: all.</param>
    /// <returns>The rows, worst first; counts by state are over all states, whatever the filter's state.</returns>
    public async Task<CleaningStatusReport> AssembleStatusAsync(
        CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken, PageRequest? page = null)
    {
        (CleaningStatusReport report, IReadOnlyList<UnitStatus> all) = await StandAsync(filter, asOf, cancellationToken);
        return WithRows(report, all, filter, asOf, page);
    }

    /// <summary>The same, and whose move it is over all units of the filter, whatever its state and whose move it asks for.</summary>
    /// <inheritdoc cref="AssembleStatusAsync"/>
    public async Task<(CleaningStatusReport Status, MovesReport Moves)> AssemblePageAsync(
        CleaningFilter filter, DateTimeOffset asOf, PageRequest page, CancellationToken cancellationToken)
    {
        (CleaningStatusReport report, IReadOnlyList<UnitStatus> all) = await StandAsync(filter, asOf, cancellationToken);
        return (WithRows(report, all, filter, asOf, page), CleaningMoves.Of(all, asOf));
    }

    private static CleaningStatusReport WithRows(
        CleaningStatusReport report, IReadOnlyList<UnitStatus> all, CleaningFilter filter, DateTimeOffset asOf, PageRequest? page)
    {
        IEnumerable<UnitStatus> unwashed = filter.UnwashedDays is { } days ? Unwashed(all, Instant.FromDateTimeOffset(asOf.AddDays(-days))) : all;
        UnitStatus[] asked = WorstFirst(unwashed.Where(one => IsAskedFor(one.Status, filter)));
        if (page?.SortBy is not null)
        {
            PageOf<UnitCleaning> sorted = Sorting.Take(asked.Select(one => Row(one, asOf)), CleaningColumns.Sorted, page);
            return report with { Rows = sorted.Items, Next = sorted.Next };
        }

        PageOf<UnitStatus> shown = page is null ? new PageOf<UnitStatus>(asked, null) : Paging.TakeSorted(asked, SortKey, page);
        return report with { Rows = [.. shown.Items.Select(one => Row(one, asOf))], Next = shown.Next };
    }

    /// <summary>The units that have been locked out, overdue or silent for longest.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="unitsEach">Most units of each state; a unit under several rules stands there once, for the worst.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<CleaningStatusReport> AssembleWorstAsync(DateTimeOffset asOf, int unitsEach, CancellationToken cancellationToken)
    {
        (CleaningStatusReport report, IReadOnlyList<UnitStatus> all) = await StandAsync(CleaningFilter.All, asOf, cancellationToken);
        IEnumerable<UnitStatus> worst = WorstFirst(all.Where(NeedsSomebody))
            .GroupBy(one => one.Status.State)
            .SelectMany(state => state.DistinctBy(one => one.Unit.Unit.Id).Take(unitsEach));
        return report with { Rows = [.. worst.Select(one => Row(one, asOf))] };
    }

    /// <summary>The units that have been locked out, overdue or silent for longest, whatever the state.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="most">Most units; a unit under several rules stands there once, for the worst.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report, and how many more such units there are.</returns>
    public async Task<(CleaningStatusReport Report, int More)> AssembleNeedingAsync(DateTimeOffset asOf, int most, CancellationToken cancellationToken)
    {
        (CleaningStatusReport report, IReadOnlyList<UnitStatus> all) = await StandAsync(CleaningFilter.All, asOf, cancellationToken);
        UnitStatus[] needing = [.. WorstFirst(all.Where(NeedsSomebody)).DistinctBy(one => one.Unit.Unit.Id)];
        return (report with { Rows = [.. needing.Take(most).Select(one => Row(one, asOf))] }, Math.Max(0, needing.Length - most));
    }

    /// <summary>How units stand under the rules that hold for them, in no order and without words.</summary>
    /// <param name="filter">Which units; its state and whose move are not looked at.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<UnitStatus>> StandingAsync(CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        return await StatusesAsync(fleet, Select(fleet.Registry, filter, asOf, asOf), asOf, cancellationToken);
    }

    /// <summary>How units stand under the rules that hold for them.</summary>
    /// <param name="fleet">Where every unit stands.</param>
    /// <param name="units">Which units.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>One status a unit and rule, in the order of the units; as of the instant, or of an earlier one since which only what is
    /// overdue has grown (<see cref="CleaningStatus.Later"/>).</returns>
    public async Task<IReadOnlyList<UnitStatus>> StatusesAsync(
        Fleet fleet, IReadOnlyList<UnitTerms> units, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var at = Instant.FromDateTimeOffset(asOf);
        var told = new List<UnitStatus>(units.Count);
        var ahead = new List<UnitTerms>();
        foreach (UnitTerms unit in units)
        {
            if (fleet.Units[unit.Unit.Id].At(at) is { } statuses)
            {
                told.AddRange(statuses.Select(one => new UnitStatus(unit, one.Rule, one.Status)));
            }
            else
            {
                ahead.Add(unit);
            }
        }

        // Units whose clocks run ahead of ours: their last records are still to come.
        if (ahead.Count > 0)
        {
            IReadOnlyDictionary<int, UnitHistory> histories = await queries.HistoriesAsync(ahead, asOf, cancellationToken);
            told.AddRange(ahead.SelectMany(unit => Statuses(unit, histories[unit.Unit.Id], at)));
        }

        return told;
    }

    /// <summary>How one unit stands under each rule that holds for it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="history">All its records.</param>
    /// <param name="asOf">The instant.</param>
    public static IEnumerable<UnitCleaning> Status(UnitTerms unit, UnitHistory history, DateTimeOffset asOf) =>
        Statuses(unit, history, Instant.FromDateTimeOffset(asOf)).Select(one => Row(one, asOf));

    /// <summary>Sort key of a row: who is past a deadline of a wash first, the longest first; then who cannot wash, who is past one of descaling, who is
    /// silent, and lockouts that seem to be over though nobody said so; then the rest.</summary>
    /// <param name="row">How a unit stands.</param>
    public static string SortKey(UnitStatus row)
    {
        (int rank, long sinceMs, string unit, bool descales, string rule) = KeyOf(row);
        return string.Create(CultureInfo.InvariantCulture, $"{rank:D2} {sinceMs:D16} {unit} {(descales ? 1 : 0)} {rule}");
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
        Serving(snapshot, filter, Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));

    /// <returns>A report without rows, and how all units stand.</returns>
    private async Task<(CleaningStatusReport Report, IReadOnlyList<UnitStatus> All)> StandAsync(
        CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        IReadOnlyList<UnitTerms> units = Select(fleet.Registry, filter, asOf, asOf);
        IReadOnlyList<UnitStatus> all = await StatusesAsync(fleet, units, asOf, cancellationToken);
        int withoutRule = units.Count - all.Select(one => one.Unit.Unit.Id).Distinct().Count();
        Dictionary<CleaningState, int> byState = CountByState(all);
        return (
            new CleaningStatusReport(
                new Basis(asOf, null, null, CleaningSentences.StatusMethod, null, all.Count, null, Counted("under_no_rule", withoutRule),
                [.. WithoutRule(withoutRule), .. RuleWords.Doubts([.. all.Select(one => (one.Unit, one.Rule))])]),
                CleaningSentences.Fleet(byState),
                byState,
                [],
                null),
            all);
    }

    private static IEnumerable<UnitStatus> Statuses(UnitTerms unit, UnitHistory history, Instant asOf) =>
        unit.Rules.Zip(unit.Begin.Rules).Where(pair => pair.Second.Validity.Contains(asOf))
            .Select(pair => new UnitStatus(unit, pair.First, CauseTimeline.At(pair.First.Rule, unit.Calendar, history, asOf)));

    // In the order of SortKey, without the text.
    private static UnitStatus[] WorstFirst(IEnumerable<UnitStatus> statuses)
    {
        UnitStatus[] sorted = [.. statuses];
        (int, long, string, bool, string)[] keys = [.. sorted.Select(KeyOf)];
        Array.Sort(keys, sorted, KeyOrder);
        return sorted;
    }

    // What holds for a unit alike under several rules is told first of a wash, then of descaling.
    private static (int Rank, long SinceMs, string Unit, bool Descales, string Rule) KeyOf(UnitStatus one)
    {
        bool descales = one.Rule.Rule.Grade == ProgrammeGrade.Descale;
        (int rank, long sinceMs) = RankOf(one.Status, descales);
        return (rank, sinceMs, one.Unit.CodeKey, descales, one.Rule.CodeKey);
    }

    private static (int Rank, long SinceMs) RankOf(CleaningStatus status, bool descales)
    {
        static long Ms(Instant? at) => Math.Max(0, at?.ToUnixTimeMilliseconds() ?? 0);
        bool late = status.State is CleaningState.Overdue or CleaningState.LockedOut && status.Deadline <= status.AsOf;
        return status.State switch
        {
            _ when late && !descales => (0, Ms(status.Deadline)),
            CleaningState.LockedOut when !status.HasWashedSince => (1, Ms(status.LockoutSince)),
            _ when late => (2, Ms(status.Deadline)),
            CleaningState.Silent => (3, Ms(status.Since)),
            CleaningState.LockedOut => (4, Ms(status.LockoutSince)),
            _ => (5 + UrgencyOf(status.State), status.Due is { } due ? Ms(due) : DateTimeOffset.MaxValue.ToUnixTimeMilliseconds()),
        };
    }

    /// <summary>How many units are in each state; one under several rules counts once, by that which is most urgent.</summary>
    /// <param name="rows">A row a unit and rule.</param>
    internal static Dictionary<CleaningState, int> CountByState(IEnumerable<UnitCleaning> rows) => rows.GroupBy(row => row.Unit, StringComparer.OrdinalIgnoreCase)
        .CountBy(unit => unit.MinBy(row => UrgencyOf(row.State))!.State).ToDictionary();

    /// <summary>How many units are in each state; one under several rules counts once, by that which is most urgent.</summary>
    /// <param name="all">One status a unit and rule.</param>
    internal static Dictionary<CleaningState, int> CountByState(IEnumerable<UnitStatus> all)
    {
        var most = new Dictionary<int, int>();
        foreach (UnitStatus one in all)
        {
            int urgency = UrgencyOf(one.Status.State);
            int id = one.Unit.Unit.Id;
            most[id] = most.TryGetValue(id, out int other) ? Math.Min(other, urgency) : urgency;
        }

        return most.Values.CountBy(urgency => Urgency[urgency]).ToDictionary();
    }

    private static bool NeedsSomebody(UnitStatus one) => UrgencyOf(one.Status.State) <= UrgencyOf(CleaningState.Silent);

    // Mostly all units are asked for: then nothing of them has to be looked up.
    private static bool Matches(UnitTerms unit, CleaningFilter filter) =>
        filter is { Operator: null, Region: null, Site: null, Model: null, Unit: null }
        || (Names(filter.Operator, unit.Unit.Site.Operator.Resource.Operator) && Names(filter.Region, unit.Unit.Site.Resource.Region)
        && Names(filter.Site, unit.Unit.Site.Resource.Site) && Names(filter.Model, unit.Unit.Model.Resource.Model)
        && Names(filter.Unit, unit.Unit.Resource.Unit));

    private static bool IsAskedFor(CleaningStatus status, CleaningFilter filter) =>
        (filter.State is null || status.State == filter.State) && (filter.Move is null || status.WhoseMove == filter.Move);

    // A wash that counts for one rule of a unit is a wash, though a more demanding one asks for more; descaling is none.
    private static IEnumerable<UnitStatus> Unwashed(IReadOnlyList<UnitStatus> all, Instant since) =>
        all.Where(one => one.Rule.Rule.Grade != ProgrammeGrade.Descale)
            .GroupBy(one => one.Unit.Unit.Id)
            .Where(unit => unit.All(one => (one.Status.LastCountedWashEnd ?? ServiceStart(one.Unit)) <= since))
            .SelectMany(unit => unit);

    private static Instant ServiceStart(UnitTerms unit) => unit.InService.HasStart ? unit.InService.Start : Instant.MinValue;

    private static bool Names(string? asked, string? actual) =>
        string.IsNullOrEmpty(asked) || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);

    private static UnitTerms[] Serving(RegistrySnapshot snapshot, CleaningFilter filter, Instant from, Instant to) =>
        [.. snapshot.Cleaning.Units.Where(unit => Matches(unit, filter) && Serves(unit, from, to))];

    private static bool Serves(UnitTerms unit, Instant from, Instant to) =>
        !(unit.InService.HasStart && unit.InService.Start > to) && !(unit.InService.HasEnd && unit.InService.End <= from);

    private static UnitCleaning Row(UnitStatus one, DateTimeOffset asOf)
    {
        (UnitTerms unit, RuleTerms rule, CleaningStatus status) = (one.Unit, one.Rule, one.Status.Later(Instant.FromDateTimeOffset(asOf)));
        SiteEntry site = unit.Unit.Site;
        Instant? since = status.State switch
        {
            CleaningState.LockedOut => status.LockoutSince,
            CleaningState.Overdue => status.Deadline,
            _ => status.Since,
        };
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
            RuleWords.Of(unit, rule),
            rule.Entry.Resource.Basis,
            status.State,
            status.State == CleaningState.LockedOut ? status.Lockout ?? status.Cause : status.Cause,
            since?.ToDateTimeOffset(),
            status.WhoseMove.ToString().ToLowerInvariant(),
            status.LastCountedWashEnd?.ToDateTimeOffset(),
            status.Due?.ToDateTimeOffset(),
            status.OverdueBy.TotalHours,
            CleaningSentences.Status(status, site.Resource.TimeZone, rule.Rule.Grade == ProgrammeGrade.Descale, unit.ComesLater(status.AsOf)),
            rule.Rule.Grade)
        {
            HasWashedSince = status.HasWashedSince,
        };
    }

    private static Dictionary<string, int> Counted(string reason, int count) => count == 0 ? [] : new() { [reason] = count };

    private static string[] WithoutRule(int count) =>
        count == 0 ? [] : [CleaningSentences.UnderNoRule(count)];
}
