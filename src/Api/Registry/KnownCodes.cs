namespace Washwear.Api.Registry;

/// <summary>Codes that resources may refer to, by kind; compared without case.</summary>
public sealed class KnownCodes
{
    private readonly HashSet<(string Kind, string Key)> _codes = [];

    /// <summary>Adds a code.</summary>
    /// <param name="kind">Name of the kind.</param>
    /// <param name="code">The code.</param>
    public void Add(string kind, string code) => _codes.Add((kind, Codes.Key(code)));

    /// <summary>Whether a code is known.</summary>
    /// <param name="kind">Name of the kind.</param>
    /// <param name="code">The code.</param>
    public bool Has(string kind, string code) => _codes.Contains((kind, Codes.Key(code)));

    /// <summary>Adds everything that a snapshot holds.</summary>
    /// <param name="registry">The snapshot.</param>
    public void AddAll(RegistrySnapshot registry) => AddAll(RegistryDocuments.Of(registry));

    /// <summary>Adds everything that a document holds.</summary>
    /// <param name="document">The document.</param>
    public void AddAll(RegistryDocument document)
    {
        AddAll(RegistryKinds.Operators, document.Operators);
        AddAll(RegistryKinds.Sites, document.Sites);
        AddAll(RegistryKinds.Models, document.Models);
        AddAll(RegistryKinds.Units, document.Units);
        AddAll(RegistryKinds.Suppliers, document.Suppliers ?? []);
    }

    /// <summary>What a resource refers to.</summary>
    /// <param name="resource">A resource of the registry.</param>
    /// <returns>Kind and code of each.</returns>
    public static IEnumerable<(string Kind, string Code)> ReferredTo(object resource) => resource switch
    {
        SiteResource site => [("operator", site.Operator)],
        UnitResource unit => [("site", unit.Site), ("model", unit.Model)],
        RuleResource rule => Scope(rule.Scope),
        PartResource { Supplier: { } supplier } => [("supplier", supplier)],
        _ => [],
    };

    private static IEnumerable<(string Kind, string Code)> Scope(RuleScopeResource scope) =>
        new (string Kind, string? Code)[]
        {
            ("operator", scope.Operator), ("site", scope.Site), ("model", scope.Model), ("unit", scope.Unit),
        }
        .Where(pair => pair.Code is not null)
        .Select(pair => (pair.Kind, pair.Code!));

    private void AddAll<T>(RegistryKind<T> kind, IEnumerable<T> resources)
    {
        foreach (T resource in resources)
        {
            Add(kind.Name, kind.Code(resource));
        }
    }
}
