using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Another cost or interval at a position, to try.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Model">Code of the model; null: of all models.</param>
/// <param name="PartPrice">Another price of the part, above 0.</param>
/// <param name="PlannedVisitCost">Another cost of a planned visit, above 0.</param>
/// <param name="FailureCost">Another cost of a failure beside the part, above 0.</param>
/// <param name="ReplaceAtDays">Replace at this age, in days at each unit's own pace, above 0, whatever is cheapest.</param>
/// <param name="RunToFailure">true: never replace before it fails.</param>
public sealed record WhatIfPositionResource(
    string Position,
    string? Model = null,
    double? PartPrice = null,
    double? PlannedVisitCost = null,
    double? FailureCost = null,
    double? ReplaceAtDays = null,
    bool RunToFailure = false);

/// <summary>Another lead time of a supplier, to try.</summary>
/// <param name="Supplier">Code of the supplier.</param>
/// <param name="LeadTimeDays">Days from order to delivery, 0 to 365.</param>
public sealed record WhatIfSupplierResource(string Supplier, double LeadTimeDays);

/// <summary>What to try; nothing of it is saved.</summary>
/// <param name="LockoutHourCost">Another price of an hour locked out, 0 or more.</param>
/// <param name="PlannedVisitCost">Another usual cost of a planned visit, above 0.</param>
/// <param name="FailureCost">Another usual cost of a failure, above 0.</param>
/// <param name="ExpectedLockoutHours">Other hours locked out that a failure brings, 0 or more.</param>
/// <param name="HorizonWeeks">Another horizon, weeks, 4 to 104.</param>
/// <param name="Positions">Changes at positions.</param>
/// <param name="Suppliers">Changes of suppliers.</param>
public sealed record WhatIfResource(
    double? LockoutHourCost = null,
    double? PlannedVisitCost = null,
    double? FailureCost = null,
    double? ExpectedLockoutHours = null,
    int? HorizonWeeks = null,
    IReadOnlyList<WhatIfPositionResource>? Positions = null,
    IReadOnlyList<WhatIfSupplierResource>? Suppliers = null);

/// <summary>What a plan comes to over its horizon.</summary>
/// <param name="Visits">Planned visits.</param>
/// <param name="Jobs">Parts replaced in them.</param>
/// <param name="Minutes">Minutes of work in them.</param>
/// <param name="PlannedCost">Their cost, parts included.</param>
/// <param name="Failures">Failures to be expected in spite of them.</param>
/// <param name="FailureCost">Cost of these failures.</param>
/// <param name="UnwashedDays">Days without a wash that these failures bring.</param>
/// <param name="Cost">Both costs together.</param>
/// <param name="PositionsReplacedAtAge">Positions of models whose parts are replaced before they fail.</param>
public sealed record PlanTotals(
    int Visits, int Jobs, double Minutes, double PlannedCost, double Failures, double FailureCost, double UnwashedDays, double Cost,
    int PositionsReplacedAtAge);

/// <summary>A position whose answer changes.</summary>
/// <param name="Model">Code of the model.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="VerdictNow">What is best as things are.</param>
/// <param name="VerdictThen">What would be best.</param>
/// <param name="AgeDaysNow">The age at which it is replaced as things are, days; null: run to failure.</param>
/// <param name="AgeDaysThen">The age at which it would be replaced, days; null: run to failure.</param>
public sealed record ChangedReplacement(
    string Model, string Position, string PositionName, PlanVerdict VerdictNow, PlanVerdict VerdictThen, double? AgeDaysNow, double? AgeDaysThen);

/// <summary>A plan as things are, and as they would be.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Currency">Currency of all money; null: not told.</param>
/// <param name="HorizonWeeks">Weeks over which both are counted.</param>
/// <param name="Now">The plan as things are; where another price of an hour locked out is tried, its money is counted at that one too.</param>
/// <param name="Then">The plan as they would be.</param>
/// <param name="Changed">Positions whose answer changes.</param>
public sealed record WhatIfReport(
    Basis Basis, string Sentence, string? Currency, int HorizonWeeks, PlanTotals Now, PlanTotals Then, IReadOnlyList<ChangedReplacement> Changed);
