using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Timeline;

/// <summary>What is told on a timeline.</summary>
public enum TimelineKind
{
    /// <summary>Washes, refusals and cleans by hand.</summary>
    Washes,

    /// <summary>Faults raised and cleared.</summary>
    Faults,

    /// <summary>Visits asked for and made.</summary>
    Visits,

    /// <summary>Parts taken out and put in.</summary>
    Parts,

    /// <summary>Approvals asked for and decided.</summary>
    Approvals,

    /// <summary>Parts that were looked at and left in.</summary>
    Looks,

    /// <summary>Meter readings and signs of life.</summary>
    Readings,

    /// <summary>Records that a later one voids or replaces, and those that replace one.</summary>
    Corrections,
}

/// <summary>Of what a timeline tells.</summary>
public enum TimelineSubject
{
    /// <summary>One unit.</summary>
    Unit,

    /// <summary>One kitchen.</summary>
    Site,

    /// <summary>One operator of many kitchens.</summary>
    Operator,
}

/// <summary>What happened to a unit, at a kitchen or at an operator's kitchens, newest first, as a person would tell it.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Subject">Of what it tells.</param>
/// <param name="Code">Code of the unit, site or operator.</param>
/// <param name="Name">Its name.</param>
/// <param name="TimeZone">IANA time zone of the days: that of the site, or of most of the operator's units.</param>
/// <param name="Sentence">What this page holds, in one sentence.</param>
/// <param name="Kinds">The kinds that were asked for.</param>
/// <param name="Days">Days with an entry, newest first.</param>
/// <param name="After">Cursor behind which this page begins; null: it is the newest.</param>
/// <param name="Next">Opaque cursor of the page further back; null on the last.</param>
public sealed record TimelineReport(
    Basis Basis,
    TimelineSubject Subject,
    string Code,
    string Name,
    string TimeZone,
    string Sentence,
    IReadOnlyList<TimelineKind> Kinds,
    IReadOnlyList<TimelineDay> Days,
    string? After,
    string? Next);

/// <summary>One day.</summary>
/// <param name="Day">Its date, from midnight to midnight.</param>
/// <param name="Entries">What happened, newest first.</param>
public sealed record TimelineDay(DateOnly Day, IReadOnlyList<TimelineEntry> Entries);

/// <summary>One entry: a record, washes in a row of which nothing is to be told, or a whole story from the fault to the proof.</summary>
/// <param name="Kind">Of what it tells first.</param>
/// <param name="From">When it began.</param>
/// <param name="To">When it ended; the same as its begin for one record.</param>
/// <param name="Unit">Asset tag; null for washes of several units.</param>
/// <param name="Site">Code of the site; null for several.</param>
/// <param name="SiteName">Name of the site; null for several.</param>
/// <param name="Text">What happened, in a sentence or two.</param>
/// <param name="IsStory">Whether it is a story: a lockout with all that belongs to it.</param>
/// <param name="Steps">The records behind it, at least one: of a story in the order of time, of washes newest first.</param>
public sealed record TimelineEntry(
    TimelineKind Kind,
    DateTimeOffset From,
    DateTimeOffset To,
    string? Unit,
    string? Site,
    string? SiteName,
    string Text,
    bool IsStory,
    IReadOnlyList<TimelineStep> Steps);

/// <summary>One record.</summary>
/// <param name="Seq">Order in which the record was accepted; unique.</param>
/// <param name="Kind">Of what it tells.</param>
/// <param name="At">When it happened.</param>
/// <param name="Unit">Asset tag.</param>
/// <param name="Type">Type of the record.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="Text">What happened, in one sentence.</param>
/// <param name="Correction">What was corrected, in words; null: nothing.</param>
/// <param name="Voided">Whether a later record voids or replaces it.</param>
/// <param name="Url">Address of the record, or of the visit's receipt.</param>
public sealed record TimelineStep(
    long Seq,
    TimelineKind Kind,
    DateTimeOffset At,
    string Unit,
    string Type,
    string Source,
    string Key,
    string Text,
    string? Correction,
    bool Voided,
    string Url);
