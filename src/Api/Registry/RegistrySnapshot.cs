using System.Collections.Concurrent;
using System.Collections.Frozen;
using Washwear.Api.Security;

namespace Washwear.Api.Registry;

/// <summary>The whole registry at one version. Immutable; dictionaries ignore case, lists are in the order of their codes.</summary>
public sealed class RegistrySnapshot
{
    private const int MostScopes = 64;

    private readonly Lazy<CleaningTerms> _cleaning;
    private readonly ConcurrentDictionary<Scope, RegistrySnapshot> _within = new();

    /// <summary>Builds the dictionaries over the lists.</summary>
    /// <param name="version">Version that the lists were read at.</param>
    /// <param name="operators">Operators by code.</param>
    /// <param name="sites">Sites by code.</param>
    /// <param name="models">Models by code.</param>
    /// <param name="units">Units by code.</param>
    /// <param name="rules">Rules by code.</param>
    /// <param name="ruleVersions">What rules said before they were changed.</param>
    /// <param name="plan">Suppliers, parts, stock points and plan terms.</param>
    public RegistrySnapshot(
        long version,
        IReadOnlyList<OperatorEntry> operators,
        IReadOnlyList<SiteEntry> sites,
        IReadOnlyList<ModelEntry> models,
        IReadOnlyList<UnitEntry> units,
        IReadOnlyList<RuleEntry> rules,
        IReadOnlyList<RuleVersionEntry> ruleVersions,
        PlanResources plan)
    {
        Plan = plan;
        Version = version;
        OperatorList = operators;
        SiteList = sites;
        ModelList = models;
        UnitList = units;
        RuleList = rules;
        Operators = ByCode(operators, entry => entry.Resource.Operator);
        Sites = ByCode(sites, entry => entry.Resource.Site);
        Models = ByCode(models, entry => entry.Resource.Model);
        Units = ByCode(units, entry => entry.Resource.Unit);
        Rules = ByCode(rules, entry => entry.Resource.Rule);
        UnitsById = units.ToFrozenDictionary(unit => unit.Id);
        _cleaning = new Lazy<CleaningTerms>(() => new CleaningTerms(units, sites, rules, ruleVersions));
        RuleVersionList = ruleVersions;
    }

    /// <summary>Grows with every change of the registry.</summary>
    public long Version { get; }

    /// <summary>Suppliers, parts, stock points and plan terms.</summary>
    public PlanResources Plan { get; }

    /// <summary>Operators by code.</summary>
    public FrozenDictionary<string, OperatorEntry> Operators { get; }

    /// <summary>Sites by code.</summary>
    public FrozenDictionary<string, SiteEntry> Sites { get; }

    /// <summary>Models by code.</summary>
    public FrozenDictionary<string, ModelEntry> Models { get; }

    /// <summary>Units by asset tag.</summary>
    public FrozenDictionary<string, UnitEntry> Units { get; }

    /// <summary>Units by their number in the database.</summary>
    public FrozenDictionary<int, UnitEntry> UnitsById { get; }

    /// <summary>Rules by code.</summary>
    public FrozenDictionary<string, RuleEntry> Rules { get; }

    /// <summary>The same in the terms of the cleaning computation.</summary>
    public CleaningTerms Cleaning => _cleaning.Value;

    /// <summary>All operators.</summary>
    public IReadOnlyList<OperatorEntry> OperatorList { get; }

    /// <summary>All sites.</summary>
    public IReadOnlyList<SiteEntry> SiteList { get; }

    /// <summary>All models.</summary>
    public IReadOnlyList<ModelEntry> ModelList { get; }

    /// <summary>All units.</summary>
    public IReadOnlyList<UnitEntry> UnitList { get; }

    /// <summary>What rules said before they were changed, withdrawn versions included, by rule and then by their days.</summary>
    public IReadOnlyList<RuleVersionEntry> RuleVersionList { get; }

    /// <summary>All rules.</summary>
    public IReadOnlyList<RuleEntry> RuleList { get; }

    /// <summary>The registry with the units of a scope only, and with the sites and operators that these belong to.</summary>
    /// <param name="scope">The scope.</param>
    public RegistrySnapshot Within(Scope scope)
    {
        if (scope.Kind == ScopeKind.Everything)
        {
            return this;
        }

        if (_within.TryGetValue(scope, out RegistrySnapshot? known))
        {
            return known;
        }

        RegistrySnapshot found = Restricted(scope);
        if (_within.Count < MostScopes)
        {
            _within[scope] = found;
        }

        return found;
    }

    private RegistrySnapshot Restricted(Scope scope)
    {
        HashSet<string> codes = new(scope.Codes, StringComparer.OrdinalIgnoreCase);
        UnitEntry[] units =
        [
            .. UnitList.Where(unit => codes.Contains(scope.Kind switch
            {
                ScopeKind.Operators => unit.Site.Operator.Resource.Operator,
                ScopeKind.Sites => unit.Site.Resource.Site,
                _ => unit.Resource.Unit,
            })),
        ];
        HashSet<SiteEntry> sites = [.. units.Select(unit => unit.Site)];
        HashSet<OperatorEntry> operators = [.. sites.Select(site => site.Operator)];
        return new RegistrySnapshot(
            Version, [.. OperatorList.Where(operators.Contains)], [.. SiteList.Where(sites.Contains)], ModelList, units, RuleList, RuleVersionList, Plan);
    }

    private static FrozenDictionary<string, T> ByCode<T>(IReadOnlyList<T> entries, Func<T, string> code) =>
        entries.ToFrozenDictionary(code, StringComparer.OrdinalIgnoreCase);
}
