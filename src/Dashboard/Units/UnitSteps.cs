using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The one next step for a unit on its own page, and the page that takes it.</summary>
public static class UnitSteps
{
    /// <summary>The next step.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="site">Code of its site.</param>
    /// <param name="rows">How it stands under each of its rules.</param>
    /// <returns>What to do in a few words, where, and why that.</returns>
    public static (string Words, string Url, string Why) Next(string unit, string site, IReadOnlyList<UnitCleaning> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        UnitCleaning? worst = rows.OrderBy(row => CleaningStates.IndexOf(row.State)).ThenByDescending(row => row.OverdueHours).FirstOrDefault();
        return worst switch
        {
            null => ("Open the visit sheet", Urls.VisitSheet(unit), "No cleaning rule applies, so no wash is due."),
            { State: CleaningState.Silent } => ("Check plug and network", Urls.Site(site), "Nothing is heard from it: whether it is clean, nobody knows."),
            { State: CleaningState.Due } => ("Wash it now", Urls.Site(site), "A wash is due and can still be on time."),
            { State: CleaningState.LockedOut or CleaningState.Overdue } => Late(unit, site, worst.Cause),
            _ => ("Open the visit sheet", Urls.VisitSheet(unit), "Nothing has to be done now."),
        };
    }

    // Most pressing first, as lists have it.
    private static readonly List<CleaningState> CleaningStates =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Silent, CleaningState.Due, CleaningState.Clean, CleaningState.OutOfService, CleaningState.Closed,
    ];

    private static (string Words, string Url, string Why) Late(string unit, string site, Cause cause) => cause switch
    {
        Cause.StoppedByPerson => ("Wash it and let it run out", Urls.Site(site), "The last wash was stopped by a person."),
        Cause.StoppedByFault => ("Prepare a visit", Urls.VisitSheet(unit), "A fault stopped the last wash: a technician has to look."),
        Cause.WashDidNotCount => ("Wash it again", Urls.Site(site), "The last wash does not count."),
        Cause.LockoutNoVisitAsked => ("Prepare a visit", Urls.VisitSheet(unit), "It cannot wash, and nobody has asked for a visit."),
        Cause.LockoutWaitingTechnician => ("Prepare the visit", Urls.VisitSheet(unit), "A technician has been asked for."),
        Cause.LockoutWaitingApproval => ("Decide on the repair", Urls.Approvals(new ApprovalFilter(null, Unit: unit)), "The repair waits for a yes or a no."),
        Cause.LockoutWaitingPart => ("See what to bring", Urls.VisitSheet(unit), "The repair waits for a part."),
        Cause.BeingWorkedOn => ("Close out the visit", Urls.CloseOut(unit), "Somebody is at work on it; a full wash proves the repair."),
        Cause.Silent => ("Check plug and network", Urls.Site(site), "Nothing is heard from it."),
        _ => ("Wash it now", Urls.Site(site), "Nobody has started the wash that was due."),
    };
}
