using Washwear.Analytics.PartLife;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>A part that is fitted now, as planning sees it.</summary>
/// <param name="Life">The part.</param>
/// <param name="Position">Its position in the unit's model.</param>
/// <param name="PartNumber">Part number that is ordered for it; null: not known.</param>
/// <param name="Model">The life model of the position.</param>
/// <param name="Age">Age on the model's clock; null: it cannot be told.</param>
/// <param name="PerDay">What a day adds to that age; null: it cannot be told.</param>
/// <param name="Costs">What replacing it costs.</param>
/// <param name="NoChance">Why no chance to fail can be told; null: it can.</param>
internal sealed record PlanPart(
    FleetLife Life, PositionResource Position, string? PartNumber, PlanModel Model, double? Age, double? PerDay, PlanCosts Costs, PlanGap? NoChance)
{
    /// <summary>Age at which somebody wants it replaced whatever is cheapest, infinite: run to failure; null: nobody does.</summary>
    public double? ForcedAge { get; init; }

    /// <summary>The unit.</summary>
    public UnitEntry Unit => Life.Unit;

    /// <summary>The curve, for a part whose chance can be told.</summary>
    public FittedLife? Fitted => NoChance is null ? Model.Fitted : null;

    /// <summary>Why nothing is planned for it; null: something can be.</summary>
    public PlanGap? NotPlanned => NoChance ?? Costs.Missing;

    /// <summary>Sort key: asset tag, position.</summary>
    public string Key { get; } = Codes.Key(Life.Unit.Resource.Unit) + " " + Codes.Key(Position.Position);

    /// <summary>Chance to fail within some days from now; null: it cannot be told.</summary>
    /// <param name="days">Days, 0 or more.</param>
    public double? Chance(double days) => Fitted is { } fit ? fit.Curve.ConditionalFailureProbability(Age!.Value, days * PerDay!.Value) : null;

    /// <summary>What is fitted now, looked at with the fleet's models.</summary>
    /// <param name="life">A part that is still fitted.</param>
    /// <param name="model">The life model of its position.</param>
    /// <param name="rates">Washes a day of each unit.</param>
    /// <param name="plan">Parts and terms.</param>
    /// <param name="fleetLockoutHours">The mean of the fleet's own lockouts; null: none on record.</param>
    /// <returns>The part; null where the unit's model has no such position any more.</returns>
    public static PlanPart? Of(FleetLife life, PlanModel model, WashRates rates, PlanResources plan, double? fleetLockoutHours)
    {
        if (!life.Unit.Model.Positions.TryGetValue(life.Position, out PositionResource? position))
        {
            return null;
        }

        string? number = NumberToOrder(life, position);
        bool isAged = life.Doubt is null && life.Ages.TryGetValue(model.Clock, out _);
        double? age = isAged ? life.Ages[model.Clock].End : null;
        double? perDay = PerDayOf(life, model.Clock, rates);
        return new PlanPart(
            life, position, number, model, age, perDay, PlanCosts.Of(plan, position, number, fleetLockoutHours), WhyNoChance(life, model, age, perDay));
    }

    // What is fitted is ordered again if it still belongs to the position, else what belongs to it first.
    private static string? NumberToOrder(FleetLife life, PositionResource position)
    {
        IReadOnlyList<string> listed = position.PartNumbers ?? [];
        return listed.FirstOrDefault(number => string.Equals(number, life.PartNumber, StringComparison.OrdinalIgnoreCase))
            ?? (listed.Count > 0 ? listed[0] : life.PartNumber);
    }

    private static double? PerDayOf(FleetLife life, LifeClock clock, WashRates rates) => clock switch
    {
        LifeClock.Days => 1,
        LifeClock.Washes => rates.PerDay(life.Unit.Id) ?? OwnPerDay(life, clock),
        _ => OwnPerDay(life, clock),
    };

    // What the part itself has gone through since it came under watch.
    private static double? OwnPerDay(FleetLife life, LifeClock clock) =>
        life.Ages.TryGetValue(clock, out LifeAges counted) && life.Ages.TryGetValue(LifeClock.Days, out LifeAges days) && days.End > days.Entry
            ? (counted.End - counted.Entry) / (days.End - days.Entry)
            : null;

    private static PlanGap? WhyNoChance(FleetLife life, PlanModel model, double? age, double? perDay) => model.Fitted is null
        ? model.WhyNone ?? new PlanGap(PlanGapKind.NoLives)
        : life.Doubt is { } doubt ? new PlanGap(PlanGapKind.AgeDoubted, Remark: doubt)
        : age is null ? new PlanGap(PlanGapKind.AgeNotKnown, FleetLives.Name(model.Clock))
        : perDay is null ? new PlanGap(PlanGapKind.PaceNotKnown, FleetLives.Name(model.Clock))
        : perDay <= 0 ? new PlanGap(PlanGapKind.NoWashes)
        : null;
}
