namespace Washwear.Dashboard.Units;

/// <summary>What happened on one trading day.</summary>
/// <param name="Day">The trading day, by the site's own calendar.</param>
/// <param name="Kind">The best that happened.</param>
/// <param name="Washes">Washes that ended on it.</param>
/// <param name="Why">The same in a few words, with what the kind leaves open: which grade, what a lockout waited for.</param>
public sealed record WashDay(DateOnly Day, WashDayKind Kind, int Washes, string? Why = null);

/// <summary>The best that happened on a trading day, from best to least; then days on which nobody tried.</summary>
public enum WashDayKind
{
    /// <summary>A wash that counts under the unit's leading rule was completed.</summary>
    Counted,

    /// <summary>A clean by hand that counts was attested; the unit itself completed no wash that counts.</summary>
    CountedByHand,

    /// <summary>A wash was completed, but its grade is lower than the rule asks.</summary>
    LowerGrade,

    /// <summary>A wash of the grade was completed, but detergent was found left.</summary>
    DetergentLeft,

    /// <summary>A wash ran and nobody knows how or when it ended.</summary>
    OutcomeUnknown,

    /// <summary>A person stopped the wash.</summary>
    StoppedByPerson,

    /// <summary>A fault stopped the wash.</summary>
    StoppedByFault,

    /// <summary>The unit refused to start a wash.</summary>
    Refused,

    /// <summary>A wash was owed and not tried: the unit was locked out or being worked on.</summary>
    LockedOut,

    /// <summary>A wash was owed, the unit could wash, and nobody started one.</summary>
    NobodyStarted,

    /// <summary>No wash was owed: none fell due.</summary>
    NotDue,

    /// <summary>The wash of this day can still be on time: the day or its grace has not ended.</summary>
    Pending,

    /// <summary>Nothing was heard from the unit.</summary>
    Silent,

    /// <summary>The site does not trade on this day.</summary>
    Closed,

    /// <summary>The unit was out of service, or not yet commissioned.</summary>
    OutOfService,
}
