using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the report on how the washes that were due were kept.</summary>
/// <param name="runs">What units came to.</param>
public sealed class ComplianceReports(FleetRuns runs)
{
    private const double Level = 0.95;
    private const string Method = "every minute charged to one cause, every due wash judged at its deadline; "
        + "share with Wilson bounds widened by the design effect of units";

    /// <summary>What a row can stand for, and the code and name of a unit's group.</summary>
    private static readonly Dictionary<string, Func<UnitTerms, RuleTerms, (string Code, string Name)>> Groupings = new()
    {
        ["unit"] = (unit, _) => (unit.Unit.Resource.Unit, unit.Unit.Resource.Unit),
        ["site"] = (unit, _) => (unit.Unit.Site.Resource.Site, unit.Unit.Site.Resource.Name),
        ["operator"] = (unit, _) => (unit.Unit.Site.Operator.Resource.Operator, unit.Unit.Site.Operator.Resource.Name),
        ["model"] = (unit, _) => (unit.Unit.Model.Resource.Model, unit.Unit.Model.Resource.Name),
        ["region"] = (unit, _) => (unit.Unit.Site.Resource.Region ?? "", unit.Unit.Site.Resource.Region ?? "no region"),
        ["rule"] = (_, rule) => (rule.Entry.Resource.Rule, RuleWords.Of(rule)),
    };

    /// <summary>Codes of what a row can stand for.</summary>
    public static IReadOnlyCollection<string> GroupingCodes => Groupings.Keys;

    /// <summary>The compliance of a window.</summary>
    /// <param name="filter">Which units; its state is not looked at.</param>
    /// <param name="by">What a row stands for, one of <see cref="GroupingCodes"/>.</param>
    /// <param name="from">Start of the window, inclusive.</param>
    /// <param name="to">End of the window, exclusive.</param>
    /// <param name="asOf">The instant of the question; a window that ends later is refused by the endpoint.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ComplianceReport> AssembleAsync(
        CleaningFilter filter, string by, DateTimeOffset from, DateTimeOffset to, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var window = new Interval(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));
        IReadOnlyList<UnitTallies> counted = await runs.CountAsync(
            snapshot => CleaningReports.Select(snapshot, filter, from, to), [window], cancellationToken);
        Judged[] judged = [.. counted.SelectMany(unit => Judge(unit, by, window, 0))];
        ComplianceRow total = Row("all", "All together", judged);
        return new ComplianceReport(
            new Basis(asOf, from, to, Method, null, total.Due, null, Excluded(judged),
                [.. RuleWords.Doubts(counted.SelectMany(unit => unit.Unit.Rules, (unit, rule) => (unit.Unit, rule)))]),
            by,
            CleaningSentences.Compliance(total),
            total,
            [
                .. judged.GroupBy(one => one.Group.Code, StringComparer.OrdinalIgnoreCase)
                    .Select(group => Row(group.Last().Group.Code, group.Last().Group.Name, [.. group]))
                    .OrderBy(SortKey, StringComparer.Ordinal),
            ],
            null);
    }

    /// <summary>The compliance of windows that follow each other, counted in one pass.</summary>
    /// <param name="filter">Which units; its state is not looked at.</param>
    /// <param name="windows">The windows, each beginning where the one before ends; at least one.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<WindowCompliance>> AssembleWindowsAsync(
        CleaningFilter filter, IReadOnlyList<Interval> windows, CancellationToken cancellationToken)
    {
        (DateTimeOffset from, DateTimeOffset to) = (windows[0].Start.ToDateTimeOffset(), windows[^1].End.ToDateTimeOffset());
        IReadOnlyList<UnitTallies> counted = await runs.CountAsync(
            snapshot => CleaningReports.Select(snapshot, filter, from, to), windows, cancellationToken);
        return
        [
            .. windows.Select((window, i) =>
            {
                (int Unit, Judged[] Judged)[] units = [.. counted.Select(unit => (unit.Unit.Unit.Id, Judge(unit, "unit", window, i).ToArray()))];
                return new WindowCompliance(
                    window,
                    Row("all", "All together", [.. units.SelectMany(unit => unit.Judged)]),
                    [.. units.Select(unit => (unit.Unit, new UnitShare(unit.Judged.Sum(one => one.Tally.Due), unit.Judged.Sum(one => one.Tally.OnTime))))]);
            }),
        ];
    }

    /// <summary>Sort key of a row: lowest share first, then the code.</summary>
    /// <param name="row">The row.</param>
    public static string SortKey(ComplianceRow row) =>
        string.Create(CultureInfo.InvariantCulture, $"{row.OnTimeShare?.Value ?? 2:F9} {row.Group.ToUpperInvariant()}");

    // Rules of one grade follow each other in time: what none of them covers is time without a rule, once.
    private static IEnumerable<Judged> Judge(UnitTallies counted, string by, Interval window, int windowIndex)
    {
        IReadOnlyList<CleaningRun> runs = counted.Unit.Begin.Rules;
        foreach (IGrouping<ProgrammeGrade, int> grade in Enumerable.Range(0, runs.Count).GroupBy(i => runs[i].Rule.Grade))
        {
            int[] asked = [.. grade.Where(i => counted.Unit.SpeaksOf(runs[i].Rule, window))];
            Duration covered = asked.Aggregate(
                Duration.Zero, (sum, i) => sum + window.Duration - counted.ByRule[i][windowIndex].Of(Cause.NoRule));
            foreach (int i in asked)
            {
                yield return new Judged(
                    Groupings[by](counted.Unit, counted.Unit.Rules[i]), counted.Unit.Unit.Resource.Unit, counted.ByRule[i][windowIndex],
                    i == asked[0] ? window.Duration - covered : Duration.Zero);
            }
        }
    }

    private static Dictionary<string, int> Excluded(IReadOnlyCollection<Judged> judged)
    {
        (string Reason, int Count)[] reasons =
        [
            ("silent_at_deadline", judged.Sum(one => one.Tally.Unknown)),
            ("out_of_service_when_due", judged.Sum(one => one.Tally.Excused)),
        ];
        return reasons.Where(reason => reason.Count > 0).ToDictionary(reason => reason.Reason, reason => reason.Count);
    }

    private static ComplianceRow Row(string code, string name, IReadOnlyList<Judged> judged)
    {
        int due = judged.Sum(one => one.Tally.Due);
        int onTime = judged.Sum(one => one.Tally.OnTime);
        Duration within = Sum(judged, one => one.Of(Cause.InOrder));
        Duration judgedTime = Sum(judged, one => one.Tally.Judged);
        Judged? longest = judged.MaxBy(one => one.Tally.LongestGap.Elapsed);
        Dictionary<Cause, double> hours = Enum.GetValues<Cause>()
            .Select(cause => (cause, Hours: Sum(judged, one => one.Of(cause)).TotalHours))
            .Where(pair => pair.Hours > 0)
            .ToDictionary(pair => pair.cause, pair => pair.Hours);
        return new ComplianceRow(
            code,
            name,
            judged.Select(one => one.Unit).Distinct(StringComparer.OrdinalIgnoreCase).Count(),
            due,
            onTime,
            Share(judged),
            judgedTime == Duration.Zero ? null : within / judgedTime,
            longest?.Tally.LongestGap.Elapsed.TotalHours,
            longest?.Unit,
            hours,
            hours.Values.Sum());
    }

    private static Estimate? Share(IReadOnlyList<Judged> judged) => ClusteredShare.Of(
        judged.GroupBy(one => one.Unit, StringComparer.OrdinalIgnoreCase)
            .Select(unit => new UnitShare(unit.Sum(one => one.Tally.Due), unit.Sum(one => one.Tally.OnTime))),
        Level).Share;

    private static Duration Sum(IEnumerable<Judged> judged, Func<Judged, Duration> part) =>
        judged.Aggregate(Duration.Zero, (sum, one) => sum + part(one));

    private sealed record Judged((string Code, string Name) Group, string Unit, CleaningTally Tally, Duration WithoutRule)
    {
        public Duration Of(Cause cause) => cause == Cause.NoRule ? WithoutRule : Tally.Of(cause);
    }
}

/// <summary>The compliance of one window.</summary>
/// <param name="Window">The window.</param>
/// <param name="Total">All units together.</param>
/// <param name="Units">Due washes and those kept of each unit, by the unit's number.</param>
public sealed record WindowCompliance(Interval Window, ComplianceRow Total, IReadOnlyList<(int Unit, UnitShare Share)> Units);
