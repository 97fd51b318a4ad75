using System.Collections.Concurrent;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Dashboard.PartLife;

namespace Washwear.Api.PartLife;

/// <summary>The chance that a fitted part fails soon, and the model behind it.</summary>
/// <param name="Chance">Chance to fail within the time asked for given that it works now; null where it cannot be told.</param>
/// <param name="Basis">The model behind the chance, or why there is none.</param>
public sealed record FailureChance(Estimate? Chance, string Basis);

/// <summary>The lives of a position, or of one failure mode of it, and what was fitted to them.</summary>
/// <param name="Lives">The lives, aged in days.</param>
/// <param name="Fit">The curve, or why there is none.</param>
public sealed record PositionLife(Lives Lives, LifeResult Fit);

/// <summary>The life model of each position over the whole fleet, asked for the parts fitted now. Safe for concurrent use.</summary>
public sealed class FittedParts
{
    private readonly Dictionary<string, PositionLife> _byPosition;
    private readonly ConcurrentDictionary<(string Position, string Mode), PositionLife> _byMode = new();

    /// <summary>Fits each position.</summary>
    /// <param name="lives">All lives of the fleet.</param>
    public FittedParts(IReadOnlyCollection<FleetLife> lives) =>
        _byPosition = lives.GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase)
            .AsParallel()
            .Select(group => (Position: group.Key, Life: Fitted(FleetLives.OnClock([.. group], LifeClock.Days))))
            .ToDictionary(one => one.Position, one => one.Life, StringComparer.OrdinalIgnoreCase);

    /// <summary>The life model of a position, in days; null: too few failures to fit one.</summary>
    /// <param name="position">Code of the position.</param>
    public Weibull? Curve(string position) => (At(position)?.Fit as FittedLife)?.Curve;

    /// <summary>The lives at a position and their curve; null: none are on record.</summary>
    /// <param name="position">Code of the position.</param>
    public PositionLife? At(string position) => _byPosition.GetValueOrDefault(position);

    /// <summary>The lives at a position as one failure mode sees them, others censored; null: no failure on record names the mode.</summary>
    /// <param name="position">Code of the position.</param>
    /// <param name="mode">The mode, compared without case.</param>
    public PositionLife? At(string position, string mode) =>
        At(position) is { } all && all.Lives.Modes.FirstOrDefault(one => string.Equals(one, mode, StringComparison.OrdinalIgnoreCase)) is { } named
            ? _byMode.GetOrAdd((position.ToUpperInvariant(), named), _ => Fitted(all.Lives.ForMode(named)))
            : null;

    /// <summary>The chance that a fitted part fails within a time from now.</summary>
    /// <param name="life">A part that is still fitted.</param>
    /// <param name="days">The time, days, above 0.</param>
    /// <param name="withBounds">Whether bounds are wanted, which cost more than the chance itself.</param>
    public FailureChance Of(FleetLife life, double days, bool withBounds)
    {
        if (life.Doubt is not null || !life.Ages.TryGetValue(LifeClock.Days, out LifeAges ages))
        {
            return new FailureChance(null, PartLifeSentences.NoChance(ageIsKnown: false));
        }

        return At(life.Position)?.Fit switch
        {
            FittedLife fitted => new FailureChance(
                withBounds
                    ? WeibullBounds.FurtherFailure(fitted, ages.End, days)
                    : new Estimate(fitted.Curve.ConditionalFailureProbability(ages.End, days), null, null, 0.95, "none"),
                PartLifeSentences.ChanceFitted(fitted.Account.Failures, fitted.Account.Lives)),
            NotEnough few => new FailureChance(null, Remarks.Told(few.Message)),
            _ => new FailureChance(null, PartLifeSentences.NoChance(ageIsKnown: true)),
        };
    }

    private static PositionLife Fitted(Lives lives) => new(lives, WeibullFit.Fit(lives));
}
