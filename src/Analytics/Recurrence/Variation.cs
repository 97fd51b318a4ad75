using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Recurrence;

/// <summary>Whether times between events vary as those of a Poisson process do.</summary>
/// <param name="Units">Units with two or more times between events.</param>
/// <param name="Gaps">Times between events over these units.</param>
/// <param name="Coefficient">
/// Coefficient of variation of the times, each over its unit's mean: about 1 for Poisson, above 1 in clusters, below 1 when regular; null
/// without two times between events at one unit.
/// </param>
/// <param name="PValue">Two-sided chance of so much or so little variation in a Poisson process; null with too few times to tell.</param>
public sealed record Variation(int Units, int Gaps, double? Coefficient, double? PValue)
{
    /// <summary>With fewer times between events the variation cannot be told; the normal approximation fails there too.</summary>
    public const int FewestGaps = 8;

    /// <summary>
    /// Compares the times up to each unit's last event with a Poisson process. Given that event's age, the squared shares of n times add up
    /// to 2/(n + 1) on average with variance 4(n - 1)/((n + 1)^2 (n + 2)(n + 3)) (Greenwood's statistic; Moran 1947, JRSS B 9, 92-98), so
    /// units may differ in rate. A steep trend makes times vary more as well. The statistic is skewed: its logarithm is taken as normal.
    /// </summary>
    /// <param name="histories">The units.</param>
    public static Variation Of(IReadOnlyList<EventHistory> histories)
    {
        (int units, int gaps) = (0, 0);
        double squares = 0, expected = 0, variance = 0;
        foreach (Renewals unit in Renewals.Of(histories))
        {
            double n = unit.Ages.Length;
            (units, gaps) = (units + 1, gaps + unit.Ages.Length);
            squares += unit.SquaredDeviations();
            expected += unit.ExpectedSquaredDeviations;
            variance += 4 * n * n * n * n * (n - 1) / ((n + 1) * (n + 1) * (n + 2) * (n + 3));
        }

        double? coefficient = units == 0 ? null : Math.Sqrt(squares / (gaps - units));
        return new Variation(
            units, gaps, coefficient, gaps < FewestGaps || units == 0 ? null : TwoSided(squares, expected, variance));
    }

    /// <summary>Normal chance on the logarithmic scale with the moments of the statistic.</summary>
    private static double TwoSided(double value, double mean, double variance)
    {
        double spread = Math.Log(1 + (variance / (mean * mean)));
        double z = value <= 0 ? double.NegativeInfinity : (Math.Log(value / mean) + (spread / 2)) / Math.Sqrt(spread);
        return 2 * Normal.CDF(0, 1, -Math.Abs(z));
    }
}
