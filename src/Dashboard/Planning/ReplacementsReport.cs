using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>A point of a curve of cost against the age at which parts are replaced.</summary>
/// <param name="Age">Age at replacement, on the clock.</param>
/// <param name="CostPerYear">Cost a year of one position, in the terms' currency, at the fleet's usual pace.</param>
public sealed record CostPoint(double Age, double CostPerYear);

/// <summary>What the cheapest age would be if a cost were another.</summary>
/// <param name="What">What is different, in words.</param>
/// <param name="Verdict">What would be best then.</param>
/// <param name="Age">The cheapest age then; null: run to failure.</param>
/// <param name="SavingPerYear">What it would then save a year against running to failure.</param>
public sealed record SensitivityRow(string What, PlanVerdict Verdict, double? Age, double? SavingPerYear);

/// <summary>When the parts at a position of a model are best replaced, seen by themselves.</summary>
/// <param name="Model">Code of the model.</param>
/// <param name="ModelName">Name of the model.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="PartNumber">Part number that is ordered; null: not known.</param>
/// <param name="Parts">Fitted parts that it speaks of.</param>
/// <param name="Verdict">What is best done.</param>
/// <param name="Sentence">The finding in a sentence.</param>
/// <param name="Clock">What ages are counted in.</param>
/// <param name="AgePerDay">What a day adds to the age: the median of these parts; null: not known.</param>
/// <param name="Shape">Shape of the life model with bounds: above 1, parts wear out.</param>
/// <param name="PlannedCost">Cost of a planned replacement, part included.</param>
/// <param name="FailureCost">Cost of a failure, part and priced lockout included.</param>
/// <param name="LockoutHours">Hours locked out that a failure is taken to bring.</param>
/// <param name="LockoutPriced">Whether these hours have a price; if not they are not in the failure's cost.</param>
/// <param name="Age">The cheapest age, with the range in which it lies given how little is known; null: run to failure, or unknown.</param>
/// <param name="AgeDays">The cheapest age in days at the usual pace.</param>
/// <param name="FlatFrom">Youngest age that is about as cheap.</param>
/// <param name="FlatTo">Oldest age that is about as cheap.</param>
/// <param name="CostPerYear">Cost a year of one position at the cheapest age.</param>
/// <param name="RunToFailureCostPerYear">Cost a year of one position that runs to failure.</param>
/// <param name="SavingPerYear">What replacing at the cheapest age saves a year at one position.</param>
/// <param name="FailuresAvoidedPerYear">Failures that it avoids a year at one position.</param>
/// <param name="Sensitivity">How the answer changes with the costs.</param>
/// <param name="CostCurve">Cost a year against the age at replacement.</param>
/// <param name="NotPlanned">Why nothing can be said; null: something can.</param>
/// <param name="Reason">Why the verdict is what it is; null: nothing can be said.</param>
/// <param name="ChanceNoWear">Chance, as far as the life is known, that parts do not wear, so that no age is best; null: not known.</param>
public sealed record ReplacementRow(
    string Model,
    string ModelName,
    string Position,
    string PositionName,
    string? PartNumber,
    int Parts,
    PlanVerdict Verdict,
    string Sentence,
    string Clock,
    double? AgePerDay,
    Estimate? Shape,
    double? PlannedCost,
    double? FailureCost,
    double LockoutHours,
    bool LockoutPriced,
    Estimate? Age,
    double? AgeDays,
    double? FlatFrom,
    double? FlatTo,
    double? CostPerYear,
    double? RunToFailureCostPerYear,
    double? SavingPerYear,
    double? FailuresAvoidedPerYear,
    IReadOnlyList<SensitivityRow> Sensitivity,
    IReadOnlyList<CostPoint> CostCurve,
    string? NotPlanned,
    string? Reason,
    double? ChanceNoWear);

/// <summary>When parts are best replaced.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Currency">Currency of all money; null: not told.</param>
/// <param name="Rows">By model, position and part number.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record ReplacementsReport(Basis Basis, string Sentence, string? Currency, IReadOnlyList<ReplacementRow> Rows, string? Next);
