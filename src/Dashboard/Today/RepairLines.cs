using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines about repairs that are not proven, and about approvals.</summary>
public static class RepairLines
{
    private static RepairLineTexts Texts => TodayTexts.Now.Repairs;

    /// <summary>Repairs that nothing proves; those with one same doubt share a line.</summary>
    /// <param name="rows">The repairs.</param>
    public static IEnumerable<TodayLine> Unproven(IEnumerable<RepairRow> rows) =>
        rows.GroupBy(row => (row.State, row.Contradiction, Missing: string.Join(' ', row.Missing)))
            .Select(group => Unproven([.. group.OrderBy(row => row.LeftAt)]))
            .OrderByDescending(line => line.Count);

    /// <summary>Repairs that were approved and are not done.</summary>
    /// <param name="granted">The approvals that were granted, at units that still cannot wash.</param>
    public static TodayLine? Granted(IReadOnlyList<ApprovalRow> granted)
    {
        ArgumentNullException.ThrowIfNull(granted);
        ApprovalRow[] rows = [.. granted.OrderBy(row => row.DecidedAt)];
        return rows.Length == 0 ? null : new TodayLine(
            TodayRole.Technician,
            Texts.Granted.Sentence.For(rows.Length, ("unit", rows[0].Unit), ("site", rows[0].SiteName)),
            Texts.Granted.Reason,
            rows[0].DecidedAt,
            null,
            rows.Length,
            [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.What ?? row.PositionName ?? row.SiteName, Urls.VisitSheet(row.Unit)))],
            rows.Length == 1 ? Texts.Granted.Action : Fill.In(Texts.SheetOf, ("unit", rows[0].Unit)),
            Urls.VisitSheet(rows[0].Unit));
    }

    /// <summary>Repairs that wait for an approval.</summary>
    /// <param name="open">The open approvals, all of them: what waiting costs is summed over them.</param>
    public static TodayLine? Waiting(ApprovalsReport open)
    {
        ArgumentNullException.ThrowIfNull(open);
        return open.Open == 0 ? null : new TodayLine(
            TodayRole.Service,
            Texts.WaitsForApproval.For(open.Open),
            Text.Sentence(ApprovalSentences.Waiting(open.Rows)),
            open.Rows.Min(row => row.AskedAt),
            null,
            open.Open,
            [.. open.Rows.Take(TodayLine.MostItems).Select(row => new TodayItem(
                row.Unit, row.SiteName + (row.WaitedHours is { } hours ? ", " + Fill.In(Texts.Asked, ("time", Text.DurationAfter(hours))) : string.Empty), Urls.Unit(row.Unit)))],
            Texts.Decide,
            Urls.Approvals());
    }

    private static TodayLine Unproven(RepairRow[] rows)
    {
        RepairRow first = rows[0];
        bool inDoubt = first.State == RepairState.Contradicted;
        return new TodayLine(
            TodayRole.Technician,
            (inDoubt ? Texts.InDoubt : Texts.NotProven).For(rows.Length, ("unit", first.Unit), ("site", first.SiteName)),
            Fill.In(inDoubt ? Texts.InDoubtSays : Texts.NotProvenSays, (inDoubt ? "why" : "missing", Text.Sentence(RepairSentences.Unsettled(first)))),
            first.LeftAt,
            null,
            rows.Length,
            rows.Length == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.SiteName, Urls.Unit(row.Unit)))],
            rows.Length == 1 ? Texts.SeeOven : Texts.SeeEach,
            rows.Length == 1 ? Urls.Unit(first.Unit) : Urls.TodayOf(TodayRole.Technician) + "#unproven");
    }
}
