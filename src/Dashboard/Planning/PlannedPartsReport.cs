using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What is best done with a part, seen by itself.</summary>
public enum PlanVerdict
{
    /// <summary>Nothing can be said: a model, an age or a cost is missing.</summary>
    Unknown,

    /// <summary>Let it run until it fails: replacing it earlier does not pay, or the records do not show that it does.</summary>
    RunToFailure,

    /// <summary>Replace it at an age, before it fails.</summary>
    ReplaceAtAge,
}

/// <summary>A fitted part and what is ahead of it.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="StockPoint">Stock point that serves the site.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="PartNumber">Part number of the fitted part.</param>
/// <param name="PartNumberToOrder">Part number that would be fitted next.</param>
/// <param name="FittedAt">When it was fitted.</param>
/// <param name="Clock">What its age is counted in.</param>
/// <param name="Age">Its age on that clock; null: not known.</param>
/// <param name="AgePerDay">What a day adds to that age; null: not known.</param>
/// <param name="Chance30Days">Chance to fail within 30 days given that it works now; null: it cannot be told.</param>
/// <param name="Chance90Days">Chance to fail within 90 days.</param>
/// <param name="Chance180Days">Chance to fail within 180 days.</param>
/// <param name="Verdict">What is best done with it.</param>
/// <param name="DueOn">Day on which it reaches the cheapest age, today or earlier: it has; null: none, or more than 10 years ahead.</param>
/// <param name="ExtraCostPerWeek">What each week past the cheapest age costs more than replacing it, at its age now; null: it has not reached it.</param>
/// <param name="Decision">What was decided about it and holds; null: nothing.</param>
/// <param name="Sentence">What that means, in a sentence.</param>
/// <param name="NotPlanned">Why nothing is planned for it; null: something can be.</param>
public sealed record PlannedPartRow(
    string Unit,
    string Site,
    string SiteName,
    string Operator,
    string? StockPoint,
    string Position,
    string PositionName,
    string? PartNumber,
    string? PartNumberToOrder,
    DateTimeOffset? FittedAt,
    string Clock,
    double? Age,
    double? AgePerDay,
    Estimate? Chance30Days,
    Estimate? Chance90Days,
    Estimate? Chance180Days,
    PlanVerdict Verdict,
    DateOnly? DueOn,
    double? ExtraCostPerWeek,
    PlanDecisionRow? Decision,
    string Sentence,
    string? NotPlanned);

/// <summary>Every fitted part and what is ahead of it.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Rows">The parts of this page, by asset tag and position.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record PlannedPartsReport(Basis Basis, string Sentence, IReadOnlyList<PlannedPartRow> Rows, string? Next);
