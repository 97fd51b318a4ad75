using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the report on how the washes that were due were kept.</summary>
/// <param name="registry">The registry.</param>
/// <param name="records">Reads the records.</param>
public sealed class ComplianceReports(RegistryCache registry, CleaningRecords records)
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
        ["rule"] = (_, rule) => (rule.Entry.Resource.Rule, CleaningSentences.Rule(rule.Rule)),
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
        IReadOnlyList<UnitTerms> units = CleaningReports.Select(await registry.CurrentAsync(cancellationToken), filter, from, to);
        KnownRecords known = await records.ReadAsync(units, from, to, cancellationToken);
        var window = new Interval(Instant.FromDateTimeOffset(from), Instant.FromDateTimeOffset(to));
        Judged[] judged = [.. units.SelectMany(unit => Judge(unit, known, by, window))];
        ComplianceRow total = Row("all", "All together", judged);
        return new ComplianceReport(
            new Basis(asOf, from, to, Method, null, total.Due, null, Excluded(judged), []),
            by,
            CleaningSentences.Compliance(total),
            total,
            [
                .. judged.GroupBy(one => one.Group).Select(group => Row(group.Key.Code, group.Key.Name, [.. group]))
                    .OrderBy(SortKey, StringComparer.Ordinal),
            ],
            null);
    }

    /// <summary>Sort key of a row: lowest share first, then the code.</summary>
    /// <param name="row">The row.</param>
    public static string SortKey(ComplianceRow row) =>
        string.Create(CultureInfo.InvariantCulture, $"{row.OnTimeShare?.Value ?? 2:F9} {row.Group.ToUpperInvariant()}");

    private static IEnumerable<Judged> Judge(UnitTerms unit, KnownRecords known, string by, Interval window) =>
        unit.Rules.Select(rule => new Judged(
            Groupings[by](unit, rule),
            unit.Unit.Resource.Unit,
            CauseTimeline.Compute(rule.Rule, unit.Calendar, known.Histories[unit.Unit.Id], window, known.From(unit, rule)).Summary));

    private static Dictionary<string, int> Excluded(IReadOnlyCollection<Judged> judged)
    {
        (string Reason, int Count)[] reasons =
        [
            ("silent_at_deadline", judged.Sum(one => one.Summary.Unknown)),
            ("out_of_service_when_due", judged.Sum(one => one.Summary.Excused)),
        ];
        return reasons.Where(reason => reason.Count > 0).ToDictionary(reason => reason.Reason, reason => reason.Count);
    }

    private static ComplianceRow Row(string code, string name, IReadOnlyList<Judged> judged)
    {
        int due = judged.Sum(one => one.Summary.Due);
        int onTime = judged.Sum(one => one.Summary.OnTime);
        Duration within = Sum(judged, one => one.Of(Cause.InOrder));
        Duration judgedTime = Sum(judged, one => one.Judged);
        Judged? longest = judged.MaxBy(one => one.Summary.LongestGap.Elapsed);
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
            longest?.Summary.LongestGap.Elapsed.TotalHours,
            longest?.Unit,
            hours,
            hours.Values.Sum());
    }

    private static Estimate? Share(IReadOnlyList<Judged> judged) => ClusteredShare.Of(
        judged.GroupBy(one => one.Unit, StringComparer.OrdinalIgnoreCase)
            .Select(unit => new UnitShare(unit.Sum(one => one.Summary.Due), unit.Sum(one => one.Summary.OnTime))),
        Level).Share;

    private static Duration Sum(IEnumerable<Judged> judged, Func<CleaningSummary, Duration> part) =>
        judged.Aggregate(Duration.Zero, (sum, one) => sum + part(one.Summary));

    private sealed record Judged((string Code, string Name) Group, string Unit, CleaningSummary Summary);
}
