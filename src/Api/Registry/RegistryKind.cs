using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>One kind of resource in the registry: how it is called, what it refers to, and its list as CSV.</summary>
/// <typeparam name="T">The resource.</typeparam>
/// <param name="Name">Name of the kind, of its table and of the field that holds the code.</param>
/// <param name="Plural">Last part of the address of the list.</param>
/// <param name="Code">Code of a resource.</param>
/// <param name="Parent">Code of the operator of a site or the site of a unit.</param>
/// <param name="Model">Code of the model of a unit.</param>
/// <param name="In">The resources of this kind in a snapshot, in the order of their codes.</param>
/// <param name="Columns">Columns of the list as CSV.</param>
public sealed record RegistryKind<T>(
    string Name,
    string Plural,
    Func<T, string> Code,
    Func<T, string?> Parent,
    Func<T, string?> Model,
    Func<RegistrySnapshot, IEnumerable<T>> In,
    IReadOnlyList<CsvColumn<T>> Columns);

/// <summary>The kinds.</summary>
public static class RegistryKinds
{
    /// <summary>Operators.</summary>
    public static RegistryKind<OperatorResource> Operators { get; } = new(
        "operator", "operators", row => row.Operator, _ => null, _ => null,
        registry => registry.OperatorList.Select(entry => entry.Resource),
        [new("operator", row => row.Operator), new("name", row => row.Name)]);

    /// <summary>Sites.</summary>
    public static RegistryKind<SiteResource> Sites { get; } = new(
        "site", "sites", row => row.Site, row => row.Operator, _ => null,
        registry => registry.SiteList.Select(entry => entry.Resource),
        [
            new("site", row => row.Site),
            new("operator", row => row.Operator),
            new("name", row => row.Name),
            new("time_zone", row => row.TimeZone),
            new("region", row => row.Region),
            new("stock_point", row => row.StockPoint),
            new("water_hardness_mg_per_l", row => row.WaterHardnessMgPerL),
            new("weekdays", row => row.TradingDays is { } days ? string.Join(' ', days.Weekdays) : null),
            new("ends_at", row => row.TradingDays?.EndsAt),
            new("closures", row => row.Closures is { } closures ? string.Join(' ', closures.Select(Period)) : null),
        ]);

    /// <summary>Models.</summary>
    public static RegistryKind<ModelResource> Models { get; } = new(
        "model", "models", row => row.Model, _ => null, _ => null,
        registry => registry.ModelList.Select(entry => entry.Resource),
        [
            new("model", row => row.Model),
            new("name", row => row.Name),
            new("kind", row => row.Kind),
            new("positions", row => string.Join("; ", row.Positions.Select(position => position.Position))),
            new("programmes", row => string.Join("; ", row.Programmes.Select(programme => programme.Programme))),
            new("faults", row => string.Join("; ", row.Faults.Select(fault => fault.Code))),
        ]);

    /// <summary>Units.</summary>
    public static RegistryKind<UnitResource> Units { get; } = new(
        "unit", "units", row => row.Unit, row => row.Site, row => row.Model,
        registry => registry.UnitList.Select(entry => entry.Resource),
        [
            new("unit", row => row.Unit),
            new("site", row => row.Site),
            new("model", row => row.Model),
            new("serial", row => row.Serial),
            new("commissioned_on", row => row.CommissionedOn),
            new("decommissioned_on", row => row.DecommissionedOn),
            new("reporting_hours", row => row.ReportingHours),
        ]);

    /// <summary>Cleaning rules.</summary>
    public static RegistryKind<RuleResource> Rules { get; } = new(
        "rule", "rules", row => row.Rule, _ => null, _ => null,
        registry => registry.RuleList.Select(entry => entry.Resource),
        [
            new("rule", row => row.Rule),
            new("scope_operator", row => row.Scope.Operator),
            new("scope_site", row => row.Scope.Site),
            new("scope_model", row => row.Scope.Model),
            new("scope_unit", row => row.Scope.Unit),
            new("grade", row => row.Grade),
            new("every_trading_days", row => row.EveryTradingDays),
            new("every_hours", row => row.EveryHours),
            new("every_washes", row => row.EveryWashes),
            new("every_operating_hours", row => row.EveryOperatingHours),
            new("every_washes_by_hardness", row => row.EveryWashesByHardness is { } steps ? string.Join(' ', steps.Select(Step)) : null),
            new("grace_hours", row => row.GraceHours),
            new("basis", row => row.Basis),
            new("valid_from", row => row.ValidFrom),
            new("valid_to", row => row.ValidTo),
        ]);

    /// <summary>Suppliers.</summary>
    public static RegistryKind<SupplierResource> Suppliers { get; } = new(
        "supplier", "suppliers", row => row.Supplier, _ => null, _ => null,
        registry => registry.Plan.SupplierList,
        [
            new("supplier", row => row.Supplier),
            new("name", row => row.Name),
            new("lead_time_days", row => row.LeadTimeDays),
            new("lead_time_days_longest", row => row.LeadTimeDaysLongest),
        ]);

    /// <summary>Parts.</summary>
    public static RegistryKind<PartResource> Parts { get; } = new(
        "part_number", "parts", row => row.PartNumber, _ => null, _ => null,
        registry => registry.Plan.PartList,
        [
            new("part_number", row => row.PartNumber),
            new("name", row => row.Name),
            new("supplier", row => row.Supplier),
            new("price", row => row.Price),
        ]);

    /// <summary>Stock points.</summary>
    public static RegistryKind<StockPointResource> StockPoints { get; } = new(
        "stock_point", "stock-points", row => row.StockPoint, _ => null, _ => null,
        registry => registry.Plan.StockPointList,
        [
            new("stock_point", row => row.StockPoint),
            new("name", row => row.Name),
            new("crew_minutes_per_week", row => row.CrewMinutesPerWeek),
            new("service_level", row => row.ServiceLevel),
            new("on_hand", row => string.Join(' ', (row.OnHand ?? []).Select(one => FormattableString.Invariant($"{one.PartNumber}:{one.Quantity}")))),
        ]);

    private static string Step(HardnessStepResource step) => step.UpToMgPerL is { } upTo
        ? FormattableString.Invariant($"{upTo}:{step.Washes}")
        : FormattableString.Invariant($"above:{step.Washes}");

    private static string Period(ClosureResource closure) => closure.To is { } to
        ? FormattableString.Invariant($"{closure.From:yyyy-MM-dd}/{to:yyyy-MM-dd}")
        : FormattableString.Invariant($"{closure.From:yyyy-MM-dd}");
}
