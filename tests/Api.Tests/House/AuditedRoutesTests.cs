using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Audit;

namespace Washwear.Api.Tests.House;

/// <summary>Nothing is changed over HTTP without an entry in the audit, or a reason why there is none.</summary>
public sealed class AuditedRoutesTests
{
    [Fact]
    public async Task Every_route_that_is_not_GET_says_whether_it_is_audited_and_why_not()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        (string Name, AuditedRoute? Audited, NotAuditedRoute? Not)[] changing =
        [
            .. host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
                .Where(route => route.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods is not ["GET"])
                .Select(route => (
                    string.Join(',', route.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? []) + " " + route.RoutePattern.RawText,
                    route.Metadata.GetMetadata<AuditedRoute>(),
                    route.Metadata.GetMetadata<NotAuditedRoute>())),
        ];

        Assert.True(changing.Length > 25, $"only {changing.Length} routes that change something");
        string[] offenders =
        [
            .. changing.Where(route => (route.Audited is null) == (route.Not is null)).Select(route => route.Name + ": give it .Audited(action) or .NotAudited(reason)"),
            .. changing.Where(route => route.Audited is { } audited && !IsAction(audited.Action)).Select(route => route.Name + ": " + route.Audited!.Action),
            .. changing.Where(route => route.Not is { Reason.Length: < 20 }).Select(route => route.Name + ": no reason"),
        ];
        Assert.True(offenders.Length == 0, string.Join('\n', offenders));
    }

    // A thing, a dot, what is done with it, in lower case.
    private static bool IsAction(string action) =>
        action.Split('.') is [{ Length: > 0 } thing, { Length: > 0 } done] && (thing + done).All(letter => char.IsAsciiLetterLower(letter) || letter == '_');
}
