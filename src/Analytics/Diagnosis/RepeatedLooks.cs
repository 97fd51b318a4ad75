namespace Washwear.Analytics.Diagnosis;

/// <summary>What a way of looking again and again costs.</summary>
/// <param name="FirstLooks">Indices of the causes looked for, first one first.</param>
/// <param name="ExpectedMinutes">Mean minutes until the cause is found; null: it may never be found, or not within
/// <see cref="RepeatedLooks.MostLooks"/> looks.</param>
public sealed record LookPlan(IReadOnlyList<int> FirstLooks, double? ExpectedMinutes);

/// <summary>
/// Looks that may miss what is there, never see what is not, and are repeated until the cause is found. Looks are independent: the k-th
/// look at cause i finds it with probability p_i (1 - miss_i) miss_i^(k - 1). Taking next the largest of that per minute costs least:
/// Chew (1967) SIAM J. Applied Mathematics 15, 1312; Kadane (1968) J. Mathematical Analysis and Applications 22, 156. A look that misses
/// for a lasting reason is not independent of the next, which this does not know.
/// </summary>
public static class RepeatedLooks
{
    /// <summary>Most looks that are followed.</summary>
    public const int MostLooks = 100_000;

    // So little unfound probability adds nothing that can be seen.
    private const double Unfound = 1e-13;

    /// <summary>The looks that cost least.</summary>
    /// <param name="probabilities">Probability of each cause, scaled to add to 1.</param>
    /// <param name="looks">For each cause its look: minutes and chance of missing count.</param>
    /// <param name="first">How many looks to name, 0 or more.</param>
    public static LookPlan Best(IReadOnlyList<double> probabilities, IReadOnlyList<DiagnosticCheck> looks, int first) =>
        Follow(probabilities, looks, first, (left, _) =>
            Enumerable.Range(0, left.Length).MaxBy(i => left[i] * (1 - looks[i].Miss) / looks[i].Minutes));

    /// <summary>What repeating a list costs.</summary>
    /// <param name="probabilities">Probability of each cause, scaled to add to 1.</param>
    /// <param name="looks">For each cause its look.</param>
    /// <param name="order">The list of causes that is repeated; one that it leaves out is never found.</param>
    public static LookPlan Cycle(IReadOnlyList<double> probabilities, IReadOnlyList<DiagnosticCheck> looks, IReadOnlyList<int> order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Count == 0
            ? new LookPlan([], null)
            : Follow(probabilities, looks, order.Count, (_, done) => order[done % order.Count]);
    }

    private static LookPlan Follow(
        IReadOnlyList<double> probabilities, IReadOnlyList<DiagnosticCheck> looks, int first, Func<double[], int, int> choose)
    {
        ArgumentNullException.ThrowIfNull(looks);
        double[] left = Requirements.Normalised(probabilities);
        if (looks.Count != left.Length)
        {
            throw new ArgumentException($"{looks.Count} looks were given for {left.Length} causes.", nameof(looks));
        }

        List<int> named = [];
        double minutes = 0;
        double expected = 0;
        int done = 0;
        for (; done < MostLooks && (named.Count < first || left.Sum() > Unfound); done++)
        {
            int next = choose(left, done);
            minutes += looks[next].Minutes;
            expected += minutes * left[next] * (1 - looks[next].Miss);
            left[next] *= looks[next].Miss;
            if (named.Count < first)
            {
                named.Add(next);
            }
        }

        return new LookPlan(named, left.Sum() > Unfound ? null : expected);
    }
}
