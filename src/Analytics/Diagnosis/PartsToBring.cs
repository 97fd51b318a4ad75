namespace Washwear.Analytics.Diagnosis;

/// <summary>What mending a cause needs.</summary>
/// <param name="Probability">Probability of the cause, 0 to 1.</param>
/// <param name="Parts">Part numbers, all of which it needs; empty: it is mended without parts, as a blockage is; null: no parts mend it, as
/// nobody knows which for 'something else'.</param>
public sealed record CauseParts(double Probability, IReadOnlyList<string>? Parts);

/// <summary>Parts to bring.</summary>
/// <param name="Level">Probability that was asked for.</param>
/// <param name="Reachable">Whether any parts reach it; if not, <paramref name="Parts"/> reach as much as can be.</param>
/// <param name="Parts">Part numbers, in the order in which the causes name them.</param>
/// <param name="Covered">Probability that these parts are all that is needed, 0 to 1.</param>
/// <param name="CoveredByOneFewer">The most that one part fewer would cover; null: no part is needed, or there were too many to
/// compare.</param>
/// <param name="Price">Price of the parts, those without a price left out.</param>
/// <param name="Unpriced">Parts among them that have no price; they counted as free.</param>
/// <param name="MostCoverable">What all parts together would cover, 0 to 1.</param>
/// <param name="Least">Proven lower limit: no parts that reach the level are fewer, or cheaper, than this. Equal to the number or the price
/// of the parts where all sets were compared.</param>
/// <param name="Exact">Whether nothing smaller, or cheaper, reaches the level.</param>
public sealed record PartsChoice(
    double Level, bool Reachable, IReadOnlyList<string> Parts, double Covered, double? CoveredByOneFewer, double Price,
    IReadOnlyList<string> Unpriced, double MostCoverable, double Least, bool Exact);

/// <summary>
/// Parts to bring so that the fault can be mended on this visit with a chosen probability. A cause is covered only when all its parts are
/// along. Up to <see cref="MostCompared"/> parts all sets are compared. Beyond, parts are added cause by cause, most probability gained per
/// part (or price) first, and those that turn out not to be needed are taken back; a lower limit then says how far from the best that can
/// be: each cause's probability shared equally by its parts is more than any set covers of it, so no set of fewer parts than the largest
/// shares need for the level can do.
/// </summary>
public static class PartsToBring
{
    /// <summary>Most parts of which all sets are compared.</summary>
    public const int MostCompared = 16;

    /// <summary>The fewest parts; ties: the lower price, then more covered, then the order in which the causes name them.</summary>
    /// <param name="causes">The causes.</param>
    /// <param name="level">Probability to reach, 0 to 1.</param>
    /// <param name="prices">Prices by part number, 0 or more; empty: none known.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static PartsChoice Fewest(IReadOnlyList<CauseParts> causes, double level, IReadOnlyDictionary<string, double> prices) =>
        Choose(causes, level, prices, cheapest: false);

    /// <summary>The cheapest parts; ties: the smaller number, then more covered, then the order in which the causes name them.</summary>
    /// <param name="causes">The causes.</param>
    /// <param name="level">Probability to reach, 0 to 1.</param>
    /// <param name="prices">Prices by part number, 0 or more; a part without one counts as free and is told.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static PartsChoice Cheapest(IReadOnlyList<CauseParts> causes, double level, IReadOnlyDictionary<string, double> prices) =>
        Choose(causes, level, prices, cheapest: true);

    private static PartsChoice Choose(
        IReadOnlyList<CauseParts> causes, double level, IReadOnlyDictionary<string, double> prices, bool cheapest)
    {
        ArgumentNullException.ThrowIfNull(causes);
        ArgumentNullException.ThrowIfNull(prices);
        Requirements.InRange(level, 0, 1, nameof(level));
        foreach (double price in prices.Values)
        {
            Requirements.InRange(price, 0, double.MaxValue, nameof(prices));
        }

        foreach (CauseParts cause in causes)
        {
            Requirements.InRange(cause.Probability, 0, 1, nameof(causes));
        }

        PartNeeds needs = new(causes, prices, cheapest);
        double wanted = Math.Min(level, needs.MostCoverable);
        return needs.Parts.Count <= MostCompared
            ? new PartSets(needs).Best(level, wanted)
            : new PartsGreedy(needs).Choose(level, wanted);
    }
}
