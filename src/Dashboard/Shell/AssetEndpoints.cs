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
    private static Results<FileContentHttpResult, NotFound> Get(string name, HttpRequest request, HttpResponse response)
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
        response.Headers.Vary = HeaderNames.AcceptEncoding;
        string? coding = AssetCodings.Offered.FirstOrDefault(offered => Takes(request, offered));
        response.Headers.ContentEncoding = coding;
        return TypedResults.Bytes(
            coding is null ? asset.Content : AssetCodings.Coded(asset, coding),
            asset.ContentType,
            entityTag: new EntityTagHeaderValue($"\"{asset.Mark}{coding}\""));
    }

    private static bool Takes(HttpRequest request, string coding) => request.GetTypedHeaders().AcceptEncoding
        .Any(taken => taken.Value.Equals(coding, StringComparison.OrdinalIgnoreCase) && taken.Quality is not 0);
}
