namespace Washwear.Analytics.Cleaning;

/// <summary>State of a unit under a cleaning rule at one instant; where several would hold, the last named wins.</summary>
public enum CleaningState
{
    /// <summary>Washed as the rule asks, or not yet due.</summary>
    Clean,

    /// <summary>The due instant has passed and the grace runs.</summary>
    Due,

    /// <summary>The deadline has passed without a wash that counts.</summary>
    Overdue,

    /// <summary>The unit cannot wash: a fault locks washing out, or it refused the last wash.</summary>
    LockedOut,

    /// <summary>Nothing was heard from the unit within its reporting time: neither clean nor overdue.</summary>
    Silent,

    /// <summary>The site does not trade now.</summary>
    Closed,

    /// <summary>The unit is out of service.</summary>
    OutOfService,
}
