using System.Collections.Frozen;

namespace Washwear.Api.Registry;

/// <summary>A supplier of parts.</summary>
/// <param name="Supplier">Code.</param>
/// <param name="Name">Name.</param>
/// <param name="LeadTimeDays">Usual days from order to delivery, 0 to 365.</param>
/// <param name="LeadTimeDaysLongest">Longest days from order to delivery to reckon with, not below the usual; null: as the usual.</param>
public sealed record SupplierResource(string Supplier, string Name, double LeadTimeDays, double? LeadTimeDaysLongest = null);

/// <summary>A part number: what is ordered for a position.</summary>
/// <param name="PartNumber">The part number, as positions and part changes name it.</param>
/// <param name="Name">Name.</param>
/// <param name="Supplier">Code of the supplier; null: not told, so no lead time is known.</param>
/// <param name="Price">Price of one, above 0; it goes before the position's part_cost. Null: the position's.</param>
public sealed record PartResource(string PartNumber, string Name, string? Supplier = null, double? Price = null);

/// <summary>A place where spare parts lie, such as a depot or a van; sites name the one that serves them.</summary>
/// <param name="StockPoint">Code, as sites name it.</param>
/// <param name="Name">Name.</param>
/// <param name="CrewMinutesPerWeek">Minutes of planned work that its crew can give in a week, above 0; null: no limit told.</param>
/// <param name="ServiceLevel">Chance that the stock lasts over a lead time, 0.5 to 0.9999; null: that of the plan terms.</param>
/// <param name="OnHand">What lies there; null: not told.</param>
public sealed record StockPointResource(
    string StockPoint, string Name, double? CrewMinutesPerWeek = null, double? ServiceLevel = null, IReadOnlyList<OnHandResource>? OnHand = null);

/// <summary>How many of a part number lie at a stock point.</summary>
/// <param name="PartNumber">The part number.</param>
/// <param name="Quantity">How many, 0 to 100000.</param>
public sealed record OnHandResource(string PartNumber, int Quantity);

/// <summary>What planning reckons with over the whole installation.</summary>
/// <param name="Currency">Currency of all money, such as EUR; null: not told.</param>
/// <param name="LockoutHourCost">What an hour in which a unit cannot wash costs, 0 or more; 0: not priced, and answers say so.</param>
/// <param name="PlannedVisitCost">Cost of a planned visit beside the part where a position tells none, above 0; null: such positions are not planned.</param>
/// <param name="FailureCost">Cost of a failure beside the part where a position tells none, above 0; null: such positions are not planned.</param>
/// <param name="ExpectedLockoutHours">Hours locked out that a failure brings, 0 or more; null: the mean of the fleet's own lockouts.</param>
/// <param name="ToleranceShare">How much dearer than the cheapest interval still counts as about as cheap, 0.0001 to 0.5 (0.01 is one in a hundred).</param>
/// <param name="HorizonWeeks">How far ahead visits are planned, weeks, 4 to 104.</param>
/// <param name="ServiceLevel">Chance that a stock lasts over a lead time where a stock point tells none, 0.5 to 0.9999.</param>
public sealed record PlanTermsResource(
    string? Currency = null,
    double LockoutHourCost = 0,
    double? PlannedVisitCost = null,
    double? FailureCost = null,
    double? ExpectedLockoutHours = null,
    double ToleranceShare = 0.01,
    int HorizonWeeks = 26,
    double ServiceLevel = 0.95);

/// <summary>Suppliers, parts, stock points and terms at one version of the registry. Immutable; dictionaries ignore case.</summary>
public sealed class PlanResources
{
    /// <summary>Builds the dictionaries over the lists.</summary>
    /// <param name="suppliers">Suppliers by code.</param>
    /// <param name="parts">Parts by part number.</param>
    /// <param name="stockPoints">Stock points by code.</param>
    /// <param name="stored">The terms that were put; null: none were.</param>
    public PlanResources(
        IReadOnlyList<SupplierResource> suppliers,
        IReadOnlyList<PartResource> parts,
        IReadOnlyList<StockPointResource> stockPoints,
        PlanTermsResource? stored)
    {
        SupplierList = suppliers;
        PartList = parts;
        StockPointList = stockPoints;
        StoredTerms = stored;
        Suppliers = suppliers.ToFrozenDictionary(one => one.Supplier, StringComparer.OrdinalIgnoreCase);
        Parts = parts.ToFrozenDictionary(one => one.PartNumber, StringComparer.OrdinalIgnoreCase);
        StockPoints = stockPoints.ToFrozenDictionary(one => one.StockPoint, StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>Suppliers in the order of their codes.</summary>
    public IReadOnlyList<SupplierResource> SupplierList { get; }

    /// <summary>Parts in the order of their part numbers.</summary>
    public IReadOnlyList<PartResource> PartList { get; }

    /// <summary>Stock points in the order of their codes.</summary>
    public IReadOnlyList<StockPointResource> StockPointList { get; }

    /// <summary>Suppliers by code.</summary>
    public FrozenDictionary<string, SupplierResource> Suppliers { get; }

    /// <summary>Parts by part number.</summary>
    public FrozenDictionary<string, PartResource> Parts { get; }

    /// <summary>Stock points by code.</summary>
    public FrozenDictionary<string, StockPointResource> StockPoints { get; }

    /// <summary>The terms that were put; null: none were.</summary>
    public PlanTermsResource? StoredTerms { get; }

    /// <summary>The terms that hold: those put, else the usual ones.</summary>
    public PlanTermsResource Terms => StoredTerms ?? new PlanTermsResource();
}
