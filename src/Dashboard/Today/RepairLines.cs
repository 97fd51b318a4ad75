using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines about repairs that are not proven, and about approvals.</summary>
public static class RepairLines
{
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
            rows.Length == 1
                ? "The repair of " + rows[0].Unit + " at " + rows[0].SiteName + " is approved and not done."
                : Text.Counted(rows.Length, "repair") + " are approved and not done.",
            "The oven still cannot wash: fit the part, and prove the repair before you leave.",
            rows[0].DecidedAt,
            null,
            rows.Length,
            [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.What ?? row.PositionName ?? row.SiteName, Urls.VisitSheet(row.Unit)))],
            "Visit sheet" + (rows.Length == 1 ? string.Empty : " of " + rows[0].Unit),
            Urls.VisitSheet(rows[0].Unit));
    }

    /// <summary>Repairs that wait for an approval.</summary>
    /// <param name="open">The open approvals.</param>
    public static TodayLine? Waiting(ApprovalsReport open)
    {
        ArgumentNullException.ThrowIfNull(open);
        return open.Open == 0 ? null : new TodayLine(
            TodayRole.Service,
            open.Open == 1 ? "1 repair waits for an approval." : Text.Count(open.Open) + " repairs wait for an approval.",
            BehindColon(open.Sentence),
            open.Rows.Min(row => row.AskedAt),
            null,
            open.Open,
            [.. open.Rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.SiteName + (row.WaitedHours is { } hours ? ", asked " + Text.Duration(hours) + " ago" : string.Empty), Urls.Unit(row.Unit)))],
            "Decide",
            Urls.Approvals());
    }

    private static TodayLine Unproven(RepairRow[] rows)
    {
        RepairRow first = rows[0];
        bool inDoubt = first.State == RepairState.Contradicted;
        return new TodayLine(
            TodayRole.Technician,
            rows.Length == 1
                ? "The repair of " + first.Unit + " at " + first.SiteName + (inDoubt ? " is in doubt." : " is not proven.")
                : Text.Counted(rows.Length, "repair") + (inDoubt ? " are in doubt." : " are not proven."),
            BehindColon(first.Sentence) + (inDoubt ? " Look again: the next wash may show it." : " That would prove it."),
            first.LeftAt,
            null,
            rows.Length,
            rows.Length == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.Unit, row.SiteName, Urls.Unit(row.Unit)))],
            rows.Length == 1 ? "See the oven" : "See each with what is missing",
            rows.Length == 1 ? Urls.Unit(first.Unit) : Urls.TodayOf(TodayRole.Technician) + "#unproven");
    }

    // The line's own sentence says what stands before it.
    private static string BehindColon(string sentence) => Text.Capital(sentence[(sentence.IndexOf(':', StringComparison.Ordinal) + 1)..].Trim());
}
