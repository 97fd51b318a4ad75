using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Tests.Security;

/// <summary>Nothing but health and the way in answers without a key; keys do what they may and no more.</summary>
public sealed partial class AccessTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await ApiHost.StartAsync(null, ("failed_sign_ins", "3"));

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task Every_route_but_the_open_ones_asks_a_stranger_for_a_key_in_the_same_words()
    {
        RouteEndpoint[] routes =
        [
            .. _host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
                .Where(route => route.Metadata.GetMetadata<IAllowAnonymous>() is null)

                // A shared address is its own key: one that was never shared is not there.
                .Where(route => !route.RoutePattern.RawText!.StartsWith(Urls.SharedPrefix, StringComparison.Ordinal)),
        ];
        Assert.True(routes.Length > 25, $"only {routes.Length} routes");
        foreach (RouteEndpoint route in routes)
        {
            string path = "/" + Hole().Replace(route.RoutePattern.RawText!.TrimStart('/'), "1").Replace("..", ".", StringComparison.Ordinal);
            string method = route.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods[0];
            using HttpResponseMessage answer = await _host.Stranger.SendAsync(new HttpRequestMessage(new HttpMethod(method), path));
            await ProblemAssert.IsAsync(HttpStatusCode.Unauthorized, answer);
        }
    }

    [Fact]
    public async Task An_answer_of_any_kind_carries_the_headers_that_bind_a_browser()
    {
        foreach (string path in new[] { "/health/live", "/sign-in", "/v1/units", "/no/such/page" })
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync(path);
            string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        }
    }

    [Fact]
    public async Task A_key_does_what_it_may_and_stops_when_it_is_revoked()
    {
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage read = await reader.GetAsync("/v1/units");
        Assert.Equal(HttpStatusCode.OK, read.StatusCode);
        using HttpResponseMessage manage = await reader.PutAsync("/v1/operators/x", new StringContent("{}", null, "application/json"));
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, manage);

        Assert.True(await _host.Services.GetRequiredService<Keys>().RevokeAsync("reader", CancellationToken.None));
        using HttpResponseMessage after = await reader.GetAsync("/v1/units");
        await ProblemAssert.IsAsync(HttpStatusCode.Unauthorized, after);
    }

    [Fact]
    public async Task A_sign_in_link_works_once_and_not_after_an_hour()
    {
        Keys keys = _host.Services.GetRequiredService<Keys>();
        string link = (await keys.AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        using HttpResponseMessage first = await _host.Client(null).GetAsync(link);
        Assert.Equal(HttpStatusCode.SeeOther, first.StatusCode);
        Assert.Contains(first.Headers.GetValues("Set-Cookie"), cookie =>
            cookie.Contains("httponly", StringComparison.OrdinalIgnoreCase) && cookie.Contains("samesite=lax", StringComparison.OrdinalIgnoreCase));
        using HttpResponseMessage second = await _host.Client(null).GetAsync(link);
        Assert.Equal(HttpStatusCode.Unauthorized, second.StatusCode);

        string late = (await keys.AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        _host.Clock.Now += TimeSpan.FromMinutes(61);
        using HttpResponseMessage tooLate = await _host.Client(null).GetAsync(late);
        Assert.Equal(HttpStatusCode.Unauthorized, tooLate.StatusCode);
    }

    [Fact]
    public async Task Too_many_wrong_tries_have_to_wait()
    {
        HttpStatusCode last = HttpStatusCode.OK;
        for (int attempt = 0; attempt < 5; attempt++)
        {
            using HttpResponseMessage answer = await _host.Client(null).GetAsync("/sign-in/link?token=wrong" + attempt);
            last = answer.StatusCode;
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, last);
    }

    [Fact]
    public async Task A_change_that_a_page_of_another_site_sends_is_refused()
    {
        string link = (await _host.Services.GetRequiredService<Keys>().AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        HttpClient person = _host.Client(null);
        using HttpResponseMessage signedIn = await person.GetAsync(link);
        string cookie = signedIn.Headers.GetValues("Set-Cookie").First().Split(';')[0];
        foreach ((string origin, HttpStatusCode status) in new[]
        {
            ("http://elsewhere.example", HttpStatusCode.Forbidden), (_host.Address.GetLeftPart(UriPartial.Authority), HttpStatusCode.OK),
        })
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records")
            {
                Content = new StringContent("[]", null, "application/json"),
            };
            request.Headers.Add("Origin", origin);
            request.Headers.Add("Cookie", cookie);
            using HttpResponseMessage answer = await person.SendAsync(request);
            Assert.Equal(status, answer.StatusCode);
        }
    }

    [GeneratedRegex("{[^}]*}")]
    private static partial Regex Hole();
}
