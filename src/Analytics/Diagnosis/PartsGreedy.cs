namespace Washwear.Analytics.Diagnosis;

/// <summary>Parts chosen cause by cause where there are too many sets to compare, with the limit that the best cannot go below.</summary>
internal sealed class PartsGreedy(PartNeeds needs)
{
    // Stands for nothing where something is divided by a price.
    private const double LeastCost = 1e-300;

    public PartsChoice Choose(double level, double wanted)
    {
        HashSet<int> chosen = [];
        while (needs.CoveredBy(chosen) < wanted - PartNeeds.Rounding)
        {
            chosen.UnionWith(MostGained(chosen));
        }

        foreach (int part in chosen.OrderByDescending(needs.CostOf).ThenByDescending(part => part).ToList())
        {
            chosen.Remove(part);
            if (needs.CoveredBy(chosen) < wanted - PartNeeds.Rounding)
            {
                chosen.Add(part);
            }
        }

        double least = Least(wanted);
        return needs.Result(level, chosen, null, least, chosen.Sum(needs.CostOf) <= least * (1 + PartNeeds.Rounding));
    }

    /// <summary>The missing parts of the cause whose parts bring most, with all that they cover beside it.</summary>
    private int[] MostGained(HashSet<int> chosen)
    {
        double covered = needs.CoveredBy(chosen);
        return needs.Causes.Select(cause => (int[])[.. cause.Parts.Where(part => !chosen.Contains(part))])
            .Where(missing => missing.Length > 0)
            .MaxBy(missing => (needs.CoveredBy([.. chosen, .. missing]) - covered)
                / Math.Max(missing.Sum(needs.CostOf), LeastCost))!;
    }

    /// <summary>Least number or price by which the parts' shares of the causes add to the level: whole parts, or fractions of the
    /// dearest.</summary>
    private double Least(double wanted)
    {
        double[] shares = new double[needs.Parts.Count];
        double covered = 0;
        foreach ((double probability, int[] parts) in needs.Causes)
        {
            covered += parts.Length == 0 ? probability : 0;
            foreach (int part in parts)
            {
                shares[part] += probability / parts.Length;
            }
        }

        double cost = 0;
        double Worth(int part) => shares[part] / Math.Max(needs.CostOf(part), LeastCost);
        foreach (int part in Enumerable.Range(0, shares.Length).OrderByDescending(Worth))
        {
            double missing = wanted - PartNeeds.Rounding - covered;
            if (missing <= 0)
            {
                break;
            }

            cost += needs.CostOf(part) * (needs.Cheapest ? Math.Min(1, missing / shares[part]) : 1);
            covered += shares[part];
        }

        return cost;
    }
}
