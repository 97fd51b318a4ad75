using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>No page needs what its headers forbid: every page route is asked for, and its markup looked through.</summary>
public sealed class PageHeaderTests
{
    private static readonly string[] WithCodes =
        ["/units/OVEN-1", "/units/OVEN-1/visit-sheet", "/sites/PIER-4", "/visits/new?unit=OVEN-1", "/part-life?position=PUMP", "/no/such/page"];

    // Held to its own rule below.
    private const string Looser = "/reference";

    [Fact]
    public async Task Every_page_is_strict_and_has_no_script_or_style_of_its_own()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("caller_requests_per_second", "0"));
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, Sending.Wash("w"));
        string[] pages =
        [
            .. host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
                .Where(route => route.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods.Contains("GET"))
                .Select(route => "/" + route.RoutePattern.RawText!.Trim('/'))
                .Where(path => !path.Contains('{', StringComparison.Ordinal) && !path.StartsWith("/v1", StringComparison.Ordinal))
                .Where(path => path != Looser),
            .. WithCodes,
        ];
        int shown = 0;
        var offenders = new List<string>();
        foreach (string page in pages.Distinct())
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, page);
            request.Headers.Add("Accept", "text/html");
            using HttpResponseMessage answer = await host.Admin.SendAsync(request);
            offenders.AddRange(LacksOf(answer).Select(lack => $"{page}: {lack}"));
            if (answer.Content.Headers.ContentType?.MediaType == "text/html")
            {
                shown++;
                using IDocument document = await new HtmlParser().ParseDocumentAsync(await answer.Content.ReadAsStringAsync());
                offenders.AddRange(ForbiddenIn(document).Select(found => $"{page}: {found}"));
            }
        }

        Assert.True(shown > 20, $"only {shown} pages");
        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task The_reference_alone_may_style_itself_and_nothing_else_is_loosened()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage reference = await host.Admin.GetAsync(Looser);
        using HttpResponseMessage page = await host.Admin.GetAsync("/");
        string loose = Assert.Single(reference.Headers.GetValues("Content-Security-Policy"));
        string strict = Assert.Single(page.Headers.GetValues("Content-Security-Policy"));
        Assert.Equal(strict, loose.Replace(" 'unsafe-inline'", string.Empty, StringComparison.Ordinal));
        Assert.Contains("style-src 'self' 'unsafe-inline'", loose, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_came_by_https_is_kept_to_it()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("trusted_proxies", "127.0.0.1"));
        using HttpResponseMessage plain = await host.Stranger.GetAsync("/sign-in");
        Assert.False(plain.Headers.Contains("Strict-Transport-Security"));
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        request.Headers.Add("X-Forwarded-Proto", "https");
        request.Headers.Add("X-Forwarded-For", "192.0.2.7");
        using HttpResponseMessage secure = await host.Stranger.SendAsync(request);
        Assert.Equal("max-age=31536000", Assert.Single(secure.Headers.GetValues("Strict-Transport-Security")));
    }

    private static IEnumerable<string> LacksOf(HttpResponseMessage answer)
    {
        (string Name, string Value)[] wanted =
        [
            ("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; "
                + "form-action 'self'; frame-ancestors 'none'; base-uri 'none'; manifest-src 'self'"),
            ("X-Content-Type-Options", "nosniff"),
            ("X-Frame-Options", "DENY"),
            ("Referrer-Policy", "same-origin"),
            ("Cross-Origin-Opener-Policy", "same-origin"),
            ("Cross-Origin-Embedder-Policy", "require-corp"),
            ("Cross-Origin-Resource-Policy", "same-origin"),
        ];
        return wanted.Where(header => !answer.Headers.TryGetValues(header.Name, out IEnumerable<string>? values) || string.Join(", ", values) != header.Value)
            .Select(header => header.Name);
    }

    private static IEnumerable<string> ForbiddenIn(IDocument document)
    {
        IEnumerable<IElement> all = document.All;
        return
        [
            .. all.Where(element => element.LocalName == "style" || element.HasAttribute("style")).Select(element => "style in <" + element.LocalName + ">"),
            .. document.QuerySelectorAll("script").Where(script => !(script.GetAttribute("src") ?? string.Empty).StartsWith('/') || script.TextContent.Length > 0)
                .Select(_ => "script in the page"),
            .. all.SelectMany(element => element.Attributes).Where(attribute => attribute.LocalName.StartsWith("on", StringComparison.OrdinalIgnoreCase)
                || attribute.Value.StartsWith("javascript:", StringComparison.OrdinalIgnoreCase)).Select(attribute => attribute.LocalName),
            .. document.QuerySelectorAll("iframe, object, embed, base").Select(element => "<" + element.LocalName + ">"),
        ];
    }
}
