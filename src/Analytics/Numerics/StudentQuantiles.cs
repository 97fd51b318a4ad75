using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Numerics;

/// <summary>
/// Quantiles of Student's t. Each is searched for, which takes longer than all else about the share of a few units, and groups have the same
/// few sizes: what was found is kept. Safe for concurrent use.
/// </summary>
internal static class StudentQuantiles
{
    private const int Most = 4_096;
    private static readonly ConcurrentDictionary<(int Freedom, double Probability), double> Known = new();

    /// <summary>The quantile.</summary>
    /// <param name="freedom">Degrees of freedom, 1 or more.</param>
    /// <param name="probability">The probability, above 0 and below 1.</param>
    public static double Of(int freedom, double probability)
    {
        if (!Known.TryGetValue((freedom, probability), out double quantile))
        {
            quantile = StudentT.InvCDF(0, 1, freedom, probability);
            if (Known.Count < Most)
            {
                Known[(freedom, probability)] = quantile;
            }
        }

        return quantile;
    }
}
