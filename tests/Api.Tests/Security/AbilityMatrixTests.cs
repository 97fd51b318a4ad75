using System.Net;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>Every route, with a key of every single ability: it lets through whom its declaration names, and nobody else.</summary>
public sealed class AbilityMatrixTests : IAsyncLifetime
{
    private static readonly Abilities[] Single = [.. Enum.GetValues<Abilities>().Where(ability => int.PopCount((int)ability) == 1)];

    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await ApiHost.StartAsync();

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_route_lets_through_the_abilities_that_the_page_of_access_names_and_no_other()
    {
        Dictionary<string, string> documented = AccessPage.Routes();
        var wrong = new List<string>();
        foreach (Route route in Route.All(_host))
        {
            if (!documented.Remove(route.Name, out string? word))
            {
                wrong.Add($"{route.Name} is not in docs/access.md (it declares {route.AbilityWord})");
                continue;
            }

            if (word != route.AbilityWord)
            {
                wrong.Add($"{route.Name}: docs/access.md says {word}, the route declares {route.AbilityWord}");
            }
        }

        wrong.AddRange(documented.Keys.Select(name => $"{name} is in docs/access.md, but there is no such route"));
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public async Task With_one_ability_a_caller_passes_where_it_is_asked_for_and_is_refused_everywhere_else()
    {
        Route[] routes = [.. Route.All(_host).Where(route => !route.IsShared)];
        Assert.True(routes.Length > 100, $"only {routes.Length} routes");
        var wrong = new List<string>();
        foreach (Abilities ability in Single)
        {
            HttpClient caller = await _host.ClientAsync(ability, "key that may " + ability);
            foreach (Route route in routes)
            {
                HttpStatusCode status = await StatusAsync(caller, route);
                bool passed = status is not (HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized);
                if (passed != (route.Ability == ability) || (int)status >= 500)
                {
                    wrong.Add($"{route.Name} asks for {route.Ability}; with {ability}: {(int)status}");
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public async Task Who_sees_a_part_of_the_fleet_is_refused_what_belongs_to_no_operator()
    {
        Scope scope = Scope.Of(ScopeKind.Operators, ["nobody"])!;
        HttpClient caller = await _host.ClientAsync(Abilities.All & ~Abilities.WholeFleet, "bound", scope);
        var wrong = new List<string>();
        foreach (Route route in Route.All(_host).Where(route => !route.IsShared))
        {
            HttpStatusCode status = await StatusAsync(caller, route);
            bool passed = status is not (HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized);
            if (passed == (route.NeedsWholeFleet || Abilities.WholeFleet.HasFlag(route.Ability)) || (int)status >= 500)
            {
                wrong.Add($"{route.Name} ({route.Ability}): {(int)status}");
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Theory]
    [InlineData(Abilities.Manage)]
    [InlineData(Abilities.Administer)]
    public async Task No_key_manages_or_administers_within_a_part_of_the_fleet(Abilities ability)
    {
        Keys keys = _host.Services.GetRequiredService<Keys>();
        await Assert.ThrowsAsync<ArgumentException>(
            () => keys.AddAsync("half", ability | Abilities.Read, Scope.Of(ScopeKind.Units, ["OVEN-1"])!, CancellationToken.None));
    }

    // What is asked for is not there: whether it would be given is another test's question.
    private static async Task<HttpStatusCode> StatusAsync(HttpClient caller, Route route)
    {
        using var request = new HttpRequestMessage(new HttpMethod(route.Method), route.PathWith(_ => "no-such-thing"));
        if (route.Method is "POST" or "PUT")
        {
            request.Content = new StringContent("nonsense", Encoding.UTF8, "application/json");
        }

        using HttpResponseMessage answer = await caller.SendAsync(request);
        return answer.StatusCode;
    }
}
