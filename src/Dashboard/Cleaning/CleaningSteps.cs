using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The one next step for a unit, and where to take it from.</summary>
public static class CleaningSteps
{
    /// <summary>Those who can have the move, in the order of the page.</summary>
    public static IReadOnlyList<Mover> Movers { get; } = [Mover.Kitchen, Mover.Service, Mover.Approver, Mover.Supplier, Mover.Connection];

    private static CleaningStepTexts Texts => CleaningTexts.Now.Steps;

    /// <summary>What one who has the move does about it.</summary>
    /// <param name="mover">Whose move it is.</param>
    /// <returns>A few words.</returns>
    public static string Task(Mover mover) => CleaningTexts.Now.Tasks[mover];

    /// <summary>The next step for a unit.</summary>
    /// <param name="row">How it stands.</param>
    /// <returns>The step in a few words and the page that helps with it; null where there is none.</returns>
    public static (string Words, string Url)? Next(UnitCleaning row)
    {
        ArgumentNullException.ThrowIfNull(row);
        string? words = row.State switch
        {
            CleaningState.Due or CleaningState.Overdue when row.WhoseMove == "kitchen" && row.Grade == ProgrammeGrade.Descale => Texts.DescaleNow,
            CleaningState.Due => Texts.WashNow,
            CleaningState.Silent => Texts.CheckPlug,
            CleaningState.Overdue or CleaningState.LockedOut => Overdue(row.Cause),
            _ => null,
        };
        return words is null ? null
            : (words, row is { State: CleaningState.LockedOut, Cause: Cause.LockoutNoVisitAsked } ? Urls.AskVisit(row.Unit)
                : row.WhoseMove == "kitchen" ? Urls.Site(row.Site)
                : Urls.Unit(row.Unit));
    }

    private static string Overdue(Cause cause) => cause switch
    {
        Cause.StoppedByPerson => Texts.RunOut,
        Cause.StoppedByFault => Texts.SendTechnician,
        Cause.WashDidNotCount => Texts.WashAgain,
        Cause.LockoutNoVisitAsked => Texts.AskVisit,
        Cause.LockoutWaitingTechnician => Texts.CallTechnician,
        Cause.LockoutWaitingApproval => Texts.Decide,
        Cause.LockoutWaitingPart => Texts.AskPart,
        Cause.BeingWorkedOn => Texts.Prove,
        Cause.Silent => Texts.CheckPlug,
        _ => Texts.WashNow,
    };
}
