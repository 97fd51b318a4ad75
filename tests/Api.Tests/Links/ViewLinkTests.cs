using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;
using Washwear.Api.Tests.Security;

namespace Washwear.Api.Tests.Links;

/// <summary>Links: they show one thing of one scope to whoever has them, and nothing after they were revoked.</summary>
/// <param name="fleet">The fleet and the callers.</param>
public sealed class ViewLinkTests(TwoOperators fleet) : IClassFixture<TwoOperators>
{
    private readonly ApiHost _host = fleet.Host;

    [Fact]
    public async Task A_board_is_seen_without_signing_in_and_names_nothing_outside_of_its_scope()
    {
        foreach (TwoOperators.Bound caller in fleet.Callers)
        {
            (string address, _) = await MakeAsync(caller.Client, new { name = "screen " + caller.Name, shows = "board" });
            using HttpResponseMessage answer = await _host.Client(null).GetAsync(new Uri(address).PathAndQuery);
            string page = await answer.Content.ReadAsStringAsync();
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Contains("As of", page, StringComparison.Ordinal);
            Assert.DoesNotContain(caller.HiddenWords, word => page.Contains(">" + word + "<", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_calendar_is_read_by_a_program_that_can_send_no_key_and_each_scope_has_entries_of_its_own()
    {
        List<string> all = [];
        foreach ((string name, HttpClient client) in fleet.Callers.Select(caller => (caller.Name, caller.Client)).Append(("all", _host.Admin)))
        {
            (string address, _) = await MakeAsync(client, new { name, shows = "calendar" });
            using HttpResponseMessage answer = await _host.Client(null).GetAsync(new Uri(address).PathAndQuery);
            string text = await answer.Content.ReadAsStringAsync();
            Assert.Equal("text/calendar", answer.Content.Headers.ContentType!.MediaType);
            string[] uids = [.. text.Split("\r\n").Where(line => line.StartsWith("UID:", StringComparison.Ordinal))];
            Assert.Equal(uids.Distinct(), uids);
            Assert.DoesNotContain(uids, all.Contains);
            all.AddRange(uids);
            using HttpResponseMessage again = await _host.Client(null).GetAsync(new Uri(address).PathAndQuery);
            Assert.Equal(text, await again.Content.ReadAsStringAsync());
        }

        Assert.NotEmpty(all);
    }

    [Fact]
    public async Task A_revoked_a_guessed_and_a_misused_address_are_not_found_in_the_same_words()
    {
        (string address, long id) = await MakeAsync(_host.Admin, new { name = "short-lived", shows = "board" });
        string path = new Uri(address).PathAndQuery;
        HttpClient stranger = _host.Client(null);
        using HttpResponseMessage other = await stranger.GetAsync(path.Replace("/board", "/calendar.ics", StringComparison.Ordinal));
        using HttpResponseMessage before = await stranger.GetAsync(path);
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.OK), (other.StatusCode, before.StatusCode));
        using HttpResponseMessage revoked = await _host.Admin.DeleteAsync($"/v1/links/{id}");
        Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
        using HttpResponseMessage after = await stranger.GetAsync(path);
        using HttpResponseMessage guessed = await stranger.GetAsync("/shared/guessed/board");
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (after.StatusCode, guessed.StatusCode));
        Assert.Equal(Detail(await after.Content.ReadAsStringAsync()), Detail(await guessed.Content.ReadAsStringAsync()));

        // Neither a key nor a cookie makes a revoked address good.
        using HttpResponseMessage withKey = await _host.Admin.GetAsync(path);
        Assert.Equal(HttpStatusCode.NotFound, withKey.StatusCode);
    }

    [Fact]
    public async Task Nobody_shares_sees_or_revokes_what_goes_beyond_their_own_scope()
    {
        TwoOperators.Bound caller = fleet.Callers[0];
        string site = caller.Hidden.Select(unit => unit.Site.Resource.Site).First(caller.HiddenWords.Contains);
        foreach (string[] sites in new[] { [site], new[] { "no-such-site" } })
        {
            using HttpResponseMessage beyond = await caller.Client.PostAsJsonAsync("/v1/links", new { name = "beyond", shows = "board", sites });
            Assert.Equal(HttpStatusCode.BadRequest, beyond.StatusCode);
            Assert.Contains("beyond_own", await beyond.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        (_, long theirs) = await MakeAsync(_host.Admin, new { name = "of another", shows = "board", sites = new[] { site } });
        (_, long own) = await MakeAsync(caller.Client, new { name = "own", shows = "board", sites = new[] { caller.Seen[0].Site.Resource.Site } });
        using JsonDocument list = JsonDocument.Parse(await caller.Client.GetStringAsync("/v1/links"));
        long[] seen = [.. list.RootElement.GetProperty("items").EnumerateArray().Select(row => row.GetProperty("id").GetInt64())];
        Assert.Contains(own, seen);
        Assert.DoesNotContain(theirs, seen);
        using HttpResponseMessage revoke = await caller.Client.DeleteAsync($"/v1/links/{theirs}");
        Assert.Equal(HttpStatusCode.NotFound, revoke.StatusCode);
    }

    [Fact]
    public async Task The_list_of_links_has_pages_and_a_file()
    {
        foreach (int number in Enumerable.Range(1, 3))
        {
            await MakeAsync(_host.Admin, new { name = $"paged {number}", shows = "board" });
        }

        List<string> seen = [];
        for (string? next = "/links?limit=2"; next is not null;)
        {
            using HttpResponseMessage answer = await Forms.ReadAsync(_host.Admin, next);
            AngleSharp.Html.Dom.IHtmlDocument page = await Forms.PageAsync(answer);
            string[] rows = [.. page.QuerySelectorAll("tbody th").Select(row => row.TextContent)];
            Assert.InRange(rows.Length, 1, 2);
            seen.AddRange(rows);
            next = page.QuerySelector(".after-table a.button")?.GetAttribute("href");
        }

        string[] paged = [.. seen.Where(name => name.StartsWith("paged ", StringComparison.Ordinal))];
        Assert.Equal(["paged 3", "paged 2", "paged 1"], paged);
        string[] file = (await _host.Admin.GetStringAsync("/links?format=csv")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(seen.Count + 1, file.Length);
    }

    [Fact]
    public async Task A_person_makes_a_link_on_the_page_sees_its_address_once_and_revokes_it_there()
    {
        string cookieLink = (await _host.Services.GetRequiredService<Keys>().AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await person.GetAsync(cookieLink);

        // The program's clock stands in the past: the client would hold the cookie for too old.
        person.DefaultRequestHeaders.Add("Cookie", entered.Headers.GetValues("Set-Cookie").First().Split(';')[0]);
        string page = await person.GetStringAsync("/links");
        string token = System.Text.RegularExpressions.Regex.Match(page, "name=\"__RequestVerificationToken\" value=\"([^\"]+)\"").Groups[1].Value;
        Dictionary<string, string> form = new() { ["__RequestVerificationToken"] = token, ["name"] = "office", ["shows"] = "board", ["sites"] = string.Empty };
        using var mistyped = new HttpRequestMessage(HttpMethod.Post, "/links")
        {
            Content = new FormUrlEncodedContent(new Dictionary<string, string>(form) { ["sites"] = "no-such-site" }),
        };
        mistyped.Headers.Add("Accept", "text/html");
        using HttpResponseMessage refused = await person.SendAsync(mistyped);
        string back = await refused.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Contains("names something that is not there", back, StringComparison.Ordinal);
        Assert.Contains("value=\"no-such-site\"", back, StringComparison.Ordinal);
        using var wish = new HttpRequestMessage(HttpMethod.Post, "/links") { Content = new FormUrlEncodedContent(form) };
        wish.Headers.Add("Accept", "text/html");
        using HttpResponseMessage made = await person.SendAsync(wish);
        string body = await made.Content.ReadAsStringAsync();
        string path = System.Text.RegularExpressions.Regex.Match(body, "/shared/[\\w-]+/board").Value;
        using HttpResponseMessage shown = await _host.Client(null).GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, shown.StatusCode);
        string listed = await person.GetStringAsync("/links");
        Assert.DoesNotContain(path, listed, StringComparison.Ordinal);
        string revoke = System.Text.RegularExpressions.Regex.Match(listed, "/links/\\d+/revoke").Value;
        using HttpResponseMessage gone = await person.PostAsync(revoke, new FormUrlEncodedContent(new Dictionary<string, string> { ["__RequestVerificationToken"] = token }));
        Assert.Equal(HttpStatusCode.SeeOther, gone.StatusCode);
        using HttpResponseMessage after = await _host.Client(null).GetAsync(path);
        Assert.Equal(HttpStatusCode.NotFound, after.StatusCode);
    }

    private static async Task<(string Address, long Id)> MakeAsync(HttpClient client, object link)
    {
        using HttpResponseMessage answer = await client.PostAsJsonAsync("/v1/links", link);
        string body = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.Created, body);
        using JsonDocument json = JsonDocument.Parse(body);
        return (json.RootElement.GetProperty("address").GetString()!, json.RootElement.GetProperty("link").GetProperty("id").GetInt64());
    }

    private static string Detail(string problem)
    {
        using JsonDocument json = JsonDocument.Parse(problem);
        return json.RootElement.GetProperty("detail").GetString()!;
    }
}
