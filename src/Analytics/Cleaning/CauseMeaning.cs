namespace Washwear.Analytics.Cleaning;

/// <summary>Who can end a state.</summary>
public enum Mover
{
    /// <summary>Nobody has to do anything.</summary>
    Nobody,

    /// <summary>The kitchen: start a wash, let it run, or ask for a visit.</summary>
    Kitchen,

    /// <summary>The service firm.</summary>
    Service,

    /// <summary>Whoever decides on the repair.</summary>
    Approver,

    /// <summary>Whoever delivers the part.</summary>
    Supplier,

    /// <summary>Whoever looks after the unit's connection.</summary>
    Connection,
}

/// <summary>What follows from a cause.</summary>
public static class CauseMeaning
{
    /// <summary>Whether the cause is one of overdue time.</summary>
    /// <param name="cause">Any cause.</param>
    public static bool IsOverdue(this Cause cause) => cause is >= Cause.NobodyStarted and <= Cause.BeingWorkedOn;

    /// <summary>Whether a moment with this cause counts when the share of time within the rule is formed.</summary>
    /// <param name="cause">Any cause.</param>
    public static bool IsJudged(this Cause cause) => cause == Cause.InOrder || cause.IsOverdue();

    /// <summary>Whose move it is.</summary>
    /// <param name="cause">Any cause.</param>
    public static Mover WhoseMove(this Cause cause) => cause switch
    {
        Cause.InOrder or Cause.SiteClosed or Cause.OutOfService or Cause.NoRule => Mover.Nobody,
        Cause.NobodyStarted or Cause.StoppedByPerson or Cause.WashDidNotCount or Cause.LockoutNoVisitAsked => Mover.Kitchen,
        Cause.StoppedByFault or Cause.LockoutWaitingTechnician or Cause.BeingWorkedOn => Mover.Service,
        Cause.LockoutWaitingApproval => Mover.Approver,
        Cause.LockoutWaitingPart => Mover.Supplier,
        Cause.Silent => Mover.Connection,
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "Not a cause."),
    };
}
