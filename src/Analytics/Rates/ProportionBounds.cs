using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>
/// Two-sided bounds of a share of independent cases. Wilson (1927) J. American Statistical Association 22, 209 inverts the score test;
/// Clopper and Pearson (1934) Biometrika 26, 404 invert the binomial tails and never cover less than the stated level. Both are compared by
/// Newcombe (1998) Statistics in Medicine 17, 857. Cases that come in groups, such as washes of the same unit, are not independent: see
/// ClusteredShare.
/// </summary>
public static class ProportionBounds
{
    /// <summary>Wilson's score bounds; null when there are no cases.</summary>
    /// <param name="count">Cases with the property, 0 to <paramref name="cases"/>.</param>
    /// <param name="cases">All cases, 0 or more.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static Estimate? Wilson(int count, int cases, double level = 0.95)
    {
        Require(count, cases, level);
        if (cases == 0)
        {
            return null;
        }

        double share = (double)count / cases;
        (double lower, double upper) = Score(share, cases, Normal.InvCDF(0, 1, (1 + level) / 2));
        return new Estimate(share, lower, upper, level, "Wilson score");
    }

    /// <summary>Clopper and Pearson's exact bounds; null when there are no cases.</summary>
    /// <param name="count">Cases with the property, 0 to <paramref name="cases"/>.</param>
    /// <param name="cases">All cases, 0 or more.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static Estimate? ClopperPearson(int count, int cases, double level = 0.95)
    {
        Require(count, cases, level);
        if (cases == 0)
        {
            return null;
        }

        double tail = (1 - level) / 2;
        double lower = count == 0 ? 0 : Beta.InvCDF(count, cases - count + 1, tail);
        double upper = count == cases ? 1 : Beta.InvCDF(count + 1, cases - count, 1 - tail);
        return new Estimate((double)count / cases, lower, upper, level, "Clopper-Pearson exact");
    }

    /// <summary>Score bounds of a share for a number of cases that need not be whole.</summary>
    /// <param name="share">Observed share, 0 to 1.</param>
    /// <param name="cases">Number of cases that the share is worth, above 0.</param>
    /// <param name="quantile">Two-sided quantile of the reference distribution, such as 1.96.</param>
    internal static (double Lower, double Upper) Score(double share, double cases, double quantile)
    {
        double q = quantile * quantile / cases;
        double centre = (share + (q / 2)) / (1 + q);
        double half = Math.Sqrt((q * share * (1 - share)) + (q * q / 4)) / (1 + q);

        // At 0 and at 1 the bound on that side is the share itself; rounding must not push it past.
        return (share == 0 ? 0 : Math.Max(0, centre - half), share == 1 ? 1 : Math.Min(1, centre + half));
    }

    private static void Require(int count, int cases, double level)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfLessThan(cases, count);
        if (!(level > 0 && level < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "A confidence level lies between 0 and 1.");
        }
    }
}
