using System.Collections.Frozen;
using NodaTime;

namespace Washwear.Api.Registry;

/// <summary>An operator in the registry.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Resource">The operator as given.</param>
public sealed record OperatorEntry(int Id, OperatorResource Resource);

/// <summary>A site in the registry.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Resource">The site as given.</param>
/// <param name="Operator">Its operator.</param>
/// <param name="Zone">Its time zone.</param>
public sealed record SiteEntry(int Id, SiteResource Resource, OperatorEntry Operator, DateTimeZone Zone);

/// <summary>A model in the registry; its dictionaries ignore case.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Resource">The model as given.</param>
/// <param name="Positions">Positions by code.</param>
/// <param name="Programmes">Programmes by code.</param>
/// <param name="Faults">Faults by code.</param>
public sealed record ModelEntry(
    int Id,
    ModelResource Resource,
    FrozenDictionary<string, PositionResource> Positions,
    FrozenDictionary<string, ProgrammeResource> Programmes,
    FrozenDictionary<string, FaultResource> Faults)
{
    /// <summary>Builds an entry and its dictionaries.</summary>
    /// <param name="id">Number in the database.</param>
    /// <param name="resource">The model as given.</param>
    public static ModelEntry Of(int id, ModelResource resource) => new(
        id,
        resource,
        resource.Positions.ToFrozenDictionary(position => position.Position, StringComparer.OrdinalIgnoreCase),
        resource.Programmes.ToFrozenDictionary(programme => programme.Programme, StringComparer.OrdinalIgnoreCase),
        resource.Faults.ToFrozenDictionary(fault => fault.Code, StringComparer.OrdinalIgnoreCase));
}

/// <summary>A unit in the registry.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Resource">The unit as given.</param>
/// <param name="Site">Its site.</param>
/// <param name="Model">Its model.</param>
public sealed record UnitEntry(int Id, UnitResource Resource, SiteEntry Site, ModelEntry Model);

/// <summary>A cleaning rule in the registry.</summary>
/// <param name="Id">Number in the database.</param>
/// <param name="Resource">The rule as given.</param>
public sealed record RuleEntry(int Id, RuleResource Resource)
{
    /// <summary>Whether the rule is for a unit, whatever the date.</summary>
    /// <param name="unit">The unit.</param>
    public bool AppliesTo(UnitEntry unit)
    {
        RuleScopeResource scope = Resource.Scope;
        return Names(scope.Operator, unit.Site.Operator.Resource.Operator)
            && Names(scope.Site, unit.Site.Resource.Site)
            && Names(scope.Model, unit.Model.Resource.Model)
            && Names(scope.Unit, unit.Resource.Unit);
    }

    private static bool Names(string? asked, string actual) =>
        asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
