using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>How well repairs went.</summary>
/// <param name="Basis">What the answer rests on; n counts the faults that were judged.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="RepeatDays">Days after its end within which a fault that comes back is a repeat.</param>
/// <param name="Total">All together.</param>
/// <param name="ByCode">By fault code, those with most faults first.</param>
/// <param name="ByPosition">By position that was found at fault, those with most faults first.</param>
/// <param name="ByTechnician">First-visit fixes by technician, by name; empty where the counts do not support it.</param>
/// <param name="TechnicianNote">How to read that, or why there is none.</param>
/// <param name="Results">How many faults ended how, those not judged included.</param>
/// <param name="Delays">Where the time of lockouts went in the same window.</param>
public sealed record RepairQualityReport(
    Basis Basis,
    string Sentence,
    int RepeatDays,
    QualityRow Total,
    IReadOnlyList<QualityRow> ByCode,
    IReadOnlyList<QualityRow> ByPosition,
    IReadOnlyList<TeamShare> ByTechnician,
    string TechnicianNote,
    IReadOnlyDictionary<EpisodeResult, int> Results,
    DelayRow Delays);

/// <summary>How well the repairs of a group went.</summary>
/// <param name="By">What the group is one of: all, code or position.</param>
/// <param name="Code">Its code; null: it is not known.</param>
/// <param name="Name">Its name.</param>
/// <param name="FirstVisitFix">Faults that one visit ended and that stayed away, of those judged.</param>
/// <param name="Repeat">Faults that came back, of those judged.</param>
/// <param name="Proven">Repairs that are proven, of those old enough to tell.</param>
public sealed record QualityRow(string By, string? Code, string Name, CountedShare FirstVisitFix, CountedShare Repeat, CountedShare Proven);

/// <summary>One fault from raised to cleared.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Code">Fault code.</param>
/// <param name="Position">Code of the position found at fault; null: nobody told.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="ClearedAt">When it was cleared.</param>
/// <param name="Visits">Keys of the visits that it took, in order.</param>
/// <param name="Result">How it ended.</param>
/// <param name="CameBackAt">When it came back within the repeat window; null: it did not.</param>
public sealed record EpisodeRow(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    string Code,
    string? Position,
    DateTimeOffset RaisedAt,
    DateTimeOffset ClearedAt,
    IReadOnlyList<string> Visits,
    EpisodeResult Result,
    DateTimeOffset? CameBackAt);

/// <summary>The faults behind the figures, those cleared last first.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Rows">The faults of this page.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record EpisodesReport(Basis Basis, IReadOnlyList<EpisodeRow> Rows, string? Next);

/// <summary>What a reader of the quality of repairs asked for.</summary>
/// <param name="Operator">Only units of this operator; null: all.</param>
/// <param name="Code">Only faults of this code; null: all.</param>
/// <param name="Position">Only faults of this position; null: all.</param>
/// <param name="Days">Days up to now.</param>
/// <param name="RepeatDays">Days within which a fault that comes back is a repeat.</param>
public sealed record RepairChoice(string? Operator = null, string? Code = null, string? Position = null, int Days = 365, int RepeatDays = 30);

/// <summary>What the page on repairs shows.</summary>
/// <param name="Quality">How well repairs went.</param>
/// <param name="Episodes">The faults behind the figures, where the reader chose some.</param>
/// <param name="Choice">What the reader asked for.</param>
public sealed record RepairsPageReport(RepairQualityReport Quality, EpisodesReport? Episodes, RepairChoice Choice);
