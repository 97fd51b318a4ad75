namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// Probability of each cause of a fault at one unit. The catalogue's prior weights are the counts of a Dirichlet distribution; closed
/// visits of the fleet add to them: mean share_i = (w_i + n_i) / sum (w + n) (conjugate updating of multinomial counts, as in Gelman et
/// al., Bayesian Data Analysis, 3rd ed., section 3.4). Causes compete as hazards do, so the share is multiplied by the hazard of the part
/// fitted now over the mean hazard of the fleet, under which the visits were made, and scaled to add to 1. A visit counts once: shared
/// equally by its findings that the catalogue knows, and each of those shared by the causes that it names in proportion to their prior
/// weights. Exactly one cause is taken to be present.
/// </summary>
public static class CauseWeights
{
    /// <summary>Weighs the causes.</summary>
    /// <param name="catalogue">Causes that the catalogue names for the fault code; may be empty: then all is 'something else'.</param>
    /// <param name="visits">Closed visits of the fleet for the fault code, in any order.</param>
    /// <param name="parts">For each cause of the catalogue the part fitted now; null where nothing is known of its life or age, or where
    /// the age bears not on the cause, as on a blockage. Empty: null for all.</param>
    /// <param name="options">Options.</param>
    /// <exception cref="ArgumentException">A number lies outside its range, or there are not as many parts as causes.</exception>
    public static CauseWeighing Weigh(
        IReadOnlyList<CataloguedCause> catalogue, IReadOnlyList<VisitEvidence> visits, IReadOnlyList<PartHazard?> parts,
        CauseOptions options)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentNullException.ThrowIfNull(visits);
        ArgumentNullException.ThrowIfNull(parts);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();
        if (parts.Count != 0 && parts.Count != catalogue.Count)
        {
            throw new ArgumentException($"{parts.Count} parts were given for {catalogue.Count} causes.", nameof(parts));
        }

        double[] prior = Prior(catalogue, options);
        double[] counts = new double[prior.Length];
        VisitEvidence[] counted = [.. visits.Where(visit => visit.Findings.Count > 0)];
        int outside = counted.Count(visit => !Add(visit, catalogue, prior, counts, options));
        (double Factor, bool Cut)[] factors =
            [.. catalogue.Select((_, i) => Factor(parts.Count == 0 ? null : parts[i], options.HazardLimit)), (1, false)];
        return new CauseWeighing(
            Explained(catalogue, prior, counts, factors), prior.Sum(), counted.Length, counted.Count(visit => !visit.Proven), outside,
            visits.Count - counted.Length, options);
    }

    // Weights that are all 0 say that nothing is known, which equal weights say too.
    private static double[] Prior(IReadOnlyList<CataloguedCause> catalogue, CauseOptions options)
    {
        foreach (CataloguedCause cause in catalogue)
        {
            Requirements.InRange(cause.PriorWeight, 0, double.MaxValue / (catalogue.Count + 2), nameof(cause.PriorWeight));
        }

        double[] prior = [.. catalogue.Select(cause => cause.PriorWeight), options.SomethingElseWeight];
        return prior.Sum() > 0 ? prior : [.. prior.Select(_ => 1.0)];
    }

    /// <summary>Adds a visit to the counts; false: it found nothing that the catalogue knows.</summary>
    private static bool Add(
        VisitEvidence visit, IReadOnlyList<CataloguedCause> catalogue, double[] prior, double[] counts, CauseOptions options)
    {
        double weight = visit.Proven ? 1 : options.UnprovenWeight;
        int[][] named = [.. visit.Findings.Select(finding => Named(finding, catalogue)).Where(causes => causes.Length > 0)];
        if (named.Length == 0)
        {
            counts[^1] += weight;
            return false;
        }

        foreach (int[] causes in named)
        {
            double sum = causes.Sum(cause => prior[cause]);
            foreach (int cause in causes)
            {
                counts[cause] += weight / named.Length * (sum > 0 ? prior[cause] / sum : 1.0 / causes.Length);
            }
        }

        return true;
    }

    private static int[] Named(CauseFinding finding, IReadOnlyList<CataloguedCause> catalogue) =>
        [.. Enumerable.Range(0, catalogue.Count).Where(cause => finding.Names(catalogue[cause]))];

    private static (double Factor, bool Cut) Factor(PartHazard? part, double limit)
    {
        if (part is null)
        {
            return (1, false);
        }

        double ratio = part.Ratio() ?? double.MaxValue;
        double factor = Math.Clamp(ratio, 1 / limit, limit);
        return (factor, factor != ratio);
    }

    private static WeighedCause[] Explained(
        IReadOnlyList<CataloguedCause> catalogue, double[] prior, double[] counts, (double Factor, bool Cut)[] factors)
    {
        double priorSum = prior.Sum();
        double countSum = counts.Sum();
        double[] before = [.. prior.Select((weight, i) => (weight + counts[i]) / (priorSum + countSum))];
        double[] after = Requirements.Normalised([.. before.Select((share, i) => share * factors[i].Factor)]);
        return
        [
            .. prior.Select((weight, i) => new WeighedCause(
                i < catalogue.Count ? catalogue[i] : null, after[i], weight / priorSum, countSum > 0 ? counts[i] / countSum : null,
                counts[i], before[i], factors[i].Factor, factors[i].Cut)),
        ];
    }
}
