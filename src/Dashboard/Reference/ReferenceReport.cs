namespace Washwear.Dashboard.Reference;

/// <summary>Where the contract of the API is.</summary>
/// <param name="Json">Its address as JSON.</param>
/// <param name="Yaml">Its address as YAML.</param>
public sealed record ReferenceReport(string Json, string Yaml);
