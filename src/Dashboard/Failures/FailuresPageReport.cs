namespace Washwear.Dashboard.Failures;

/// <summary>The failures page: what needs a decision, and what it rests on.</summary>
/// <param name="Choice">What the reader chose, with the window filled in.</param>
/// <param name="Sentence">The page's answer in one sentence.</param>
/// <param name="Decisions">What needs a decision this month, most pressing first; at most five.</param>
/// <param name="Trend">Month by month.</param>
/// <param name="Recurrence">Recurrence over age or calendar.</param>
/// <param name="Rates">Who fails more.</param>
/// <param name="Repeats">What came back after a repair.</param>
/// <param name="Pareto">What most failures come from.</param>
/// <param name="Offered">What the form offers.</param>
public sealed record FailuresPageReport(
    FailureChoice Choice,
    string Sentence,
    IReadOnlyList<FailureDecision> Decisions,
    FailureTrendReport Trend,
    RecurrenceReport Recurrence,
    RatesReport Rates,
    RepeatsReport Repeats,
    ParetoReport Pareto,
    FailureOffers Offered);

/// <summary>Something that needs a decision.</summary>
/// <param name="Sentence">What is seen, in one plain sentence.</param>
/// <param name="Evidence">The figures that it rests on, one sentence each.</param>
/// <param name="Action">What to decide or do.</param>
/// <param name="Link">Address of the page where it is done or seen in full.</param>
/// <param name="Records">Address of the page with the records behind it.</param>
public sealed record FailureDecision(string Sentence, IReadOnlyList<string> Evidence, string Action, string Link, string Records)
{
    /// <summary>Whether it stands out by more than chance; false for what is shown where nothing does.</summary>
    public bool StandsOut { get; init; } = true;
}

/// <summary>What the form offers to choose from.</summary>
/// <param name="Operators">Operators by code and name.</param>
/// <param name="Models">Models by code and name.</param>
/// <param name="Positions">Positions that have failures, by code and name.</param>
/// <param name="Codes">Fault codes that were raised, by code and text.</param>
public sealed record FailureOffers(
    IReadOnlyList<Offer> Operators, IReadOnlyList<Offer> Models, IReadOnlyList<Offer> Positions, IReadOnlyList<Offer> Codes);

/// <summary>Something to choose.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Name">Its name.</param>
public sealed record Offer(string Code, string Name);

/// <summary>The records behind the figures.</summary>
/// <param name="Choice">What the reader chose, with the window filled in.</param>
/// <param name="AsOf">When it was looked at.</param>
/// <param name="Rows">Failures, newest first.</param>
/// <param name="Next">Cursor of the next rows; null: there are none.</param>
public sealed record FailureRecordsReport(
    FailureChoice Choice, DateTimeOffset AsOf, IReadOnlyList<FailureRow> Rows, string? Next);

/// <summary>One failure: an episode of faults, or a part that failed.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="At">When the first fault was raised, or the part came out.</param>
/// <param name="Until">When the last fault was cleared; null: it was not, or this is a part.</param>
/// <param name="Code">Fault code; null for a part.</param>
/// <param name="Position">Code of the position; null for a fault.</param>
/// <param name="Name">The fault's text, or the position's name.</param>
/// <param name="Faults">How many faults the episode counts; 0 for a part.</param>
/// <param name="FailureMode">How the part failed; null: not told.</param>
/// <param name="PartNumber">The part; null: not told.</param>
/// <param name="Batch">Its batch; null: not told.</param>
/// <param name="AgeDays">Age of the part when it failed, days; null: not known.</param>
/// <param name="LockedOutHours">Hours for which the unit was locked out of washing.</param>
/// <param name="UnwashedDays">Days without a wash that counts, the first 24 hours left out.</param>
public sealed record FailureRow(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    DateTimeOffset At,
    DateTimeOffset? Until,
    string? Code,
    string? Position,
    string Name,
    int Faults,
    string? FailureMode,
    string? PartNumber,
    string? Batch,
    double? AgeDays,
    double LockedOutHours,
    double UnwashedDays);
