using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The one next step for a unit on its own page, and the page that takes it.</summary>
public static class UnitSteps
{
    private static UnitStepTexts Texts => UnitTexts.Now.Steps;

    /// <summary>The next step.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="site">Code of its site.</param>
    /// <param name="rows">How it stands under each of its rules.</param>
    /// <returns>What to do in a few words, where, and why that.</returns>
    public static (string Words, string Url, string Why) Next(string unit, string site, IReadOnlyList<UnitCleaning> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        UnitCleaning? worst = rows.OrderBy(row => CleaningStates.IndexOf(row.State)).ThenBy(row => row.Grade == ProgrammeGrade.Descale)
            .ThenByDescending(row => row.OverdueHours).FirstOrDefault();
        return worst switch
        {
            null => (Texts.OpenSheet, Urls.VisitSheet(unit), Texts.NoRule),
            { State: CleaningState.Silent } => (Texts.CheckPlug, Urls.Site(site), Texts.Silent),
            { State: CleaningState.Due or CleaningState.Overdue, Grade: ProgrammeGrade.Descale, WhoseMove: "kitchen" } => (Texts.DescaleNow, Urls.Site(site), Texts.DescalingDue),
            { State: CleaningState.Due } => (Texts.WashNow, Urls.Site(site), Texts.Due),
            { State: CleaningState.LockedOut or CleaningState.Overdue } => Late(unit, site, worst.Cause),
            _ => (Texts.OpenSheet, Urls.VisitSheet(unit), Texts.NothingToDo),
        };
    }

    // Most pressing first, as lists have it.
    private static readonly List<CleaningState> CleaningStates =
    [
        CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Silent, CleaningState.Due, CleaningState.Clean, CleaningState.OutOfService, CleaningState.Closed,
    ];

    private static (string Words, string Url, string Why) Late(string unit, string site, Cause cause) => cause switch
    {
        Cause.StoppedByPerson => (Texts.RunOut, Urls.Site(site), Texts.StoppedByPerson),
        Cause.StoppedByFault => (Texts.PrepareAVisit, Urls.VisitSheet(unit), Texts.StoppedByFault),
        Cause.WashDidNotCount => (Texts.WashAgain, Urls.Site(site), Texts.DidNotCount),
        Cause.LockoutNoVisitAsked => (Texts.AskForAVisit, Urls.AskVisit(unit), Texts.NoVisitAsked),
        Cause.LockoutWaitingTechnician => (Texts.PrepareTheVisit, Urls.VisitSheet(unit), Texts.TechnicianAsked),
        Cause.LockoutWaitingApproval => (Texts.Decide, Urls.Approvals(new ApprovalFilter(null, Unit: unit)), Texts.WaitsForApproval),
        Cause.LockoutWaitingPart => (Texts.WhatToBring, Urls.VisitSheet(unit), Texts.WaitsForPart),
        Cause.BeingWorkedOn => (Texts.CloseOut, Urls.CloseOut(unit), Texts.WorkedOn),
        Cause.Silent => (Texts.CheckPlug, Urls.Site(site), Texts.NothingHeard),
        _ => (Texts.WashNow, Urls.Site(site), Texts.NobodyStarted),
    };
}
