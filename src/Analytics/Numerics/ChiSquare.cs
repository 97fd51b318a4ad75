using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Numerics;

/// <summary>Both tails of the chi-square distribution, each without the loss of digits of one less the other.</summary>
public static class ChiSquare
{
    /// <summary>Chance of a value of at least <paramref name="statistic"/>.</summary>
    /// <param name="statistic">The statistic; below 0 (rounding) counts as 0.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, 1 or more.</param>
    public static double UpperTail(double statistic, int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        return statistic <= 0 ? 1 : Math.Clamp(SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2.0, statistic / 2), 0, 1);
    }

    /// <summary>Chance of a value of at most <paramref name="statistic"/>.</summary>
    /// <param name="statistic">The statistic; below 0 (rounding) counts as 0.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, 1 or more.</param>
    public static double LowerTail(double statistic, int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        return statistic <= 0 ? 0
            : statistic > degreesOfFreedom ? 1 - UpperTail(statistic, degreesOfFreedom)
            : Math.Min(1, LowerSeries(degreesOfFreedom / 2.0, statistic / 2));
    }

    /// <summary>The value that is not exceeded with a given chance.</summary>
    /// <param name="chance">Chance, above 0 and below 1.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, 1 or more.</param>
    public static double Quantile(double chance, int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        ConfidenceLevel.Check(chance);
        return ChiSquared.InvCDF(degreesOfFreedom, chance);
    }

    /// <summary>
    /// x^a e^-x / Gamma(a + 1) (1 + x/(a + 1) + x^2/((a + 1)(a + 2)) + ...), Abramowitz and Stegun (1964) 6.5.29, for x up to a. MathNet's
    /// own regularized lower gamma function is 0 where x is below about 1e-15.
    /// </summary>
    private static double LowerSeries(double a, double x)
    {
        double sum = 1, term = 1;
        for (double n = a + 1; term > sum * 1e-17; n++)
        {
            term *= x / n;
            sum += term;
        }

        return Math.Exp((a * Math.Log(x)) - x - SpecialFunctions.GammaLn(a + 1)) * sum;
    }
}
