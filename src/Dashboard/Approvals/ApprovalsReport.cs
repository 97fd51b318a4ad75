using System.Text.Json.Serialization;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Approvals;

/// <summary>What became of an approval.</summary>
public enum ApprovalState
{
    /// <summary>Nobody has decided.</summary>
    Open,

    /// <summary>It may be done.</summary>
    Granted,

    /// <summary>It may not be done.</summary>
    Refused,
}

/// <summary>From where it is known which part is at fault.</summary>
public enum PositionSource
{
    /// <summary>The visit that asked for the approval found it.</summary>
    Finding,

    /// <summary>It is the likeliest cause of the fault by the model's catalogue.</summary>
    Catalogue,
}

/// <summary>Which approvals are asked for.</summary>
/// <param name="State">Only these; null: all.</param>
/// <param name="Operator">Only units of this operator; null: all.</param>
/// <param name="Site">Only units at this site; null: all.</param>
/// <param name="Unit">Only the unit with this asset tag; null: all.</param>
public sealed record ApprovalFilter(ApprovalState? State, string? Operator = null, string? Site = null, string? Unit = null);

/// <summary>An approval and what waiting for it costs.</summary>
/// <param name="Id">Number of its record, under which it can be decided.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="State">What became of it.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="What">What is to be approved; null: nobody said.</param>
/// <param name="Amount">What it costs, in the installation's currency; null: nobody said.</param>
/// <param name="FaultCode">Fault that the repair is for; null: nobody said.</param>
/// <param name="FaultText">What the catalogue says of the fault; null: nothing.</param>
/// <param name="Position">Position of the part at fault; null: not known.</param>
/// <param name="PositionName">Its name.</param>
/// <param name="PositionFrom">From where it is known; null: it is not.</param>
/// <param name="AskedAt">When it was asked for; null: nobody said.</param>
/// <param name="WaitedHours">Hours from asking to the decision, or to now; null where the asking is not known.</param>
/// <param name="UnwashedDays">Days of 24 hours, overdue and charged to the wait for an approval, since it was asked for and up to the decision,
/// under the unit's hardest rule.</param>
/// <param name="UnwashedDaysNextWeek">Days without a wash that the next 7 days bring if nobody decides; null where nobody can tell, and for what is
/// decided.</param>
/// <param name="CompanionChance30Days">Chance that at least one companion of the part at fault fails within 30 days given its age; null where it
/// cannot be told, and for what is decided.</param>
/// <param name="Companions">Names of the companions that the chance speaks of.</param>
/// <param name="UnitsAtSite">Units in service at the site.</param>
/// <param name="OtherUnitsThatWash">Other units at the site that can wash now; null for what is decided.</param>
/// <param name="DecidedAt">When it was decided.</param>
/// <param name="DecidedBy">By whom.</param>
/// <param name="DecidedByAsker">Whether that, or whose key it was entered with, is who sent the request; null while it is open, and where nobody
/// asked on record.</param>
/// <param name="Note">Words with it.</param>
/// <param name="Sentence">What waiting costs, in words.</param>
/// <param name="Doubts">What looks wrong.</param>
public sealed record ApprovalRow(
    long Id,
    string Source,
    string Key,
    ApprovalState State,
    string Unit,
    string Site,
    string SiteName,
    string Operator,
    string OperatorName,
    string TimeZone,
    string? What,
    double? Amount,
    string? FaultCode,
    string? FaultText,
    string? Position,
    string? PositionName,
    PositionSource? PositionFrom,
    DateTimeOffset? AskedAt,
    double? WaitedHours,
    double UnwashedDays,
    double? UnwashedDaysNextWeek,
    [property: JsonPropertyName("companion_chance_30_days")] double? CompanionChance30Days,
    IReadOnlyList<string> Companions,
    int UnitsAtSite,
    int? OtherUnitsThatWash,
    DateTimeOffset? DecidedAt,
    string? DecidedBy,
    bool? DecidedByAsker,
    string? Note,
    string Sentence,
    IReadOnlyList<string> Doubts);

/// <summary>Approvals: the open ones first, by what waiting costs, then the decided ones, newest first.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Open">How many are open, of those that the filter's place speaks of.</param>
/// <param name="Rows">The approvals of this page.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record ApprovalsReport(Basis Basis, string Sentence, int Open, IReadOnlyList<ApprovalRow> Rows, string? Next);

/// <summary>What the page of approvals shows.</summary>
/// <param name="Open">The open approvals.</param>
/// <param name="Decided">Those decided last.</param>
/// <param name="Delays">Where the time of lockouts went.</param>
/// <param name="Filter">Whose approvals the reader chose.</param>
/// <param name="MayDecide">Whether the reader may decide.</param>
/// <param name="JustDecided">An approval that was decided a moment ago; null: none.</param>
public sealed record ApprovalsPageReport(
    ApprovalsReport Open, ApprovalsReport Decided, DelaysReport Delays, ApprovalFilter Filter, bool MayDecide, ApprovalRow? JustDecided);

/// <summary>A decision on an approval.</summary>
/// <param name="Decision">granted or refused.</param>
/// <param name="By">Who decides.</param>
/// <param name="Note">Words with it.</param>
public sealed record DecisionResource(DecisionWord Decision, string By, string? Note = null);

/// <summary>What can be decided.</summary>
public enum DecisionWord
{
    /// <summary>It may be done.</summary>
    Granted,

    /// <summary>It may not be done.</summary>
    Refused,
}
