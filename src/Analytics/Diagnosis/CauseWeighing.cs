namespace Washwear.Analytics.Diagnosis;

/// <summary>A cause with its probability and where that comes from.</summary>
/// <param name="Catalogued">The cause; null: something else, which the catalogue does not name.</param>
/// <param name="Probability">Probability that it is the cause at this unit, 0 to 1; all of them add to 1.</param>
/// <param name="CatalogueShare">Its share of the catalogue's prior weights, 0 to 1.</param>
/// <param name="FleetShare">Its share of the fleet's counted visits, 0 to 1; null: no visit counted.</param>
/// <param name="FleetVisits">Visits of the fleet that found it, unproven ones counted less and shared ones in part.</param>
/// <param name="ShareBeforeAge">Its share by catalogue and fleet together, before the age of the fitted part: the mean of the Dirichlet
/// distribution, (prior weight + visits) / sum of both over all causes.</param>
/// <param name="HazardFactor">What the age of the fitted part multiplies it by, before all are scaled to add to 1; 1 where nothing is known
/// of the part's life, or its age bears not on the cause.</param>
/// <param name="HazardFactorCut">Whether the factor was cut at the limit.</param>
public sealed record WeighedCause(
    CataloguedCause? Catalogued, double Probability, double CatalogueShare, double? FleetShare, double FleetVisits, double ShareBeforeAge,
    double HazardFactor, bool HazardFactorCut);

/// <summary>The causes of a fault at one unit, weighed.</summary>
/// <param name="Causes">The catalogue's causes in its order, then 'something else'.</param>
/// <param name="PriorWeight">Sum of the prior weights, 'something else' included, in equivalent past cases.</param>
/// <param name="Visits">Visits of the fleet that counted.</param>
/// <param name="UnprovenVisits">How many of these had a repair that was not proven.</param>
/// <param name="OutsideCatalogue">How many of these found none of the catalogue's causes.</param>
/// <param name="VisitsWithoutFinding">Visits that found nothing, which tell nothing of causes.</param>
/// <param name="Options">The options.</param>
public sealed record CauseWeighing(
    IReadOnlyList<WeighedCause> Causes, double PriorWeight, int Visits, int UnprovenVisits, int OutsideCatalogue, int VisitsWithoutFinding,
    CauseOptions Options)
{
    /// <summary>Probabilities, in the order of <see cref="Causes"/>; the last one is that of 'something else'.</summary>
    public IReadOnlyList<double> Probabilities => [.. Causes.Select(cause => cause.Probability)];
}
