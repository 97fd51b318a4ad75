using MathNet.Numerics;

namespace Washwear.Analytics.Numerics;

/// <summary>Upper tail of the chi-square distribution, without the loss of digits of 1 - F.</summary>
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
}
