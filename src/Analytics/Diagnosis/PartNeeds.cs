namespace Washwear.Analytics.Diagnosis;

/// <summary>The parts that a choice is about, numbered in the order in which the causes name them, and which causes need which.</summary>
internal sealed class PartNeeds
{
    /// <summary>Sums of probabilities that differ by less are the same.</summary>
    public const double Rounding = 1e-12;

    private readonly IReadOnlyDictionary<string, double> _prices;

    public PartNeeds(IReadOnlyList<CauseParts> causes, IReadOnlyDictionary<string, double> prices, bool cheapest)
    {
        _prices = prices;
        Cheapest = cheapest;
        CauseParts[] coverable = [.. causes.Where(cause => cause.Parts is not null && cause.Probability > 0)];
        Parts = [.. coverable.SelectMany(cause => cause.Parts!).Distinct()];
        Prices = [.. Parts.Select(part => prices.GetValueOrDefault(part))];
        List<string> numbered = [.. Parts];
        Causes =
        [
            .. coverable.Select(cause =>
                (cause.Probability, (int[])[.. cause.Parts!.Distinct().Select(part => numbered.IndexOf(part))])),
        ];
        MostCoverable = Math.Min(1, Causes.Sum(cause => cause.Probability));
    }

    public IReadOnlyList<string> Parts { get; }

    public double[] Prices { get; }

    public (double Probability, int[] Parts)[] Causes { get; }

    public double MostCoverable { get; }

    public bool Cheapest { get; }

    /// <summary>What a part counts: its price where the cheapest are sought, else 1.</summary>
    public double CostOf(int part) => Cheapest ? Prices[part] : 1;

    public double CoveredBy(HashSet<int> parts) =>
        Math.Min(1, Causes.Where(cause => cause.Parts.All(parts.Contains)).Sum(cause => cause.Probability));

    public PartsChoice Result(double level, IReadOnlyCollection<int> chosen, double? oneFewer, double least, bool exact)
    {
        string[] parts = [.. chosen.Order().Select(part => Parts[part])];
        return new PartsChoice(
            level, MostCoverable >= level - Rounding, parts, CoveredBy([.. chosen]), oneFewer, chosen.Sum(part => Prices[part]),
            [.. parts.Where(part => !_prices.ContainsKey(part))], MostCoverable, least, exact);
    }
}
