using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;

namespace Washwear.Dashboard.Shell;

/// <summary>Serves the files that pages need; nobody has to be signed in for them.</summary>
public static class AssetEndpoints
{
    /// <summary>Adds the route of the files.</summary>
    /// <param name="routes">Where to add it.</param>
    /// <returns>The route, for further rules.</returns>
    public static RouteHandlerBuilder MapDashboardAssets(this IEndpointRouteBuilder routes) =>
        routes.MapGet(Urls.AssetRoute, Get).AllowAnonymous().ExcludeFromDescription();

    // An address carries the content's mark, so what it gave once it gives for ever.
    private static Results<FileContentHttpResult, NotFound> Get(string name, HttpResponse response)
    {
        if (PageAssets.Find(name) is not { } asset)
        {
            return TypedResults.NotFound();
        }

        if (name == PageAssets.Worker)
        {
            response.Headers["Service-Worker-Allowed"] = "/";
        }

        response.Headers.CacheControl = "public, max-age=31536000, immutable";
        return TypedResults.Bytes(asset.Content, asset.ContentType, entityTag: new EntityTagHeaderValue('"' + asset.Mark + '"'));
    }
}
