namespace Washwear.Analytics.Cleaning;

/// <summary>
/// What a moment of a unit's time is charged to. At every instant exactly one holds (S8); where several apply, the first of: no rule, out
/// of service, site closed, silent, in order, being worked on, locked out, and what the last try since the oldest overdue wash came to.
/// </summary>
public enum Cause
{
    /// <summary>No wash is overdue.</summary>
    InOrder,

    /// <summary>Overdue: nobody started a wash.</summary>
    NobodyStarted,

    /// <summary>Overdue: a person stopped the last try.</summary>
    StoppedByPerson,

    /// <summary>Overdue: a fault stopped the last try.</summary>
    StoppedByFault,

    /// <summary>Overdue: the last wash does not count (grade too low, detergent left, or outcome unknown).</summary>
    WashDidNotCount,

    /// <summary>Overdue and locked out: no visit was asked for.</summary>
    LockoutNoVisitAsked,

    /// <summary>Overdue and locked out: a technician was asked for and has not come.</summary>
    LockoutWaitingTechnician,

    /// <summary>Overdue and locked out: the repair waits for an approval.</summary>
    LockoutWaitingApproval,

    /// <summary>Overdue and locked out: the repair waits for a part.</summary>
    LockoutWaitingPart,

    /// <summary>Overdue: a technician is at the unit.</summary>
    BeingWorkedOn,

    /// <summary>Nothing was heard from the unit within its reporting time.</summary>
    Silent,

    /// <summary>The site does not trade.</summary>
    SiteClosed,

    /// <summary>The unit is out of service.</summary>
    OutOfService,

    /// <summary>The rule does not hold on this day.</summary>
    NoRule,
}
