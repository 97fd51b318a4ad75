using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Numerics;

/// <summary>The confidence level of two-sided bounds.</summary>
internal static class ConfidenceLevel
{
    /// <summary>Normal quantile that leaves half of 1 - level above it, such as 1.96 for 0.95.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The level does not lie between 0 and 1.</exception>
    public static double NormalQuantile(double level)
    {
        Check(level);
        return Normal.InvCDF(0, 1, (1 + level) / 2);
    }

    /// <summary>Refuses a level that does not lie between 0 and 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The level does not lie between 0 and 1.</exception>
    public static void Check(double level)
    {
        if (!(level > 0 && level < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "A confidence level lies between 0 and 1.");
        }
    }
}
