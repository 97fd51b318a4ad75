using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Registry;

/// <summary>The whole registry as one document: what the registry endpoints and the import command take and give.</summary>
/// <param name="Operators">Operators of kitchens.</param>
/// <param name="Sites">Sites.</param>
/// <param name="Models">Models with their positions, programmes and faults.</param>
/// <param name="Units">Units.</param>
/// <param name="Rules">Cleaning rules.</param>
/// <param name="RuleVersions">What rules of the document said before they were changed; left out: nothing.</param>
/// <param name="Suppliers">Suppliers of parts; left out: none.</param>
/// <param name="Parts">Part numbers with supplier and price; left out: none.</param>
/// <param name="StockPoints">Places where spare parts lie; left out: none.</param>
/// <param name="PlanTerms">What planning reckons with; left out: the usual terms, or those that are stored.</param>
public sealed record RegistryDocument(
    IReadOnlyList<OperatorResource> Operators,
    IReadOnlyList<SiteResource> Sites,
    IReadOnlyList<ModelResource> Models,
    IReadOnlyList<UnitResource> Units,
    IReadOnlyList<RuleResource> Rules,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<RuleVersionResource>? RuleVersions = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<SupplierResource>? Suppliers = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<PartResource>? Parts = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<StockPointResource>? StockPoints = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] PlanTermsResource? PlanTerms = null);

/// <summary>An operator of kitchens.</summary>
/// <param name="Operator">Code, 1 to 64 printable characters, compared without case.</param>
/// <param name="Name">Name.</param>
public sealed record OperatorResource(string Operator, string Name);

/// <summary>A site: one kitchen with its own calendar.</summary>
/// <param name="Site">Code.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="Name">Name.</param>
/// <param name="TimeZone">IANA time zone, such as Europe/Vienna.</param>
/// <param name="Region">Region, for grouping.</param>
/// <param name="StockPoint">Where its spare parts lie.</param>
/// <param name="WaterHardnessMgPerL">Total hardness of the feed water, mg/L as CaCO3, 0 to 2000.</param>
/// <param name="TradingDays">When the site trades; null: every day, from midnight to midnight.</param>
/// <param name="Closures">Dates on which the site does not trade.</param>
public sealed record SiteResource(
    string Site,
    string Operator,
    string Name,
    string TimeZone,
    string? Region = null,
    string? StockPoint = null,
    double? WaterHardnessMgPerL = null,
    TradingDaysResource? TradingDays = null,
    IReadOnlyList<ClosureResource>? Closures = null);

/// <summary>When a site trades.</summary>
/// <param name="Weekdays">Weekdays that are traded: mon, tue, wed, thu, fri, sat, sun.</param>
/// <param name="EndsAt">Wall time at which a trading day ends and the next begins, HH:mm; 02:00 means two hours after midnight.</param>
public sealed record TradingDaysResource(IReadOnlyList<string> Weekdays, string EndsAt);

/// <summary>Dates on which a site does not trade, both ends included.</summary>
/// <param name="From">First date.</param>
/// <param name="To">Last date; null: the first date only.</param>
/// <param name="Reason">Why.</param>
public sealed record ClosureResource(DateOnly From, DateOnly? To = null, string? Reason = null);

/// <summary>A model of unit.</summary>
/// <param name="Model">Code.</param>
/// <param name="Name">Name.</param>
/// <param name="Kind">Kind of equipment, such as combi oven.</param>
/// <param name="Positions">Maintainable items.</param>
/// <param name="Programmes">Wash programmes and the grade each one reaches.</param>
/// <param name="Faults">Fault catalogue.</param>
public sealed record ModelResource(
    string Model,
    string Name,
    string Kind,
    IReadOnlyList<PositionResource> Positions,
    IReadOnlyList<ProgrammeResource> Programmes,
    IReadOnlyList<FaultResource> Faults);

/// <summary>A maintainable item of a model.</summary>
/// <param name="Position">Code, such as wash-pump.</param>
/// <param name="Name">Name.</param>
/// <param name="FailureModes">Ways in which it fails.</param>
/// <param name="PartNumbers">Part numbers that fit.</param>
/// <param name="Companions">Positions worth looking at while this one is open.</param>
/// <param name="ReplaceMinutes">Minutes to replace it, above 0.</param>
/// <param name="PartCost">Price of the part, in the installation's currency, 0 or more.</param>
/// <param name="PlannedVisitCost">Cost of a planned visit beside the part.</param>
/// <param name="FailureCost">Cost of a failure beside the part: the unplanned visit and what else it brings. Hours locked out are priced in the plan
/// terms, or included here, not both.</param>
public sealed record PositionResource(
    string Position,
    string Name,
    IReadOnlyList<string>? FailureModes = null,
    IReadOnlyList<string>? PartNumbers = null,
    IReadOnlyList<string>? Companions = null,
    double? ReplaceMinutes = null,
    double? PartCost = null,
    double? PlannedVisitCost = null,
    double? FailureCost = null);

/// <summary>A wash programme of a model.</summary>
/// <param name="Programme">Code that the unit reports.</param>
/// <param name="Grade">Grade that it reaches: rinse, light, standard, intensive or descale.</param>
/// <param name="Minutes">Usual length, minutes.</param>
/// <param name="DetergentDoses">Detergent doses asked for.</param>
public sealed record ProgrammeResource(string Programme, ProgrammeGrade Grade, double? Minutes = null, double? DetergentDoses = null);

/// <summary>A fault of a model's catalogue.</summary>
/// <param name="Code">Code that the unit reports.</param>
/// <param name="Text">What it means.</param>
/// <param name="LocksOutWashing">Whether the unit refuses to wash while it is raised.</param>
/// <param name="LocksOutCooking">Whether the unit refuses to cook while it is raised.</param>
/// <param name="Causes">Likely causes.</param>
/// <param name="Checks">Diagnostic steps.</param>
public sealed record FaultResource(
    string Code,
    string Text,
    bool LocksOutWashing = false,
    bool LocksOutCooking = false,
    IReadOnlyList<FaultCauseResource>? Causes = null,
    IReadOnlyList<FaultCheckResource>? Checks = null);

/// <summary>A likely cause of a fault.</summary>
/// <param name="Position">Position at fault.</param>
/// <param name="FailureMode">How it fails.</param>
/// <param name="Cause">Why it fails.</param>
/// <param name="PriorWeight">Prior weight, in equivalent past cases, above 0.</param>
public sealed record FaultCauseResource(string Position, string? FailureMode = null, string? Cause = null, double PriorWeight = 1);

/// <summary>A diagnostic step for a fault.</summary>
/// <param name="Check">Code.</param>
/// <param name="Text">What to do.</param>
/// <param name="Minutes">Minutes it takes, above 0.</param>
/// <param name="Positions">Positions it speaks of.</param>
/// <param name="ChanceOfMissing">Chance that it passes a position that is at fault, 0 to 1.</param>
/// <param name="ChanceOfFalseAlarm">Chance that it fails a position that is sound, 0 to 1.</param>
/// <param name="Hazards">Hazards it brings: electric, water, hot, caustic, gas, compressed_gas, moving.</param>
public sealed record FaultCheckResource(
    string Check,
    string Text,
    double Minutes,
    IReadOnlyList<string> Positions,
    double ChanceOfMissing = 0,
    double ChanceOfFalseAlarm = 0,
    IReadOnlyList<string>? Hazards = null);

/// <summary>A unit: one oven.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="Serial">Serial number.</param>
/// <param name="CommissionedOn">Date of commissioning at the site.</param>
/// <param name="DecommissionedOn">Date on which it left; null: still there.</param>
/// <param name="ReportingHours">Hours after which a unit that was not heard from is silent, above 0.</param>
/// <param name="OutOfService">Periods in which nobody expects it to wash.</param>
/// <param name="RecordsFrom">Date from which every part change of this unit has been reported; null: from commissioning. A part fitted
/// earlier comes under watch late, at the age that it had on this date, because parts that failed before it left no record.</param>
public sealed record UnitResource(
    string Unit,
    string Site,
    string Model,
    string? Serial,
    DateOnly CommissionedOn,
    DateOnly? DecommissionedOn = null,
    double ReportingHours = 72,
    IReadOnlyList<OutOfServiceResource>? OutOfService = null,
    DateOnly? RecordsFrom = null);

/// <summary>A period out of service, half-open.</summary>
/// <param name="From">Start, inclusive.</param>
/// <param name="To">End, exclusive; null: until further notice.</param>
/// <param name="Reason">Why.</param>
public sealed record OutOfServiceResource(DateTimeOffset From, DateTimeOffset? To = null, string? Reason = null);

/// <summary>A cleaning rule: how often which grade of wash is due. Exactly one of the five intervals is given.</summary>
/// <param name="Rule">Code.</param>
/// <param name="Scope">Which units it is for.</param>
/// <param name="Grade">Lowest grade that counts.</param>
/// <param name="EveryTradingDays">Due every so many trading days, 1 to 366.</param>
/// <param name="EveryHours">Due every so many elapsed hours, above 0.</param>
/// <param name="GraceHours">Elapsed hours after due in which a wash is still on time, 0 or more.</param>
/// <param name="Basis">Where the rule comes from, in the user's words; printed with every verdict.</param>
/// <param name="ValidFrom">First date on which it holds, by the site's calendar; null: always did.</param>
/// <param name="ValidTo">Last date on which it holds; null: until further notice.</param>
/// <param name="EveryWashes">Due after every so many other washes that the unit completed, 1 to 100000.</param>
/// <param name="EveryOperatingHours">Due after every so many operating hours by the unit's meter, above 0.</param>
/// <param name="EveryWashesByHardness">Due after a number of other washes that depends on the hardness of the site's water, in the order of
/// hardness; the last one is for all harder water. A site whose hardness nobody has measured takes the smallest number.</param>
public sealed record RuleResource(
    string Rule,
    RuleScopeResource Scope,
    ProgrammeGrade Grade,
    int? EveryTradingDays,
    double? EveryHours,
    double GraceHours,
    string Basis,
    DateOnly? ValidFrom = null,
    DateOnly? ValidTo = null,
    int? EveryWashes = null,
    double? EveryOperatingHours = null,
    IReadOnlyList<HardnessStepResource>? EveryWashesByHardness = null);

/// <summary>How many washes between two descalings for water up to a hardness.</summary>
/// <param name="UpToMgPerL">Hardest water it is for, mg/L as calcium carbonate, inclusive; null on the last step only: all harder
/// water.</param>
/// <param name="Washes">Number of completed washes, 1 to 100000.</param>
public sealed record HardnessStepResource(double? UpToMgPerL, int Washes);

/// <summary>Which units a rule is for. At most one field is given; none: all units.</summary>
/// <param name="Operator">All units of this operator.</param>
/// <param name="Site">All units of this site.</param>
/// <param name="Model">All units of this model.</param>
/// <param name="Unit">This unit.</param>
public sealed record RuleScopeResource(string? Operator = null, string? Site = null, string? Model = null, string? Unit = null)
{
    /// <summary>Whether the rule is for all units.</summary>
    [JsonIgnore]
    public bool IsAll => Operator is null && Site is null && Model is null && Unit is null;
}
