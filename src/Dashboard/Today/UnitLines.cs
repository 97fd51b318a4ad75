using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Today;

/// <summary>Lines about how ovens stand: those that share a state and a cause share a line.</summary>
public static class UnitLines
{
    /// <summary>The lines, for whoever's move it is.</summary>
    /// <param name="rows">Ovens that are locked out, overdue or silent, each once.</param>
    /// <param name="asOf">The instant from which lengths are counted back.</param>
    public static IEnumerable<TodayLine> Of(IEnumerable<UnitCleaning> rows, DateTimeOffset asOf) =>
        rows.GroupBy(row => (row.State, row.Cause))
            .Select(group => Line(group.Key.State, group.Key.Cause, [.. group.OrderBy(row => row.Since ?? DateTimeOffset.MinValue)], asOf))
            .OfType<TodayLine>()
            .OrderBy(line => line.Since ?? DateTimeOffset.MinValue);

    private static TodayLine? Line(CleaningState state, Cause cause, UnitCleaning[] rows, DateTimeOffset asOf) => (state, cause) switch
    {
        (CleaningState.LockedOut, Cause.LockoutWaitingTechnician) => Make(
            TodayRole.Technician, rows, asOf, " cannot wash and ", "waits", "wait", " for a technician.",
            "No kitchen can mend a lockout. The visit sheet says what it can be, what to check first and what to bring.", "Visit sheet", Urls.VisitSheet(rows[0].Unit, null)),
        (CleaningState.LockedOut, Cause.BeingWorkedOn) => Make(
            TodayRole.Technician, rows, asOf, " cannot wash; work has begun and ", "is", "are", " not closed.",
            "A visit has begun and nobody has told how it ended.", "Close out the visit", Urls.CloseOut(rows[0].Unit)),
        (CleaningState.LockedOut, Cause.LockoutWaitingPart) => Make(
            TodayRole.Planner, rows, asOf, " cannot wash and ", "waits", "wait", " for a part.",
            "A technician was there and left until the part arrives.", "See the oven", Urls.Unit(rows[0].Unit)),
        (CleaningState.LockedOut, Cause.LockoutWaitingApproval) => null,
        (CleaningState.LockedOut, _) => Make(
            TodayRole.Operator, rows, asOf, " cannot wash and nobody has asked for ", "a visit", "visits", ".",
            "The kitchen's move: ask the service for a visit.", "See the kitchen's page", Urls.Site(rows[0].Site)),
        (CleaningState.Overdue, Cause.StoppedByFault) => Make(
            TodayRole.Technician, rows, asOf, " ", "is", "are", " overdue: a fault stopped the last wash.",
            "No lockout, but the next wash may stop again.", "Visit sheet", Urls.VisitSheet(rows[0].Unit, null)),
        (CleaningState.Overdue, Cause.BeingWorkedOn) => Make(
            TodayRole.Technician, rows, asOf, " ", "is", "are", " overdue; work has begun and is not closed.",
            "A visit has begun and nobody has told how it ended.", "Close out the visit", Urls.CloseOut(rows[0].Unit)),
        (CleaningState.Overdue, _) => Make(
            TodayRole.Operator, rows, asOf, " ", "is", "are", " overdue: " + Why(cause) + ".",
            Mend(cause), "See the kitchen's page", Urls.Site(rows[0].Site)),
        (CleaningState.Silent, _) => Make(
            TodayRole.Operator, rows, asOf, " ", "has", "have", " gone silent.",
            "Silence is not dirt: they may be clean or not. Look at the connection first.", "See the kitchen's page", Urls.Site(rows[0].Site)),
        _ => null,
    };

    // One oven leads to its own next step; several lead to the list of all of them, the longest first.
    private static TodayLine Make(
        TodayRole role, UnitCleaning[] rows, DateTimeOffset asOf, string before, string one, string many, string after, string reason, string action, string href)
    {
        UnitCleaning first = rows[0];
        return new TodayLine(
            role,
            TodaySentences.Ovens(rows.Length, first.Unit, first.SiteName) + before + (rows.Length == 1 ? one : many) + after,
            reason,
            first.Since,
            null,
            rows.Length,
            rows.Length == 1 ? [] : [.. rows.Take(TodayLine.MostItems).Select(row => Item(row, role, asOf))],
            rows.Length == 1 ? action : "See all " + Text.Count(rows.Length),
            rows.Length == 1 ? href : Urls.Cleaning(CleaningFilter.All with { State = first.State, Move = Enum.TryParse(first.WhoseMove, true, out Mover move) ? move : null }));
    }

    private static TodayItem Item(UnitCleaning row, TodayRole role, DateTimeOffset asOf) => new(
        row.Unit,
        row.SiteName + ", " + (row.Since is { } since ? Text.Duration((asOf - since).TotalHours) : "never heard"),
        role == TodayRole.Technician ? Urls.VisitSheet(row.Unit) : Urls.Unit(row.Unit));

    private static string Why(Cause cause) => cause switch
    {
        Cause.NobodyStarted => "nobody started a wash",
        Cause.StoppedByPerson => "a person stopped the last wash",
        Cause.WashDidNotCount => "the last wash did not count",
        _ => CleaningWords.Name(cause).ToLowerInvariant(),
    };

    private static string Mend(Cause cause) => cause switch
    {
        Cause.NobodyStarted => "The kitchen's move: start a wash of the grade that the rule asks, and let it run to its end.",
        Cause.StoppedByPerson => "The kitchen's move: let the next wash run to its end.",
        Cause.WashDidNotCount => "The kitchen's move: choose the grade that the rule asks, and look for detergent left over.",
        _ => "The longest come first.",
    };
}
