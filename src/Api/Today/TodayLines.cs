using System.Collections.Concurrent;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Approvals;
using Washwear.Api.Cleaning;
using Washwear.Api.Failures;
using Washwear.Api.Http;
using Washwear.Api.Planning;
using Washwear.Api.Repairs;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Api.Today;

/// <summary>Assembles the lines of what needs whom. Safe for concurrent use.</summary>
/// <param name="repairs">Judges repairs.</param>
/// <param name="approvals">What waits for an approval.</param>
/// <param name="failures">What fails again.</param>
/// <param name="signs">Whose washes get worse.</param>
/// <param name="plan">The dated plan.</param>
/// <param name="stock">What is short in store.</param>
internal sealed class TodayLines(
    FleetRepairs repairs, ApprovalReports approvals, FailureReports failures, EarlySignReports signs, VisitPlanReports plan, StockReports stock)
{
    private const int MostSigns = 200;
    private const int MostVisits = 200;
    private const int MostStockRows = 1000;
    private const int DecidedLookedAt = 50;
    private const int AllOpen = int.MaxValue - 1;
    private const int MostReaders = 16;

    // What fails again is a finding over a year: it need not be counted anew with every record that comes in.
    private static readonly TimeSpan Fresh = TimeSpan.FromMinutes(15);

    private readonly ConcurrentDictionary<ReaderPreferences, Found> _failing = new();

    /// <summary>The lines, role by role, and within a role what has waited longest first.</summary>
    /// <param name="role">Whose; null: everybody's.</param>
    /// <param name="units">Ovens that are locked out, overdue or silent, each once.</param>
    /// <param name="wearing">Parts likely to fail, most likely first.</param>
    /// <param name="refused">Rows refused at the door, by source.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<TodayLine>> AssembleAsync(
        TodayRole? role, IReadOnlyList<UnitCleaning> units, IReadOnlyList<WearingPart> wearing, IReadOnlyDictionary<string, int> refused,
        DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var lines = new List<TodayLine?>(UnitLines.Of(units, asOf));
        if (role is null or TodayRole.Technician)
        {
            ApprovalsReport decided = await approvals.AssembleDecidedAsync(new ApprovalFilter(null), DecidedLookedAt, asOf, cancellationToken);
            lines.Add(RepairLines.Granted(StillToDo(decided, units)));
            lines.AddRange(RepairLines.Unproven((await repairs.UnprovenAsync(asOf, cancellationToken)).All));
        }

        if (role is null or TodayRole.Service)
        {
            lines.Add(RepairLines.Waiting(await approvals.AssembleAsync(
                new ApprovalFilter(ApprovalState.Open), new PageRequest(AllOpen, null), asOf, cancellationToken)));
            lines.AddRange(ServiceLines.Failing(await FailingAsync(asOf, cancellationToken)));
            lines.Add(ServiceLines.Worse(
                await signs.AssembleAsync(CleaningFilter.All, asOf, new PageRequest(MostSigns, null), cancellationToken), asOf));
            lines.Add(ServiceLines.Refused(refused));
        }

        if (role is null or TodayRole.Planner)
        {
            var today = DateOnly.FromDateTime(asOf.UtcDateTime);
            VisitPlanReport visits = await plan.AssembleAsync(PlanFilter.All, new PageRequest(MostVisits, null), asOf, cancellationToken);
            lines.Add(PlannerLines.Visits(visits.Rows, today));
            lines.Add(PlannerLines.Due(visits.Rows, today));
            lines.Add(PlannerLines.Stock(await stock.AssembleAsync(PlanFilter.All, new PageRequest(MostStockRows, null), asOf, cancellationToken)));
            lines.Add(PlannerLines.Wearing(wearing));
        }

        return [.. lines.OfType<TodayLine>().Where(line => role is null || line.Role == role).OrderBy(line => line.Role)];
    }

    // What was approved before the present lockout began was for another one; an oven that has washed since has been repaired.
    private static ApprovalRow[] StillToDo(ApprovalsReport decided, IReadOnlyList<UnitCleaning> units)
    {
        Dictionary<string, DateTimeOffset?> lockedSince = units.Where(unit => unit.State == CleaningState.LockedOut && !unit.HasWashedSince)
            .ToDictionary(unit => unit.Unit, unit => unit.Since, StringComparer.OrdinalIgnoreCase);
        return
        [
            .. decided.Rows.Where(row => row.State == ApprovalState.Granted && lockedSince.TryGetValue(row.Unit, out DateTimeOffset? since) && row.DecidedAt >= since)
                .DistinctBy(row => row.Unit),
        ];
    }

    private async Task<IReadOnlyList<FailureDecision>> FailingAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        // Their sentences are written for whoever reads.
        ReaderPreferences reader = ReaderPreferences.Current.OfText;
        if (_failing.TryGetValue(reader, out Found? known) && asOf >= known.AsOf && asOf - known.AsOf < Fresh)
        {
            return known.Decisions;
        }

        IReadOnlyList<FailureDecision> decisions = (await failures.PageAsync(new FailureChoice(), asOf, cancellationToken)).Decisions;
        if (_failing.Count >= MostReaders)
        {
            _failing.Clear();
        }

        _failing[reader] = new Found(asOf, decisions);
        return decisions;
    }

    private sealed record Found(DateTimeOffset AsOf, IReadOnlyList<FailureDecision> Decisions);
}
