using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Alerts;

/// <summary>What an alert is about.</summary>
public enum AlertKind
{
    /// <summary>No wash that counts for longer than the set time past the deadline; one life a unit and rule.</summary>
    Overdue,

    /// <summary>The unit cannot wash; one life a unit.</summary>
    LockedOut,

    /// <summary>Nothing is heard from the unit; one life a unit.</summary>
    Silent,

    /// <summary>The unit's washes are getting worse; one life a unit, whichever signs stand.</summary>
    EarlySign,
}

/// <summary>Where an alert is in its life.</summary>
public enum AlertState
{
    /// <summary>It holds and nobody has said that he saw it.</summary>
    Open,

    /// <summary>It holds and somebody has seen it.</summary>
    Seen,

    /// <summary>It has ended.</summary>
    Closed,
}

/// <summary>One life of an alert.</summary>
/// <param name="Id">Number of the alert.</param>
/// <param name="Kind">What it is about.</param>
/// <param name="State">Where it is in its life.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Rule">Code of the cleaning rule; null where the alert concerns the unit as a whole.</param>
/// <param name="OpenedAt">When a check found it.</param>
/// <param name="Since">Since when it had held then; null: not known.</param>
/// <param name="Sentence">What held when it was found.</param>
/// <param name="SeenAt">When somebody saw it; null: nobody yet.</param>
/// <param name="SeenBy">Who saw it: the name of the key.</param>
/// <param name="ClosedAt">When a check found that it had ended; null: it holds.</param>
/// <param name="ClosedBecause">Why it closed, in a sentence.</param>
public sealed record Alert(
    long Id,
    AlertKind Kind,
    AlertState State,
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    string? Rule,
    DateTimeOffset OpenedAt,
    DateTimeOffset? Since,
    string Sentence,
    DateTimeOffset? SeenAt,
    string? SeenBy,
    DateTimeOffset? ClosedAt,
    string? ClosedBecause);

/// <summary>Alerts, newest first.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="CountByState">How many alerts are in each state, whatever was asked for.</param>
/// <param name="Rows">The alerts of this page.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record AlertsReport(
    Basis Basis, string Sentence, IReadOnlyDictionary<AlertState, int> CountByState, IReadOnlyList<Alert> Rows, string? Next);

/// <summary>What the page of alerts shows.</summary>
/// <param name="Alerts">The alerts.</param>
/// <param name="Chosen">The state that the reader chose; null: all.</param>
/// <param name="MayMark">Whether the reader may mark alerts as seen.</param>
public sealed record AlertsPageReport(AlertsReport Alerts, AlertState? Chosen, bool MayMark);

/// <summary>What changed in the last 24 hours.</summary>
/// <param name="Basis">What the answer rests on; its window is the 24 hours.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="OpenedCount">Alerts opened in the window.</param>
/// <param name="ClosedCount">Alerts closed in the window.</param>
/// <param name="OpenCount">Alerts not closed now, seen ones included.</param>
/// <param name="Opened">Those opened in the window, newest first; at most 100.</param>
/// <param name="Closed">Those closed in the window, newest first; at most 100.</param>
/// <param name="OpenLongest">Those that were opened longest ago of all that are not closed; at most 10.</param>
public sealed record DigestReport(
    Basis Basis,
    string Sentence,
    int OpenedCount,
    int ClosedCount,
    int OpenCount,
    IReadOnlyList<Alert> Opened,
    IReadOnlyList<Alert> Closed,
    IReadOnlyList<Alert> OpenLongest);
