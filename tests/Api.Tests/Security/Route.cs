using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>A route of the program that asks for an ability.</summary>
/// <param name="Method">GET, POST, PUT or DELETE.</param>
/// <param name="Pattern">Its pattern, such as /v1/units/{unit}.</param>
/// <param name="Ability">The ability that it declares.</param>
/// <param name="NeedsWholeFleet">Whether its caller must see the whole fleet.</param>
internal sealed partial record Route(string Method, string Pattern, Abilities Ability, bool NeedsWholeFleet)
{
    /// <summary>Method and pattern.</summary>
    public string Name => $"{Method} {Pattern}";

    /// <summary>The ability as the page of access writes it.</summary>
    public string AbilityWord => string.Join(' ', AbilityRules.Words(Ability)) + (NeedsWholeFleet ? ", whole fleet" : string.Empty);

    /// <summary>Names of what the address is filled with, such as unit.</summary>
    public IReadOnlyList<string> Holes => [.. Hole().Matches(Pattern).Select(match => match.Groups[1].Value)];

    /// <summary>Whether the address itself is what lets its caller in, whatever key comes with it.</summary>
    public bool IsShared => Pattern.StartsWith("/shared/", StringComparison.Ordinal);

    /// <summary>Every route that asks for an ability.</summary>
    /// <param name="host">The program.</param>
    public static IEnumerable<Route> All(ApiHost host) =>
        from endpoint in host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        let ability = endpoint.Metadata.GetMetadata<RequiredAbility>()
        where ability is not null
        from method in endpoint.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods
        select new Route(
            method,
            "/" + endpoint.RoutePattern.RawText!.TrimStart('/').TrimEnd('/'),
            ability.Ability,
            endpoint.Metadata.GetMetadata<RequiredWholeFleet>() is not null);

    /// <summary>The address, filled.</summary>
    /// <param name="value">What stands for a hole of a name.</param>
    public string PathWith(Func<string, string> value) =>
        Hole().Replace(Pattern, match => match.Groups[1].Value switch
        {
            "format" => "svg",
            "documentName" => "v1",
            _ when match.Value.Contains(":long", StringComparison.Ordinal) || match.Value.Contains(":int", StringComparison.Ordinal) =>
                long.TryParse(value(match.Groups[1].Value), out long number) ? number.ToString(CultureInfo.InvariantCulture) : "999999999",
            var name => Uri.EscapeDataString(value(name)),
        });

    [GeneratedRegex(@"\{(\w+)[^}]*\}")]
    private static partial Regex Hole();
}
