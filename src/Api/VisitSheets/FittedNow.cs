using Washwear.Analytics.PartLife;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>What is fitted at each position of a unit, how old it is on each clock and how likely it is to fail soon.</summary>
internal static class FittedNow
{
    private const double SoonDays = 90;
    private const double LaterDays = 180;

    /// <summary>The parts, in the order of the model's positions.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="lives">Its part lives.</param>
    /// <param name="models">The fleet's fits.</param>
    public static IReadOnlyList<SheetPart> Of(UnitEntry unit, IReadOnlyList<FleetLife> lives, FittedParts models)
    {
        Dictionary<string, FleetLife> fitted = lives.Where(life => life.StillFitted)
            .GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.MaxBy(life => life.Ordinal)!, StringComparer.OrdinalIgnoreCase);
        return [.. unit.Model.Resource.Positions.Select(position => Part(position, fitted.GetValueOrDefault(position.Position), models))];
    }

    private static SheetPart Part(PositionResource position, FleetLife? life, FittedParts models)
    {
        double? half = models.At(position.Position)?.Fit is FittedLife fit ? fit.Curve.AgeWhenFailed(0.5) : null;
        if (life is null)
        {
            return new SheetPart(position.Position, position.Name, null, null, null, null, null, null, null, half,
                SheetBasisSentences.NoPartChange);
        }

        double? Age(LifeClock clock) => life.Ages.TryGetValue(clock, out LifeAges ages) ? ages.End : null;
        FailureChance soon = models.Of(life, SoonDays, withBounds: true);
        return new SheetPart(
            position.Position,
            position.Name,
            life.PartNumber,
            life.FittedAt,
            Age(LifeClock.Days),
            Age(LifeClock.Washes),
            Age(LifeClock.OperatingHours),
            soon.Chance,
            models.Of(life, LaterDays, withBounds: false).Chance?.Value,
            half,
            soon.Basis);
    }
}
