namespace Washwear.Api.Registry;

/// <summary>One kind of resource in the registry: where it is kept and how it is called.</summary>
/// <typeparam name="T">The resource.</typeparam>
/// <param name="Table">Table in the database, and field of the resource that holds its code.</param>
/// <param name="Plural">Last part of the address of the list.</param>
/// <param name="Code">Code of a resource.</param>
public sealed record RegistryKind<T>(string Table, string Plural, Func<T, string> Code);

/// <summary>The five kinds.</summary>
public static class RegistryKinds
{
    /// <summary>Operators.</summary>
    public static RegistryKind<OperatorResource> Operators { get; } = new("operator", "operators", resource => resource.Operator);

    /// <summary>Sites.</summary>
    public static RegistryKind<SiteResource> Sites { get; } = new("site", "sites", resource => resource.Site);

    /// <summary>Models.</summary>
    public static RegistryKind<ModelResource> Models { get; } = new("model", "models", resource => resource.Model);

    /// <summary>Units.</summary>
    public static RegistryKind<UnitResource> Units { get; } = new("unit", "units", resource => resource.Unit);

    /// <summary>Cleaning rules.</summary>
    public static RegistryKind<RuleResource> Rules { get; } = new("rule", "rules", resource => resource.Rule);
}
