namespace Washwear.Analytics.Repeats;

/// <summary>Number of successes in trials of unlike chances, by adding one trial after the other (exact; Barlow and Heidtmann 1984, IEEE
/// Transactions on Reliability 33, 322-323).</summary>
internal static class PoissonBinomial
{
    /// <summary>Chance of at least so many successes; the tail is added up as itself, so a small one keeps its digits.</summary>
    public static double AtLeast(int successes, IReadOnlyList<double> chances)
    {
        if (successes <= 0)
        {
            return 1;
        }

        double[] exactly = new double[successes];
        exactly[0] = 1;
        double reached = 0;
        foreach (double chance in chances.Order())
        {
            reached += exactly[^1] * chance;
            for (int j = successes - 1; j > 0; j--)
            {
                exactly[j] = (exactly[j] * (1 - chance)) + (exactly[j - 1] * chance);
            }

            exactly[0] *= 1 - chance;
        }

        return Math.Clamp(reached, 0, 1);
    }
}
