using NodaTime;
using Washwear.Api.Approvals;
using Washwear.Api.Cleaning;
using Washwear.Api.Failures;
using Washwear.Api.Http;
using Washwear.Api.Planning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Operators;

/// <summary>Assembles an operator's page.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="compliance">How washes were kept.</param>
/// <param name="approvals">Approvals.</param>
/// <param name="failures">What came back.</param>
/// <param name="plans">What is planned.</param>
internal sealed class OperatorReports(
    RegistryCache registry, CleaningReports cleaning, ComplianceReports compliance, ApprovalReports approvals, FailureReports failures, VisitPlanReports plans)
{
    /// <summary>Length of each of the two stretches that washing is compared over, days.</summary>
    public const int WindowDays = 28;

    private const int RepeatDays = 90;
    private const int RowsShown = 5;

    /// <summary>One operator.</summary>
    /// <param name="code">Code of the operator.</param>
    /// <param name="page">The page of kitchens asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <param name="onlyWithStep">Whether the first page ends with the last kitchen for which there is something to do.</param>
    /// <returns>The report; null when there is no such operator.</returns>
    public async Task<OperatorReport?> AssembleAsync(
        string code, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken, bool onlyWithStep = false)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Operators.TryGetValue(code, out OperatorEntry? entry))
        {
            return null;
        }

        string known = entry.Resource.Operator;
        CleaningFilter filter = CleaningFilter.All with { Operator = known };
        // Independent of each other, so side by side where there are cores.
        Task<WashingChange> washing = Task.Run(() => WashingAsync(filter, asOf, cancellationToken), cancellationToken);
        Task<ApprovalsReport> waits = Task.Run(
            () => approvals.AssembleAsync(new ApprovalFilter(ApprovalState.Open, known), new PageRequest(RowsShown, null), asOf, cancellationToken), cancellationToken);
        Task<OperatorRepeats> repeated = Task.Run(() => RepeatsAsync(known, asOf, cancellationToken), cancellationToken);
        Task<VisitPlanReport> planned = Task.Run(
            () => plans.AssembleAsync(new PlanFilter(Operator: known), new PageRequest(RowsShown, null), asOf, cancellationToken), cancellationToken);
        CleaningStatusReport status = await cleaning.AssembleStatusAsync(filter, asOf, cancellationToken);
        OperatorKitchen[] kitchens = KitchenRows.Of(snapshot.SiteList.Where(site => ReferenceEquals(site.Operator, entry)), status.Rows, asOf);
        if (onlyWithStep && page.After is null)
        {
            page = page with { Limit = Math.Min(page.Limit, Math.Max(1, kitchens.Count(row => row.NextStep is not null))) };
        }

        PageOf<OperatorKitchen> shown = Paging.TakeSorted(kitchens, row => KitchenRows.Key(row, asOf), page);
        int waiting = kitchens.Count(row => row.UnitsThatWait > 0);
        return new OperatorReport(
            status.Basis with { Method = OperatorSentences.Method, N = status.UnitsByState.Values.Sum() },
            known,
            entry.Resource.Name,
            OperatorSentences.Finding(status.UnitsByState, kitchens.Length, waiting),
            kitchens.Length,
            waiting,
            CleaningReports.Select(snapshot, filter, asOf, asOf).Count,
            status.UnitsByState,
            await washing,
            await waits,
            await repeated,
            await planned,
            shown.Items,
            shown.Next);
    }

    private async Task<WashingChange> WashingAsync(CleaningFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var hour = Instant.FromDateTimeOffset(ComplianceReports.LastFullHour(asOf));
        Instant middle = hour - Duration.FromDays(WindowDays);
        IReadOnlyList<WindowCompliance> counted = await compliance.AssembleWindowsAsync(
            filter, [new Interval(middle - Duration.FromDays(WindowDays), middle), new Interval(middle, hour)], cancellationToken);
        return WashingChanges.Of(counted[0], counted[1], WashingCompared.Days);
    }

    private async Task<OperatorRepeats> RepeatsAsync(string code, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var from = new DateTimeOffset(asOf.UtcDateTime.Date.AddDays(-RepeatDays), TimeSpan.Zero);
        RepeatsReport found = await failures.RepeatsAsync(
            new FailureChoice { Operator = code, From = from }, new PageRequest(RowsShown, null), asOf, cancellationToken);
        int count = found.Basis.Failures ?? 0;
        return new OperatorRepeats(
            RepeatDays, count, OperatorSentences.Repeats(found.Basis.N, count, RepeatDays, found.WindowDays), found.Repeats);
    }
}
