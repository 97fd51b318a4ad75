using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines for whoever plans visits, swaps and stock.</summary>
public static class PlannerLines
{
    /// <summary>Days ahead that a planner is shown.</summary>
    public const int DaysAhead = 14;

    /// <summary>Visits of the next days.</summary>
    /// <param name="visits">Planned visits by day.</param>
    /// <param name="today">The present day.</param>
    public static TodayLine? Visits(IEnumerable<PlannedVisit> visits, DateOnly today)
    {
        PlannedVisit[] soon = [.. visits.Where(visit => visit.Date <= today.AddDays(DaysAhead))];
        return soon.Length == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Text.Counted(soon.Length, "visit is", "visits are") + " planned for the next " + Text.Count(DaysAhead) + " days.",
            Text.Counted(soon.Sum(visit => visit.Jobs.Count), "part") + " to swap in " + Text.Duration(soon.Sum(visit => visit.Minutes) / 60) + " of work. First: " + soon[0].Sentence,
            null,
            soon[0].Date,
            soon.Length,
            [.. soon.Take(TodayLine.MostItems).Select(visit => new TodayItem(visit.SiteName, Text.WeekdayMonth(visit.Date), Urls.Plan(new PlanFilter { Site = visit.Site })))],
            "Open the plan",
            Urls.Plan());
    }

    /// <summary>Parts past the age at which replacing them is cheapest.</summary>
    /// <param name="visits">Planned visits by day.</param>
    /// <param name="today">The present day.</param>
    public static TodayLine? Due(IEnumerable<PlannedVisit> visits, DateOnly today)
    {
        VisitJob[] due = [.. visits.SelectMany(visit => visit.Jobs).Where(job => job.DueOn <= today && job.Decision is null).OrderBy(job => job.DueOn)];
        return due.Length == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Text.Counted(due.Length, "part has", "parts have") + " reached the age at which a swap is cheapest.",
            "Nobody has accepted, postponed or rejected these swaps; the plan joins them into visits.",
            null,
            due[0].DueOn,
            due.Length,
            [.. due.Take(TodayLine.MostItems).Select(job => new TodayItem(job.Unit, job.PositionName + ", due " + Text.WeekdayMonth(job.DueOn!.Value), Urls.Plan(new PlanFilter { Unit = job.Unit })))],
            "Decide in the plan",
            Urls.Plan());
    }

    /// <summary>Stock that is short.</summary>
    /// <param name="stock">What to stock, what is to be ordered first.</param>
    public static TodayLine? Stock(StockReport stock)
    {
        ArgumentNullException.ThrowIfNull(stock);
        StockRow[] rows = [.. stock.Rows.Where(row => row.OrderNow > 0)];
        return stock.ToOrder == 0 || rows.Length == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Text.Counted(stock.ToOrder, "part number is", "part numbers are") + " short in store.",
            "What lies there does not last over the supplier's lead time with the chance that is asked for.",
            null,
            null,
            stock.ToOrder,
            [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.PartNumber, "order " + Text.Count(row.OrderNow!.Value) + (row.StockPointName is { } at ? " for " + at : string.Empty), Urls.PlanStock(new PlanFilter { StockPoint = row.StockPoint })))],
            "See what to order",
            Urls.PlanStock());
    }

    /// <summary>Parts that are likely to fail.</summary>
    /// <param name="parts">The parts, most likely first.</param>
    public static TodayLine? Wearing(IReadOnlyList<WearingPart> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return parts.Count == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Text.Counted(parts.Count, "fitted part is", "fitted parts are") + " the most likely to fail within 90 days.",
            "Of parts that got as old as these, at least one in ten fails within that time.",
            null,
            null,
            parts.Count,
            [.. parts.Take(TodayLine.MostItems).Select(part => new TodayItem(part.Unit, part.PositionName + ", " + Text.Share(part.ChanceToFail90Days), Urls.Unit(part.Unit)))],
            "See each with its chance",
            Urls.TodayOf(TodayRole.Planner) + "#wearing");
    }
}
