using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Charges every moment of a window to a cause and judges the washes that were due in it.</summary>
public static class CauseTimeline
{
    /// <summary>What happened to one unit under one rule in a window.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records; those after the window's end are not looked at.</param>
    /// <param name="window">The window [from, to), with both ends and longer than nothing.</param>
    public static CleaningTimeline Compute(CleaningRule rule, SiteCalendar calendar, UnitHistory history, Interval window) =>
        throw new NotImplementedException();

    /// <summary>How the unit stands under the rule at one instant.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records; those after <paramref name="asOf"/> are not looked at.</param>
    /// <param name="asOf">The instant.</param>
    public static CleaningStatus At(CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant asOf) =>
        throw new NotImplementedException();
}
