using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The one next step for a unit, and where to take it from.</summary>
public static class CleaningSteps
{
    /// <summary>Those who can have the move, in the order of the page.</summary>
    public static IReadOnlyList<Mover> Movers { get; } = [Mover.Kitchen, Mover.Service, Mover.Approver, Mover.Supplier, Mover.Connection];

    /// <summary>What one who has the move does about it.</summary>
    /// <param name="mover">Whose move it is.</param>
    /// <returns>A few words.</returns>
    public static string Task(Mover mover) => mover switch
    {
        Mover.Kitchen => "wash it, or ask for a visit",
        Mover.Service => "come and repair",
        Mover.Approver => "decide on the repair",
        Mover.Supplier => "deliver the part",
        Mover.Connection => "look at plug and network",
        Mover.Nobody => "nothing to do",
        _ => throw new ArgumentOutOfRangeException(nameof(mover), mover, "A mover without a task."),
    };

    /// <summary>The next step for a unit.</summary>
    /// <param name="row">How it stands.</param>
    /// <returns>The step in a few words and the page that helps with it; null where there is none.</returns>
    public static (string Words, string Url)? Next(UnitCleaning row)
    {
        ArgumentNullException.ThrowIfNull(row);
        string? words = row.State switch
        {
            CleaningState.Due => "Wash it now",
            CleaningState.Silent => "Check plug and network",
            CleaningState.Overdue or CleaningState.LockedOut => Overdue(row.Cause),
            _ => null,
        };
        return words is null ? null : (words, row.WhoseMove == "kitchen" ? Urls.Site(row.Site) : Urls.Unit(row.Unit));
    }

    private static string Overdue(Cause cause) => cause switch
    {
        Cause.StoppedByPerson => "Wash it and let it run out",
        Cause.StoppedByFault => "Send a technician",
        Cause.WashDidNotCount => "Wash it again",
        Cause.LockoutNoVisitAsked => "Ask for a visit",
        Cause.LockoutWaitingTechnician => "Call the technician",
        Cause.LockoutWaitingApproval => "Decide on the repair",
        Cause.LockoutWaitingPart => "Ask after the part",
        Cause.BeingWorkedOn => "Prove the repair by a wash",
        Cause.Silent => "Check plug and network",
        _ => "Wash it now",
    };
}
