using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>Who supplies the invented parts, where they lie, and what planning reckons with.</summary>
internal static class Stocking
{
    private const double LeastCrewMinutes = 240;
    private const double CrewMinutesPerUnit = 3;
    private const double CheapPrice = 100;

    /// <summary>An hour locked out is left unpriced: what it costs is for the reader to say.</summary>
    internal static readonly PlanTermsResource Terms = new(Currency: "EUR", PlannedVisitCost: 140, FailureCost: 450);

    internal static IEnumerable<SupplierResource> Suppliers()
    {
        yield return new SupplierResource(Names.Suppliers[0], "Invented supplier 1", 9, 21);
        yield return new SupplierResource(Names.Suppliers[1], "Invented supplier 2", 24, 45);
    }

    internal static IEnumerable<PartResource> Parts() =>
        from model in Catalogue.Models
        from position in Positions.Resources(model)
        from number in position.PartNumbers!
        select new PartResource(
            number, $"{position.Name}, {model.Name}", Names.Suppliers[position.PartCost > CheapPrice ? 1 : 0], position.PartCost);

    internal static IEnumerable<StockPointResource> Points(int units) => Names.Regions.Select((region, i) => new StockPointResource(
        region.StockPoint,
        $"Depot, {region.Name}",
        Math.Max(LeastCrewMinutes, units * CrewMinutesPerUnit),
        null,
        [.. Parts().Select((part, p) => new OnHandResource(part.PartNumber, OnHand(part, (p * 7) + i)))]));

    // Cheap parts lie in numbers, dear ones one by one, and of some there is none: an order is due.
    private static int OnHand(PartResource part, int place) => part.Price > CheapPrice ? place % 3 : place % 5;
}
