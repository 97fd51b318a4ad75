using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.PartLife;

/// <summary>The chance that a fitted part fails soon, and the model behind it.</summary>
/// <param name="Chance">Chance to fail within the time asked for given that it works now; null where it cannot be told.</param>
/// <param name="Basis">The model behind the chance, or why there is none.</param>
public sealed record FailureChance(Estimate? Chance, string Basis);

/// <summary>The life model of each position over the whole fleet, asked for the parts fitted now.</summary>
public sealed class FittedParts
{
    private readonly Dictionary<string, LifeResult> _byPosition;

    /// <summary>Fits each position.</summary>
    /// <param name="lives">All lives of the fleet.</param>
    public FittedParts(IReadOnlyCollection<FleetLife> lives) =>
        _byPosition = lives.GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase).ToDictionary(
            group => group.Key,
            group => WeibullFit.Fit(FleetLives.OnClock([.. group], LifeClock.Days)),
            StringComparer.OrdinalIgnoreCase);

    /// <summary>The life model of a position, in days; null: too few failures to fit one.</summary>
    /// <param name="position">Code of the position.</param>
    public Weibull? Curve(string position) => (_byPosition.GetValueOrDefault(position) as FittedLife)?.Curve;

    /// <summary>The chance that a fitted part fails within a time from now.</summary>
    /// <param name="life">A part that is still fitted.</param>
    /// <param name="days">The time, days, above 0.</param>
    /// <param name="withBounds">Whether bounds are wanted, which cost more than the chance itself.</param>
    public FailureChance Of(FleetLife life, double days, bool withBounds)
    {
        if (life.Doubt is not null || !life.Ages.TryGetValue(LifeClock.Days, out LifeAges ages))
        {
            return new FailureChance(null, "its age is not known");
        }

        return _byPosition.GetValueOrDefault(life.Position) switch
        {
            FittedLife fitted => new FailureChance(
                withBounds
                    ? WeibullBounds.FurtherFailure(fitted, ages.End, days)
                    : new Estimate(fitted.Curve.ConditionalFailureProbability(ages.End, days), null, null, 0.95, "none"),
                "Weibull fit to " + Text.Counted(fitted.Account.Failures, "failure") + " of " + Text.Counted(fitted.Account.Lives, "part") + ", in days"),
            NotEnough few => new FailureChance(null, few.Message),
            _ => new FailureChance(null, "no lives on record"),
        };
    }
}
