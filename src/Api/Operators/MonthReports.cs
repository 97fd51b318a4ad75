using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Memories;
using Washwear.Api.PartLife;
using Washwear.Api.Planning;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Repairs;

namespace Washwear.Api.Operators;

/// <summary>Assembles an operator's month.</summary>
internal sealed class MonthReports
{
    private const int KitchensShown = 10;
    private const int VisitsShown = 10;

    private readonly RegistryCache _registry;
    private readonly ComplianceReports _compliance;
    private readonly DelayReports _delays;
    private readonly FleetRepairs _repairs;
    private readonly FleetWear _wear;
    private readonly VisitPlanReports _plans;
    private readonly Answers<(string Operator, LocalDate? First), Found> _answers;

    /// <summary>Begins with nothing.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="compliance">How washes were kept.</param>
    /// <param name="delays">Where the time of lockouts went.</param>
    /// <param name="repairs">Judges repairs.</param>
    /// <param name="wear">Fitted parts and those that were taken out.</param>
    /// <param name="plans">What is planned.</param>
    /// <param name="renewals">Makes reports of large fleets anew.</param>
    public MonthReports(RegistryCache registry, ComplianceReports compliance, DelayReports delays, FleetRepairs repairs, FleetWear wear, VisitPlanReports plans,
        Renewals renewals)
    {
        (_registry, _compliance, _delays, _repairs, _wear, _plans) = (registry, compliance, delays, repairs, wear, plans);
        _answers = new(renewals, "month", registry, AssembleAnewAsync);
    }

    /// <summary>The month of an operator.</summary>
    /// <param name="code">Code of the operator.</param>
    /// <param name="first">First day of the month; null: the last month that is over.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>Whether there is such an operator; the report, null where less than an hour of the month is over.</returns>
    public async Task<(bool Known, MonthReport? Report)> AssembleAsync(
        string code, LocalDate? first, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        // Codes that nobody knows are not kept.
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        if (!snapshot.Operators.TryGetValue(code, out OperatorEntry? entry))
        {
            return (false, null);
        }

        Found found = await _answers.OfAsync((entry.Resource.Operator, first), asOf, cancellationToken);
        return (found.Known, found.Report);
    }

    private async Task<Found> AssembleAnewAsync((string Operator, LocalDate? First) asked, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        if (!snapshot.Operators.TryGetValue(asked.Operator, out OperatorEntry? entry))
        {
            return new Found(false, null);
        }

        UnitEntry[] units = [.. snapshot.UnitList.Where(unit => ReferenceEquals(unit.Site.Operator, entry))];
        return ReportMonth.Of(units, asked.First, asOf) is { } month
            ? new Found(true, await AssembleAsync(entry, units, month, asOf, cancellationToken))
            : new Found(true, null);
    }

    private async Task<MonthReport> AssembleAsync(
        OperatorEntry entry, UnitEntry[] units, ReportMonth month, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        string code = entry.Resource.Operator;
        CleaningFilter filter = CleaningFilter.All with { Operator = code };
        (DateTimeOffset from, DateTimeOffset to) = (month.From.ToDateTimeOffset(), month.To.ToDateTimeOffset());
        WashingChange washing = await WashingAsync(filter, month, cancellationToken);
        ComplianceReport bySite = await _compliance.AssembleAsync(filter, "site", from, to, asOf, cancellationToken, remember: true);
        ComplianceReport byUnit = await _compliance.AssembleAsync(filter, "unit", from, to, asOf, cancellationToken, remember: true);
        MonthKitchen[] missed = [.. bySite.Rows.Select(Kitchen).Where(row => row.Missed > 0).OrderByDescending(row => row.Missed).ThenBy(row => row.Site, StringComparer.Ordinal)];
        IReadOnlyList<UnitTerms> served = CleaningReports.Select(await _registry.CurrentAsync(cancellationToken), filter, from, to);
        MonthLockout[] lockouts = await LockoutsAsync(served, month, cancellationToken);
        IReadOnlyList<RepairRow> done = await _repairs.EndedAsync(served, from, to, asOf, cancellationToken);
        MonthSilence[] silent = Silent(byUnit, units);
        return new MonthReport(
            byUnit.Basis with { Method = MonthSentences.Method, N = washing.Now.Due },
            code,
            entry.Resource.Name,
            month.Code,
            month.Name,
            month.Zone.Id,
            month.IsOver,
            MonthSentences.Finding(month.Name, month.IsOver, washing.Now, lockouts, done, silent.Length),
            bySite.Rows.Count,
            byUnit.Total.Units,
            washing,
            [.. missed.Take(KitchensShown)],
            missed.Length,
            lockouts,
            done,
            MonthParts.Of((await _wear.CurrentAsync(asOf, cancellationToken)).ByUnit, units, from, to),
            await _plans.AssembleAsync(new PlanFilter(Operator: code), new PageRequest(VisitsShown, null), asOf, cancellationToken),
            silent);
    }

    private async Task<WashingChange> WashingAsync(CleaningFilter filter, ReportMonth month, CancellationToken cancellationToken)
    {
        IReadOnlyList<WindowCompliance> counted = await _compliance.AssembleWindowsAsync(
            filter, [new Interval(month.Before, month.From), new Interval(month.From, month.To)], cancellationToken);
        return WashingChanges.Of(counted[0], counted[1], month.IsOver ? WashingCompared.Month : WashingCompared.MonthSoFar, month.Name);
    }

    private static MonthKitchen Kitchen(ComplianceRow row)
    {
        KeyValuePair<Cause, double>[] overdue = [.. row.HoursByCause.Where(pair => pair.Key.IsOverdue() && pair.Value > 0).OrderByDescending(pair => pair.Value)];
        return new MonthKitchen(
            row.Group, row.Name, row.Units, row.Due, row.OnTime, row.OnTimeShare,
            overdue.Length == 0 ? null : overdue[0].Key, overdue.Length == 0 ? 0 : overdue[0].Value);
    }

    private async Task<MonthLockout[]> LockoutsAsync(IReadOnlyList<UnitTerms> units, ReportMonth month, CancellationToken cancellationToken) =>
    [
        .. (await _delays.LockoutsAsync(units, new Interval(month.From, month.To), cancellationToken))
            .Select(one =>
            {
                SiteEntry site = one.Unit.Unit.Site;
                return new MonthLockout(
                    one.Unit.Unit.Resource.Unit,
                    site.Resource.Site,
                    site.Resource.Name,
                    site.Resource.TimeZone,
                    one.Lockout.RaisedAt.ToDateTimeOffset(),
                    one.Lockout.ClearedAt?.ToDateTimeOffset(),
                    one.Lockout.Spans.Sum(span => span.Length.TotalHours),
                    one.Lockout.Codes,
                    one.Lockout.Codes.Select(fault => one.Unit.Unit.Model.Faults.GetValueOrDefault(fault)?.Text).FirstOrDefault(),
                    one.Lockout.Spans.GroupBy(span => span.Kind).OrderByDescending(kind => kind.Sum(span => span.Length.TotalHours))
                        .Select(kind => kind.Key).FirstOrDefault());
            })
            .Where(row => row.Hours > 0)
            .OrderByDescending(row => row.Hours).ThenBy(row => row.Unit, StringComparer.Ordinal),
    ];

    private static MonthSilence[] Silent(ComplianceReport byUnit, UnitEntry[] units)
    {
        Dictionary<string, UnitEntry> known = units.ToDictionary(unit => unit.Resource.Unit, StringComparer.OrdinalIgnoreCase);
        return
        [
            .. byUnit.Rows.Select(row => (row.Group, Hours: row.HoursByCause.GetValueOrDefault(Cause.Silent)))
                .Where(row => row.Hours > 0 && known.ContainsKey(row.Group))
                .OrderByDescending(row => row.Hours).ThenBy(row => row.Group, StringComparer.Ordinal)
                .Select(row => new MonthSilence(row.Group, known[row.Group].Site.Resource.Site, known[row.Group].Site.Resource.Name, row.Hours)),
        ];
    }

    /// <param name="Known">Whether there is such an operator.</param>
    /// <param name="Report">The report; null where less than an hour of the month is over.</param>
    private sealed record Found(bool Known, MonthReport? Report);
}
