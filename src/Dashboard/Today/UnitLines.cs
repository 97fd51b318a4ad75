using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines about how ovens stand: those that share a state and a cause share a line.</summary>
public static class UnitLines
{
    private static UnitLineTexts Texts => TodayTexts.Now.Units;

    /// <summary>The lines, for whoever's move it is.</summary>
    /// <param name="rows">Ovens that are locked out, overdue or silent, each once.</param>
    /// <param name="asOf">The instant from which lengths are counted back.</param>
    public static IEnumerable<TodayLine> Of(IEnumerable<UnitCleaning> rows, DateTimeOffset asOf) =>
        rows.GroupBy(row => row.HasWashedSince
                ? (row.State, Cause: Cause.InOrder, IsToDescale: false)
                : (row.State, row.Cause, IsToDescale: row is { State: CleaningState.Overdue, Grade: ProgrammeGrade.Descale, WhoseMove: "kitchen" }))
            .Select(group => Line(group.Key.State, group.Key.Cause, group.Key.IsToDescale, [.. group.OrderBy(row => row.Since ?? DateTimeOffset.MinValue)], asOf))
            .OfType<TodayLine>()
            .OrderBy(line => line.Since ?? DateTimeOffset.MinValue);

    private static TodayLine? Line(CleaningState state, Cause cause, bool isToDescale, UnitCleaning[] rows, DateTimeOffset asOf) => (state, cause) switch
    {
        _ when isToDescale => Make(TodayRole.Operator, rows, asOf, Texts.ToDescale, Urls.Site(rows[0].Site)),
        (CleaningState.LockedOut, Cause.InOrder) => Make(TodayRole.Service, rows, asOf, Texts.WashedSince, Urls.Unit(rows[0].Unit)),
        (CleaningState.LockedOut, Cause.LockoutWaitingTechnician) =>
            Make(TodayRole.Technician, rows, asOf, Texts.WaitsForTechnician, Urls.VisitSheet(rows[0].Unit, null)),
        (CleaningState.LockedOut, Cause.BeingWorkedOn) => Make(TodayRole.Technician, rows, asOf, Texts.LockedOutInWork, Urls.CloseOut(rows[0].Unit)),
        (CleaningState.LockedOut, Cause.LockoutWaitingPart) => Make(TodayRole.Planner, rows, asOf, Texts.WaitsForPart, Urls.Unit(rows[0].Unit)),
        (CleaningState.LockedOut, Cause.LockoutWaitingApproval) => null,
        (CleaningState.LockedOut, _) => Make(TodayRole.Operator, rows, asOf, Texts.NoVisitAsked, Urls.Site(rows[0].Site)),
        (CleaningState.Overdue, Cause.StoppedByFault) => Make(TodayRole.Technician, rows, asOf, Texts.StoppedByFault, Urls.VisitSheet(rows[0].Unit, null)),
        (CleaningState.Overdue, Cause.BeingWorkedOn) => Make(TodayRole.Technician, rows, asOf, Texts.OverdueInWork, Urls.CloseOut(rows[0].Unit)),
        (CleaningState.Overdue, _) => Make(TodayRole.Operator, rows, asOf, Overdue(cause), Urls.Site(rows[0].Site)),
        (CleaningState.Silent, _) => Make(TodayRole.Operator, rows, asOf, Texts.Silent, Urls.Site(rows[0].Site)),
        _ => null,
    };

    private static LineTexts Overdue(Cause cause) => cause switch
    {
        Cause.NobodyStarted => Texts.NobodyStarted,
        Cause.StoppedByPerson => Texts.StoppedByPerson,
        Cause.WashDidNotCount => Texts.WashDidNotCount,
        _ => Texts.OtherCause,
    };

    // One oven leads to its own next step; several lead to the list of all of them, the longest first.
    private static TodayLine Make(TodayRole role, UnitCleaning[] rows, DateTimeOffset asOf, LineTexts texts, string href)
    {
        UnitCleaning first = rows[0];
        return new TodayLine(
            role,
            texts.Sentence.For(rows.Length, ("unit", first.Unit), ("site", first.SiteName), ("cause", Texts.Causes[first.Cause])),
            texts.Reason,
            first.Since,
            null,
            rows.Length,
            rows.Length == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => Item(row, role, asOf))],
            rows.Length == 1 ? texts.Action : Fill.In(Texts.SeeAll, ("count", Text.Count(rows.Length))),
            rows.Length == 1 ? href : Urls.Cleaning(CleaningFilter.All with { State = first.State, Move = Enum.TryParse(first.WhoseMove, true, out Mover move) ? move : null }));
    }

    private static TodayItem Item(UnitCleaning row, TodayRole role, DateTimeOffset asOf) => new(
        row.Unit,
        row.SiteName + ", " + (row.Since is { } since ? Text.Duration((asOf - since).TotalHours) : Texts.NeverHeard),
        role == TodayRole.Technician ? Urls.VisitSheet(row.Unit) : Urls.Unit(row.Unit));
}
