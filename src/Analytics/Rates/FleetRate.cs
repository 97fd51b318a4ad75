using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>How the units' own rates spread: a gamma distribution with this shape and rate.</summary>
/// <param name="Shape">Shape a, above 0: the smaller, the more the units differ; no unit.</param>
/// <param name="Rate">Rate b, in the unit of the exposure: how much exposure the fleet is worth beside a unit's own.</param>
/// <param name="ShapeStandardError">Standard error of the shape from the observed information; null where that has no inverse.</param>
/// <param name="RateStandardError">Standard error of the rate; null as above.</param>
/// <param name="Covariance">Covariance of both; null as above.</param>
/// <param name="LogLikelihood">Greatest marginal log-likelihood, all constants included.</param>
public sealed record RateSpread(
    double Shape, double Rate, double? ShapeStandardError, double? RateStandardError, double? Covariance, double LogLikelihood)
{
    /// <summary>Mean of the units' rates, a / b: the fleet's rate that a unit is held against.</summary>
    public double Mean => Shape / Rate;

    /// <summary>Standard deviation of the units' rates as a share of their mean, 1 / sqrt(a).</summary>
    public double Variation => 1 / Math.Sqrt(Shape);
}

/// <summary>A unit's rate, drawn towards the fleet's by as much as its own records are few.</summary>
/// <param name="Rate">Posterior mean with equal-tailed bounds; the pooled rate with exact bounds where no difference between units is
/// shown.</param>
/// <param name="StandardDeviation">Posterior standard deviation; null where no difference is shown.</param>
/// <param name="StandardDeviationWithSpread">The same with the error of shape and rate added to first order (Kass and Steffey 1989, J.
/// American Statistical Association 84, 717-726); null where that error is not known.</param>
/// <param name="ChanceAboveFleet">Chance that the unit's true rate is above the chosen multiple of the fleet's; null where no difference is
/// shown.</param>
public sealed record UnitRate(
    Estimate Rate, double? StandardDeviation, double? StandardDeviationWithSpread, double? ChanceAboveFleet);

/// <summary>Rates of a fleet's units, as <see cref="GammaPoisson.Fit"/> finds them.</summary>
/// <param name="Units">Units with exposure, all counted.</param>
/// <param name="LeftOut">Units without exposure, left out.</param>
/// <param name="Events">Events of the units counted.</param>
/// <param name="Exposure">Their exposure.</param>
/// <param name="PooledRate">All events per all exposure with exact bounds; null without exposure.</param>
/// <param name="Spread">How the units differ; null when they differ no more than chance alone makes counts differ.</param>
/// <param name="PooledLogLikelihood">Log-likelihood of one rate for all; null without exposure.</param>
/// <param name="SameRatePValue">Chance of at least so much more likelihood by a spread if all units have one rate: likelihood ratio, half a
/// chi-square with 1 degree of freedom, as no spread is the edge of the range (Self and Liang 1987, J. American Statistical Association 82,
/// 605-610); rough when events are few. 1 when no spread is found, null without exposure.</param>
/// <param name="Doubts">Sentences that a reader must see before acting on the figures.</param>
public sealed record FleetRate(
    int Units,
    int LeftOut,
    long Events,
    double Exposure,
    Estimate? PooledRate,
    RateSpread? Spread,
    double? PooledLogLikelihood,
    double? SameRatePValue,
    IReadOnlyList<string> Doubts)
{
    /// <summary>Name of the method.</summary>
    public const string Method = "gamma-Poisson, empirical Bayes";

    /// <summary>True when the units' counts differ by more than chance.</summary>
    public bool ShowsDifference => Spread is not null;

    /// <summary>The rate of a unit with these records, one of the fleet or another like them; null when the fleet has no exposure.</summary>
    /// <param name="count">The unit's events, 0 or more.</param>
    /// <param name="exposure">Its exposure, 0 or more; with none the fleet alone speaks.</param>
    /// <param name="level">Level of the bounds, above 0 and below 1.</param>
    /// <param name="multiple">Multiple of the fleet's rate that 'above' means, 0 or more, at most 1e6.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public UnitRate? Posterior(int count, double exposure, double level = 0.95, double multiple = 1)
    {
        RateArguments.Require(count, exposure, level);
        if (multiple is not (>= 0 and <= 1e6))
        {
            throw new ArgumentOutOfRangeException(nameof(multiple), multiple, "A multiple of the fleet's rate lies from 0 to 1,000,000.");
        }

        if (Spread is null)
        {
            return PooledRate is null ? null : new UnitRate(PoissonRate.Exact(Events, Exposure, level)!, null, null, null);
        }

        double shape = Spread.Shape + count, rate = Spread.Rate + exposure;
        double lower = CountTails.GammaBelow(shape, (1 - level) / 2) / rate, upper = CountTails.GammaBelow(shape, (1 + level) / 2) / rate;
        return new UnitRate(
            new Estimate(shape / rate, lower, upper, level, Method),
            Math.Sqrt(shape) / rate,
            WithSpread(Spread, shape, rate),
            CountTails.GammaAtLeast(shape, rate * multiple * Spread.Mean));
    }

    private static double? WithSpread(RateSpread spread, double shape, double rate)
    {
        if (spread is not { ShapeStandardError: { } sa, RateStandardError: { } sb, Covariance: { } sab })
        {
            return null;
        }

        // Derivatives of the mean (a + x) / (b + t) by a and by b.
        double byShape = 1 / rate, byRate = -shape / rate / rate;
        double added = (byShape * byShape * sa * sa) + (byRate * byRate * sb * sb) + (2 * byShape * byRate * sab);
        return Math.Sqrt((shape / rate / rate) + Math.Max(0, added));
    }
}
