using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.Visits;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>What a technician needs on the way to a unit: what happened, what is fitted, what to check, bring and prove.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Unit">Asset tag.</param>
/// <param name="Serial">Serial number, if known.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Sentence">What the visit is for, in one sentence.</param>
/// <param name="Question">What was asked, the fault and checks spelled as the catalogue does.</param>
/// <param name="Cleaning">How the unit stands under each cleaning rule, the most urgent first.</param>
/// <param name="Fault">The fault that the sheet is for; null: none, a sheet for planned work.</param>
/// <param name="AlsoOpen">Other faults that are raised and not cleared, oldest first.</param>
/// <param name="Recommendations">What earlier visits left to be done, the worst first.</param>
/// <param name="Washes">The last washes, newest first; refusals in a row are one entry.</param>
/// <param name="Visits">The last visits, newest first.</param>
/// <param name="Fitted">What is fitted at each position of the model.</param>
/// <param name="Diagnosis">What the fault is likely to come from; null: there is no fault, or the catalogue names no cause of it.</param>
/// <param name="Checks">Diagnostic steps for the fault in the order in which they are to be done, those that are done first.</param>
/// <param name="Bring">What to take along.</param>
/// <param name="Proofs">What has to be shown before leaving.</param>
/// <param name="Cautions">How not to come to harm at exactly these checks, each once.</param>
/// <param name="Deferral">What comes before this sheet.</param>
public sealed record VisitSheetReport(
    Basis Basis,
    string Unit,
    string? Serial,
    string Site,
    string SiteName,
    string OperatorName,
    string Model,
    string ModelName,
    string TimeZone,
    string Sentence,
    SheetQuestion Question,
    IReadOnlyList<UnitCleaning> Cleaning,
    SheetFault? Fault,
    IReadOnlyList<OpenFault> AlsoOpen,
    IReadOnlyList<OpenRecommendation> Recommendations,
    IReadOnlyList<SheetWash> Washes,
    IReadOnlyList<SheetVisit> Visits,
    IReadOnlyList<SheetPart> Fitted,
    SheetDiagnosis? Diagnosis,
    IReadOnlyList<SheetCheck> Checks,
    SheetParts Bring,
    IReadOnlyList<Proof> Proofs,
    IReadOnlyList<Caution> Cautions,
    string Deferral);

/// <summary>Why a sheet is for a fault.</summary>
public enum FaultReason
{
    /// <summary>The reader asked for it.</summary>
    AskedFor,

    /// <summary>It is open.</summary>
    Open,

    /// <summary>No fault is open; it was the last one that kept the unit from washing.</summary>
    LastLockout,
}

/// <summary>The fault that a sheet is for.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Meaning">What the model's catalogue says that it means; null: the catalogue does not list it.</param>
/// <param name="Reason">Why the sheet is for it.</param>
/// <param name="RaisedAt">When it was last raised at this unit; null: never on record.</param>
/// <param name="ClearedAt">When that was cleared; null: it is open, or was never raised.</param>
/// <param name="LocksOutWashing">Whether it keeps the unit from washing.</param>
/// <param name="LocksOutCooking">Whether it keeps the unit from cooking.</param>
/// <param name="RaisedLastYear">How often it was raised at this unit within 365 days.</param>
/// <param name="Sentence">Meaning, since when, and how often, in words.</param>
public sealed record SheetFault(
    string Code,
    string? Meaning,
    FaultReason Reason,
    DateTimeOffset? RaisedAt,
    DateTimeOffset? ClearedAt,
    bool LocksOutWashing,
    bool LocksOutCooking,
    int RaisedLastYear,
    string Sentence);

/// <summary>Something that an earlier visit left to be done.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Name of the position.</param>
/// <param name="Grade">worn or poor as it was graded at the last look, or found where a fault was found and not yet repaired.</param>
/// <param name="SeenAt">When somebody looked.</param>
/// <param name="Note">Words of the person who looked.</param>
/// <param name="Sentence">The same in one sentence.</param>
public sealed record OpenRecommendation(string Position, string Name, string Grade, DateTimeOffset SeenAt, string? Note, string Sentence);

/// <summary>A wash, or refusals in a row.</summary>
/// <param name="At">When it started; of refusals in a row, the last one.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Times">1; of refusals in a row, how many.</param>
/// <param name="Text">What it came to, in words.</param>
public sealed record SheetWash(DateTimeOffset At, WashOutcome Outcome, int Times, string Text);

/// <summary>An earlier visit.</summary>
/// <param name="At">When work began; when it was asked for where nobody came yet.</param>
/// <param name="Text">What it came to, in words.</param>
public sealed record SheetVisit(DateTimeOffset At, string Text);

/// <summary>A part that is fitted.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Name of the position.</param>
/// <param name="PartNumber">Part number, if known.</param>
/// <param name="FittedAt">When it was fitted; null if unknown.</param>
/// <param name="AgeDays">Age in days; null if unknown.</param>
/// <param name="AgeWashes">Age in washes; null if unknown.</param>
/// <param name="AgeOperatingHours">Age in operating hours of the unit; null if unknown.</param>
/// <param name="ChanceToFail90Days">Chance that it fails within the next 90 days given that it works now; null where it cannot be
/// told.</param>
/// <param name="ChanceToFail180Days">The same within 180 days, without bounds.</param>
/// <param name="HalfFailedByDays">Age in days by which half of such parts have failed, by the fleet's life curve; null: there is
/// none.</param>
/// <param name="ChanceBasis">The model behind the chance, or why there is none.</param>
public sealed record SheetPart(
    string Position,
    string Name,
    string? PartNumber,
    DateTimeOffset? FittedAt,
    double? AgeDays,
    double? AgeWashes,
    double? AgeOperatingHours,
    [property: JsonPropertyName("chance_to_fail_90_days")] Estimate? ChanceToFail90Days,
    [property: JsonPropertyName("chance_to_fail_180_days")] double? ChanceToFail180Days,
    double? HalfFailedByDays,
    string ChanceBasis);

/// <summary>How not to come to harm by one hazard.</summary>
/// <param name="Hazard">The hazard: electric, water, hot, caustic, gas, compressed_gas or moving.</param>
/// <param name="Title">The hazard in a word or two.</param>
/// <param name="Text">What to do, in short sentences.</param>
/// <param name="Checks">Codes of the checks of this sheet that bring it.</param>
public sealed record Caution(string Hazard, string Title, string Text, IReadOnlyList<string> Checks);
