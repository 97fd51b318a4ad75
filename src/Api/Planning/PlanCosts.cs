using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>What replacing a part costs, as planned and after a failure, in the installation's currency.</summary>
/// <param name="PartPrice">Price of the part: that of the part number, else the position's.</param>
/// <param name="PlannedVisit">A planned visit beside the part: the position's, else the terms'.</param>
/// <param name="FailureVisit">A failure beside the part: the position's, else the terms'.</param>
/// <param name="LockoutHours">Hours locked out that a failure brings.</param>
/// <param name="LockoutHourCost">Price of such an hour; 0: not priced.</param>
internal sealed record PlanCosts(double? PartPrice, double? PlannedVisit, double? FailureVisit, double LockoutHours, double LockoutHourCost)
{
    /// <summary>Cost of a planned replacement; null: something is not told.</summary>
    public double? Planned => PartPrice + PlannedVisit;

    /// <summary>Cost of a failure; null: something is not told.</summary>
    public double? Failure => PartPrice + FailureVisit + (LockoutHours * LockoutHourCost);

    /// <summary>What hinders a plan; null: nothing.</summary>
    public PlanGap? Missing => this switch
    {
        { PartPrice: null } => new(PlanGapKind.NoPrice),
        { PlannedVisit: null } => new(PlanGapKind.NoVisitCost),
        { FailureVisit: null } => new(PlanGapKind.NoFailureCost),
        { Planned: <= 0 } => new(PlanGapKind.CostsNothing),
        _ => null,
    };

    /// <summary>The costs at a position.</summary>
    /// <param name="plan">Parts and terms.</param>
    /// <param name="position">The position.</param>
    /// <param name="partNumber">The part number that is ordered; null: not known.</param>
    /// <param name="fleetLockoutHours">The mean of the fleet's own lockouts; null: none on record.</param>
    public static PlanCosts Of(PlanResources plan, PositionResource position, string? partNumber, double? fleetLockoutHours) => new(
        (partNumber is null ? null : plan.Parts.GetValueOrDefault(partNumber)?.Price) ?? position.PartCost,
        position.PlannedVisitCost ?? plan.Terms.PlannedVisitCost,
        position.FailureCost ?? plan.Terms.FailureCost,
        plan.Terms.ExpectedLockoutHours ?? fleetLockoutHours ?? 0,
        plan.Terms.LockoutHourCost);
}
