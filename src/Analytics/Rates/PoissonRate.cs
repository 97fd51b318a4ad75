using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>Mean exposure from failure to failure.</summary>
/// <param name="Value">Exposure / failures, in the unit of the exposure; null without a failure: there is no best value then.</param>
/// <param name="Lower">Lower bound.</param>
/// <param name="Upper">Upper bound; null without a failure: it is open.</param>
/// <param name="Level">Confidence level of the bounds.</param>
/// <param name="Bounds">Name of the method; it says when the lower bound is one-sided.</param>
public sealed record MeanTimeBetweenFailures(double? Value, double Lower, double? Upper, double Level, string Bounds);

/// <summary>
/// Rate of events in an exposure fixed beforehand (unit-years, thousand washes), with exact bounds: lower chi2(a/2; 2x) / 2t, upper
/// chi2(1-a/2; 2x+2) / 2t for x events in t. They never cover less than the stated level if the events are Poisson: independent, at one
/// rate. Events that come in runs are not; see the grouping of faults into episodes. Source: Garwood (1936) Biometrika 28, 437-442; mean
/// time between failures of a time-terminated test: NIST/SEMATECH e-Handbook 8.4.5.1.
/// </summary>
public static class PoissonRate
{
    /// <summary>Events per unit of exposure with two-sided bounds; null without exposure. No event: lower bound 0.</summary>
    /// <param name="count">Events, 0 or more.</param>
    /// <param name="exposure">Exposure, 0 or more.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static Estimate? Exact(long count, double exposure, double level = 0.95)
    {
        RateArguments.Require(count, exposure, level);
        return exposure > 0
            ? new Estimate(
                count / exposure, Lower(count, (1 - level) / 2) / exposure, Upper(count, (1 + level) / 2) / exposure, level, "exact Poisson")
            : null;
    }

    /// <summary>
    /// Rate that is not exceeded at a confidence level, one-sided; null without exposure. Without an event it is -ln(1 - level) / exposure,
    /// 3.0 events per exposure at 95 %.
    /// </summary>
    /// <param name="count">Events, 0 or more.</param>
    /// <param name="exposure">Exposure, 0 or more.</param>
    /// <param name="level">One-sided confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static double? UpperBound(long count, double exposure, double level = 0.95)
    {
        RateArguments.Require(count, exposure, level);
        return exposure > 0 ? Upper(count, level) / exposure : null;
    }

    /// <summary>
    /// Mean exposure between failures with two-sided bounds, the turned bounds of the rate; null without exposure. Without a failure only a
    /// lower bound exists, one-sided at <paramref name="level"/>.
    /// </summary>
    /// <param name="count">Failures, 0 or more.</param>
    /// <param name="exposure">Exposure, 0 or more.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static MeanTimeBetweenFailures? MeanTimeBetween(long count, double exposure, double level = 0.95)
    {
        if (count == 0)
        {
            return UpperBound(0, exposure, level) is { } most
                ? new MeanTimeBetweenFailures(null, 1 / most, null, level, "exact Poisson, one-sided")
                : null;
        }

        return Exact(count, exposure, level) is { } rate
            ? new MeanTimeBetweenFailures(exposure / count, 1 / rate.Upper!.Value, 1 / rate.Lower!.Value, level, "exact Poisson")
            : null;
    }

    // Half the chi-square quantile with 2k degrees of freedom is the gamma quantile of shape k.
    private static double Lower(long count, double tail) => count == 0 ? 0 : CountTails.GammaBelow(count, tail);

    private static double Upper(long count, double chance) =>
        count == 0 ? -Elementary.LogOnePlus(-chance) : CountTails.GammaBelow(count + 1.0, chance);
}
