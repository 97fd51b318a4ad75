using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Washwear.Api;

namespace Washwear.Browser;

/// <summary>Goes through a running fleet by its links, as a reader would, and finds addresses for each route of pages and charts.</summary>
/// <remarks>Which routes there are is asked of the program itself, so that a new page cannot be forgotten.</remarks>
internal sealed partial class FleetWalk
{
    private const int MostOfARoute = 3;
    private static readonly string[] NoPages = ["/v1", "/assets", "/openapi", "/reference", "/metrics", "/health", "/live", "/ready"];
    private readonly Dictionary<string, Regex> _routes;
    private readonly Dictionary<string, List<string>> _found = [];
    private readonly List<string> _pages = [];

    private FleetWalk(IEnumerable<string> routes) =>
        _routes = routes.Distinct().ToDictionary(route => route, route => new Regex("^" + Pattern().Replace(route, "[^/]+?") + "$"));

    /// <summary>Routes that answer a reader: pages, then charts.</summary>
    public IReadOnlyCollection<string> Routes => _routes.Keys;

    /// <summary>Addresses that were found for a route, in the order in which links led to them.</summary>
    public IReadOnlyDictionary<string, List<string>> Found => _found;

    /// <summary>Addresses that gave a page, in the order in which they were read.</summary>
    public IReadOnlyList<string> Pages => _pages;

    /// <summary>Whether a route is of charts.</summary>
    /// <param name="route">The route.</param>
    public static bool IsChart(string route) => route.StartsWith("/charts/", StringComparison.Ordinal);

    /// <summary>Goes through all pages that links lead to from the first one.</summary>
    /// <param name="read">Gives the markup of an address; null where it is no page.</param>
    /// <param name="also">Addresses to begin with beside the first page.</param>
    public static async Task<FleetWalk> ThroughAsync(Func<string, Task<string?>> read, params string[] also)
    {
        var walk = new FleetWalk(ReadRoutes());
        var waiting = new Queue<string>();
        foreach (string address in also.Prepend("/"))
        {
            walk.Keep(address, waiting);
        }

        while (waiting.TryDequeue(out string? address))
        {
            if (await read(address) is { } page)
            {
                walk._pages.Add(address);
                foreach (Match link in Link().Matches(page))
                {
                    walk.Keep(WebUtility.HtmlDecode(link.Groups[1].Value), waiting);
                }
            }
        }

        return walk;
    }

    private static IEnumerable<string> ReadRoutes()
    {
        string database = Path.Combine(Path.GetTempPath(), "washwear-routes-" + Guid.NewGuid().ToString("N"));
        WebApplication app = Washwear.Api.Program.Build(Settings.Load(new Dictionary<string, string> { ["database"] = database, ["urls"] = "http://127.0.0.1:0" }));
        return [.. ((IEndpointRouteBuilder)app).DataSources.SelectMany(source => source.Endpoints).OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods.Contains("GET") == true)
            .Select(endpoint => "/" + endpoint.RoutePattern.RawText!.TrimStart('/').TrimEnd('/'))
            .Where(route => !NoPages.Any(head => route == head || route.StartsWith(head + "/", StringComparison.Ordinal)))];
    }

    private void Keep(string address, Queue<string> waiting)
    {
        if (address.Contains("format=csv", StringComparison.Ordinal))
        {
            return;
        }

        string path = address.Split('?', '#')[0];
        foreach ((string route, _) in _routes.Where(pair => pair.Value.IsMatch(path)))
        {
            List<string> found = _found.TryGetValue(route, out List<string>? known) ? known : _found[route] = [];
            string whole = address.Split('#')[0];
            if (found.Contains(whole) || found.Count(one => !IsChart(route) || Ending(one) == Ending(whole)) >= MostOfARoute)
            {
                continue;
            }

            found.Add(whole);
            if (!IsChart(route))
            {
                waiting.Enqueue(whole);
            }
        }
    }

    private static string Ending(string address) => Path.GetExtension(address.Split('?')[0]);

    [GeneratedRegex("<a[^>]* href=\"(/[^\"]*)\"")]
    private static partial Regex Link();

    [GeneratedRegex(@"\{[^}]+\}")]
    private static partial Regex Pattern();
}
