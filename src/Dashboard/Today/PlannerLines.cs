using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines for whoever plans visits, swaps and stock.</summary>
public static class PlannerLines
{
    /// <summary>Days ahead that a planner is shown.</summary>
    public const int DaysAhead = 14;

    private static PlannerLineTexts Texts => TodayTexts.Now.Planner;

    /// <summary>Visits of the next days.</summary>
    /// <param name="visits">Planned visits by day.</param>
    /// <param name="today">The present day.</param>
    public static TodayLine? Visits(IEnumerable<PlannedVisit> visits, DateOnly today)
    {
        PlannedVisit[] soon = [.. visits.Where(visit => visit.Date <= today.AddDays(DaysAhead))];
        return soon.Length == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Texts.Visits.For(soon.Length, ("days", Text.Count(DaysAhead))),
            Texts.VisitsSay.For(
                soon.Sum(visit => visit.Jobs.Count), ("time", Text.Duration(soon.Sum(visit => visit.Minutes) / 60)), ("first", soon[0].Sentence)),
            null,
            soon[0].Date,
            soon.Length,
            [.. soon.Take(TodayLine.MostItems).Select(visit => new TodayItem(visit.SiteName, Text.WeekdayMonth(visit.Date), Urls.Plan(new PlanFilter { Site = visit.Site })))],
            Texts.OpenPlan,
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
            Texts.Due.Sentence.For(due.Length),
            Texts.Due.Reason,
            null,
            due[0].DueOn,
            due.Length,
            [.. due.Take(TodayLine.MostItems).Select(job => new TodayItem(
                job.Unit, Fill.In(Texts.DueOn, ("position", job.PositionName), ("day", Text.WeekdayMonth(job.DueOn!.Value))), Urls.Plan(new PlanFilter { Unit = job.Unit })))],
            Texts.Due.Action,
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
            Texts.Stock.Sentence.For(stock.ToOrder),
            Texts.Stock.Reason,
            null,
            null,
            stock.ToOrder,
            [.. rows.Take(TodayLine.MostItems).Select(row => new TodayItem(row.PartNumber, Order(row), Urls.PlanStock(new PlanFilter { StockPoint = row.StockPoint })))],
            Texts.Stock.Action,
            Urls.PlanStock());
    }

    /// <summary>Parts that are likely to fail.</summary>
    /// <param name="parts">The parts, most likely first.</param>
    public static TodayLine? Wearing(IReadOnlyList<WearingPart> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return parts.Count == 0 ? null : new TodayLine(
            TodayRole.Planner,
            Texts.Wearing.Sentence.For(parts.Count),
            Texts.Wearing.Reason,
            null,
            null,
            parts.Count,
            [.. parts.Take(TodayLine.MostItems).Select(part => new TodayItem(part.Unit, part.PositionName + ", " + Text.Share(part.ChanceToFail90Days), Urls.Unit(part.Unit)))],
            Texts.Wearing.Action,
            Urls.TodayOf(TodayRole.Planner) + "#wearing");
    }

    private static string Order(StockRow row)
    {
        string count = Text.Count(row.OrderNow!.Value);
        return row.StockPointName is { } at ? Fill.In(Texts.OrderFor, ("count", count), ("stock_point", at)) : Fill.In(Texts.Order, ("count", count));
    }
}
