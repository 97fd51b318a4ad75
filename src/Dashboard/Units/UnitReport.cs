using System.Text.Json.Serialization;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Visits;

namespace Washwear.Dashboard.Units;

/// <summary>One unit: its state now, what is fitted and how old, its washes and its latest history.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Unit">Asset tag.</param>
/// <param name="Serial">Serial number, if known.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="CommissionedOn">Date of commissioning at the site.</param>
/// <param name="LastHeardAt">When the unit last reported anything; null if never.</param>
/// <param name="Sentence">State and next step in one sentence.</param>
/// <param name="Cleaning">One entry a cleaning rule that applies.</param>
/// <param name="OpenFaults">Faults raised and not cleared, oldest first.</param>
/// <param name="Parts">What is fitted at each position of the model.</param>
/// <param name="Days">The last year, one entry a trading day, oldest first.</param>
/// <param name="History">The latest records, newest first.</param>
/// <param name="Signs">Whether its washes are getting worse.</param>
public sealed record UnitReport(
    Basis Basis,
    string Unit,
    string? Serial,
    string Site,
    string SiteName,
    string Operator,
    string OperatorName,
    string Model,
    string ModelName,
    string TimeZone,
    DateOnly CommissionedOn,
    DateTimeOffset? LastHeardAt,
    string Sentence,
    IReadOnlyList<UnitCleaning> Cleaning,
    IReadOnlyList<OpenFault> OpenFaults,
    IReadOnlyList<FittedPart> Parts,
    IReadOnlyList<WashDay> Days,
    IReadOnlyList<HistoryItem> History,
    SignCharts Signs)
{
    /// <summary>The latest visits, newest first, each with what speaks against it.</summary>
    public IReadOnlyList<VisitLink> Visits { get; init; } = [];

    /// <summary>The last repair of the last 90 days, and whether it is proven; null: there was none.</summary>
    public RepairRow? LastRepair { get; init; }

    /// <summary>The latest days of its timeline, for the page alone; null: it was not asked for.</summary>
    [JsonIgnore]
    public TimelineReport? Timeline { get; init; }
}

/// <summary>A fault that is raised and not cleared; raised several times, or by several senders, it is one, as one clearing ends it.</summary>
/// <param name="Code">Fault code of the model's catalogue.</param>
/// <param name="Text">What the catalogue says it means; the code itself if it is not listed.</param>
/// <param name="RaisedAt">When it was first raised, of what still stands.</param>
/// <param name="LocksOutWashing">Whether it keeps the unit from washing.</param>
/// <param name="LocksOutCooking">Whether it keeps the unit from cooking.</param>
public sealed record OpenFault(string Code, string Text, DateTimeOffset RaisedAt, bool LocksOutWashing, bool LocksOutCooking)
{
    /// <summary>Who raised it, in the order of their names; null where that is not told.</summary>
    public IReadOnlyList<string>? Sources { get; init; }
}

/// <summary>The part at one position now.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Name of the position.</param>
/// <param name="PartNumber">Part number, if known.</param>
/// <param name="FittedAt">When it was fitted; null if unknown.</param>
/// <param name="AgeDays">Age in days; null if the start is unknown.</param>
/// <param name="AgeWashes">Age in washes; null if the start is unknown.</param>
/// <param name="ChanceToFail90Days">Chance that it fails within the next 90 days given that it works now, on the clock that
/// <paramref name="ChanceBasis"/> names; null where it cannot be told.</param>
/// <param name="ChanceBasis">The model behind the chance, or why there is none.</param>
public sealed record FittedPart(
    string Position,
    string Name,
    string? PartNumber,
    DateTimeOffset? FittedAt,
    double? AgeDays,
    double? AgeWashes,
    [property: JsonPropertyName("chance_to_fail_90_days")] Estimate? ChanceToFail90Days,
    string ChanceBasis);

/// <summary>One record of a unit's timeline.</summary>
/// <param name="Seq">Order in which the record was accepted; unique.</param>
/// <param name="At">When it happened.</param>
/// <param name="Type">Type of the record.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key.</param>
/// <param name="ReceivedAt">When it was taken in.</param>
/// <param name="Text">What happened, in one sentence.</param>
/// <param name="Voided">Whether a later record voids or replaces it.</param>
public sealed record HistoryItem(
    long Seq,
    DateTimeOffset At,
    string Type,
    string Source,
    string Key,
    DateTimeOffset ReceivedAt,
    string Text,
    bool Voided);

/// <summary>A unit's timeline, newest first.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Items">The records.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record UnitHistoryReport(string Unit, IReadOnlyList<HistoryItem> Items, string? Next);
