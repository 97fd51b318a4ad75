namespace Washwear.Analytics.Rates;

/// <summary>What counts, exposures and levels may be; refused with the value and the range.</summary>
internal static class RateArguments
{
    // Far beyond any exposure, and near enough that no rate, ratio or product of two leaves the range of numbers.
    private const double LeastExposure = 1e-100;
    private const double MostExposure = 1e100;

    public static void Require(long count, double exposure, double level)
    {
        Count(count);
        Exposure(exposure, nameof(exposure));
        Level(level);
    }

    public static void Count(long count) => ArgumentOutOfRangeException.ThrowIfNegative(count);

    public static void Exposure(double exposure, string name)
    {
        if (exposure is not (0 or (>= LeastExposure and <= MostExposure)))
        {
            throw new ArgumentOutOfRangeException(name, exposure, "An exposure is 0, or a number from 1e-100 to 1e100.");
        }
    }

    public static void Level(double level)
    {
        if (!(level is > 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "A confidence level lies between 0 and 1.");
        }
    }

    public static void Rows(IReadOnlyList<int> counts, IReadOnlyList<double> exposures)
    {
        ArgumentNullException.ThrowIfNull(counts);
        ArgumentNullException.ThrowIfNull(exposures);
        if (counts.Count != exposures.Count)
        {
            throw new ArgumentException($"{counts.Count} counts but {exposures.Count} exposures.", nameof(exposures));
        }

        for (int i = 0; i < counts.Count; i++)
        {
            Count(counts[i]);
            Exposure(exposures[i], nameof(exposures));
        }
    }
}
