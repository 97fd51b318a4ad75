using NodaTime;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Every fitted part of the fleet with its life model, age, ageing and costs, as of one instant. Immutable.</summary>
internal sealed class PlanBook
{
    private const double MostDaysAhead = 3653;

    private readonly Dictionary<(int UnitId, string Position), PlanPart> _at;
    private readonly Dictionary<string, PlanModel> _models;
    private readonly PlanAdvices _advices;

    private PlanBook(
        DateTimeOffset asOf, RegistrySnapshot registry, PlanResources plan, Dictionary<string, PlanModel> models, IReadOnlyList<PlanPart> parts,
        double? fleetLockoutHours, IReadOnlyDictionary<PlanGapKind, int> excluded, OpeningRates openings)
    {
        Plan = plan;
        Openings = openings;
        AsOf = asOf;
        Registry = registry;
        Parts = parts;
        FleetLockoutHours = fleetLockoutHours;
        Excluded = excluded;
        _models = models;
        _advices = new PlanAdvices(plan.Terms.ToleranceShare);
        _at = parts.ToDictionary(part => (part.Unit.Id, Codes.Key(part.Position.Position)));
    }

    /// <summary>The instant.</summary>
    public DateTimeOffset AsOf { get; }

    /// <summary>The registry.</summary>
    public RegistrySnapshot Registry { get; }

    /// <summary>Suppliers, parts, stock points and terms that it reckons with.</summary>
    public PlanResources Plan { get; }

    /// <summary>How often units are opened at each position.</summary>
    public OpeningRates Openings { get; }

    /// <summary>Fitted parts of units in service, in the order of their keys.</summary>
    public IReadOnlyList<PlanPart> Parts { get; }

    /// <summary>Mean hours of the fleet's own lockouts; null: none on record.</summary>
    public double? FleetLockoutHours { get; }

    /// <summary>Fitted parts that are not looked at, counted by reason.</summary>
    public IReadOnlyDictionary<PlanGapKind, int> Excluded { get; }

    /// <summary>Life models, in the order of their positions.</summary>
    public IEnumerable<PlanModel> Models => _models.Values.OrderBy(model => model.Position, StringComparer.OrdinalIgnoreCase);

    /// <summary>The part at a position of a unit; null: none is on record.</summary>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="position">Code of the position.</param>
    public PlanPart? At(int unitId, string position) => _at.GetValueOrDefault((unitId, Codes.Key(position)));

    /// <summary>The life model of a position; null: no lives are on record.</summary>
    /// <param name="position">Code of the position.</param>
    public PlanModel? Model(string position) => _models.GetValueOrDefault(position);

    /// <summary>When a part is best replaced, seen by itself.</summary>
    /// <param name="part">The part.</param>
    public PlanAdvice Advice(PlanPart part) => _advices.Of(part);

    /// <summary>Works out the advice of all parts that can be planned, for whoever will ask for all of it.</summary>
    public void PrepareAdvice() => _advices.Prepare(Parts.Where(part => part.NotPlanned is null));

    /// <summary>The day at a unit's site.</summary>
    /// <param name="unit">The unit.</param>
    public DateOnly Today(UnitEntry unit) => Registry.Cleaning.ById[unit.Id].Calendar.DayOf(Instant.FromDateTimeOffset(AsOf)).Date.ToDateOnly();

    /// <summary>The day on which a part reaches an age; today where it has; null: it cannot be told, or lies more than ten years ahead.</summary>
    /// <param name="part">The part.</param>
    /// <param name="age">The age on its clock; null: none.</param>
    public DateOnly? DayAt(PlanPart part, double? age)
    {
        if (age is not { } wanted || part.NoChance is not null)
        {
            return null;
        }

        double days = Math.Max(0, (wanted - part.Age!.Value) / part.PerDay!.Value);
        return days > MostDaysAhead ? null : Today(part.Unit).AddDays((int)days);
    }

    /// <summary>The parts that a filter asks for.</summary>
    /// <param name="filter">The filter.</param>
    public IEnumerable<PlanPart> Asked(PlanFilter filter) => Parts.Where(part => Matches(part, filter));

    /// <summary>Puts a book together.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="registry">The registry.</param>
    /// <param name="lives">All lives on record, as of the instant.</param>
    /// <param name="rates">Washes a day of each unit.</param>
    /// <param name="fleetLockoutHours">Mean hours of the fleet's own lockouts; null: none on record.</param>
    public static PlanBook Of(
        DateTimeOffset asOf, RegistrySnapshot registry, IReadOnlyList<FleetLife> lives, WashRates rates, double? fleetLockoutHours)
    {
        // Each position is a fit of its own, so the cores share them.
        Dictionary<string, PlanModel> models = lives.GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase).AsParallel()
            .Select(group => PlanModel.Of(group.Key, [.. group]))
            .ToDictionary(model => model.Position, StringComparer.OrdinalIgnoreCase);
        List<PlanPart> parts = Fitted(asOf, registry, lives, models, rates, fleetLockoutHours, out Dictionary<PlanGapKind, int> excluded);
        return new PlanBook(asOf, registry, registry.Plan, models, parts, fleetLockoutHours, excluded, OpeningRates.Of(lives, asOf));
    }

    /// <summary>The same fleet under other costs, parts and terms; life models and ages stay.</summary>
    /// <param name="plan">Suppliers, parts, stock points and terms with the changes.</param>
    /// <param name="change">What else is different about a part.</param>
    public PlanBook With(PlanResources plan, Func<PlanPart, PlanPart> change) => new(
        AsOf, Registry, plan, _models, [.. Parts.Select(change)], FleetLockoutHours, Excluded, Openings);

    private static List<PlanPart> Fitted(
        DateTimeOffset asOf, RegistrySnapshot registry, IReadOnlyList<FleetLife> lives, Dictionary<string, PlanModel> models, WashRates rates,
        double? lockoutHours, out Dictionary<PlanGapKind, int> excluded)
    {
        var parts = new Dictionary<(int, string), PlanPart>();
        excluded = [];
        foreach (FleetLife life in lives.Where(life => life.StillFitted && !(life.FittedAt > asOf)))
        {
            PlanPart? part = PlanPart.Of(life, models[life.Position], rates, registry.Plan, lockoutHours);
            PlanGapKind? why = part is null ? PlanGapKind.NoSuchPosition : WhyNotInService(registry, life.Unit, asOf);
            if (why is { } reason)
            {
                excluded[reason] = excluded.GetValueOrDefault(reason) + 1;
                continue;
            }

            // Where records contradict each other two parts seem to be in: the later one is.
            (int, string) place = (life.Unit.Id, Codes.Key(part!.Position.Position));
            if (!parts.TryGetValue(place, out PlanPart? other) || other.Life.Ordinal < life.Ordinal)
            {
                parts[place] = part;
            }
        }

        return [.. parts.Values.OrderBy(part => part.Key, StringComparer.Ordinal)];
    }

    private static PlanGapKind? WhyNotInService(RegistrySnapshot registry, UnitEntry unit, DateTimeOffset asOf)
    {
        UnitTerms terms = registry.Cleaning.ById[unit.Id];
        return terms.InService.HasEnd && terms.InService.End.ToDateTimeOffset() <= asOf ? PlanGapKind.UnitLeft
            : (unit.Resource.OutOfService ?? []).Any(period => period.To is null && period.From <= asOf) ? PlanGapKind.OutOfService
            : null;
    }

    private static bool Matches(PlanPart part, PlanFilter filter)
    {
        SiteResource site = part.Unit.Site.Resource;
        return Names(filter.Unit, part.Unit.Resource.Unit) && Names(filter.Site, site.Site) && Names(filter.Operator, site.Operator)
            && Names(filter.Position, part.Position.Position) && Names(filter.StockPoint, site.StockPoint);
    }

    private static bool Names(string? asked, string? actual) => asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
