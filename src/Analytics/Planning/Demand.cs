namespace Washwear.Analytics.Planning;

/// <summary>Number of parts that will be asked for, as a distribution.</summary>
/// <param name="Probabilities">Chance of 0, 1, 2, ... parts; together 1 to within 1e-12. Beyond the end chances are below that.</param>
/// <param name="Mean">Mean number.</param>
/// <param name="Variance">Variance of the number.</param>
public sealed record Demand(IReadOnlyList<double> Probabilities, double Mean, double Variance)
{
    /// <summary>Fewest parts that the demand does not exceed with at least this chance.</summary>
    /// <param name="level">Chance, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The level is out of range.</exception>
    public int Quantile(double level) => SmallestStock(level);

    /// <summary>Chance that a stock covers the whole demand.</summary>
    /// <param name="stock">Parts in stock, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The stock is below 0.</exception>
    public double Service(int stock)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(stock);
        double sum = 0;
        for (int i = 0; i <= stock && i < Probabilities.Count; i++)
        {
            sum += Probabilities[i];
        }

        return Math.Min(1, sum);
    }

    /// <summary>The chances of each stock from 0 to one: <c>ServiceAt(2)[1]</c> is the chance that one part is enough.</summary>
    /// <param name="most">Greatest stock, 0 to 1,000,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The stock is out of range.</exception>
    public IReadOnlyList<double> ServiceAt(int most)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(most);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(most, 1_000_000);
        double[] service = new double[most + 1];
        double sum = 0;
        for (int i = 0; i <= most; i++)
        {
            sum += i < Probabilities.Count ? Probabilities[i] : 0;
            service[i] = Math.Min(1, sum);
        }

        return service;
    }

    /// <summary>Smallest stock that covers the whole demand with at least this chance.</summary>
    /// <param name="level">Chance, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The level is out of range.</exception>
    public int SmallestStock(double level)
    {
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "The level lies above 0 and below 1.");
        }

        // The sum may miss a level that it should just reach, such as 0.5 + 0.4 for 0.9, by its rounding.
        double sum = 0;
        for (int i = 0; i < Probabilities.Count; i++)
        {
            sum += Probabilities[i];
            if (sum >= level - 1e-13)
            {
                return i;
            }
        }

        return Probabilities.Count - 1;
    }
}
