using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>Administrators let others in and out, over the API and by pages, and never further than they may go themselves.</summary>
public sealed class PeopleTests : IAsyncLifetime
{
    private const string Password = "long enough for anybody";
    private static readonly DateTimeOffset Now = new(2046, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await ApiHost.StartAsync(Now);

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task Whoever_is_invited_joins_once_sees_own_sessions_and_is_out_when_another_ends_them()
    {
        JsonElement invitation = await PostAsync("/v1/people/invitations", new { note = "Ben", abilities = new[] { "read" } });
        string link = invitation.GetProperty("link").GetString()!;
        HttpClient phone = _host.Client(null);
        using HttpResponseMessage joined = await Forms.JoinAsync(phone, link, "ben@example.org", "Ben", Password);
        Assert.Equal(HttpStatusCode.SeeOther, joined.StatusCode);
        using HttpResponseMessage again = await Forms.ReadAsync(_host.Client(null), new Uri(link).PathAndQuery);
        Assert.Equal(HttpStatusCode.Unauthorized, again.StatusCode);

        HttpClient desk = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(desk, "BEN@example.org", Password);
        using HttpResponseMessage account = await Forms.ReadAsync(desk, "/account");
        IHtmlDocument page = await Forms.PageAsync(account);
        Assert.Equal(2, page.QuerySelectorAll("tbody tr").Length);
        Assert.Equal("Ben", page.QuerySelector("a.reader")!.TextContent);

        using HttpResponseMessage ended = await Forms.SendAsync(desk, "/account", "tbody form");
        Assert.Equal(HttpStatusCode.SeeOther, ended.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await phone.GetAsync("/v1/units")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await desk.GetAsync("/v1/units")).StatusCode);
    }

    [Fact]
    public async Task An_invitation_expires_and_can_be_taken_back_and_its_form_says_what_is_wrong()
    {
        JsonElement first = await PostAsync("/v1/people/invitations", new { abilities = new[] { "read" } });
        using HttpResponseMessage shortOne = await Forms.JoinAsync(_host.Client(null), first.GetProperty("link").GetString()!, "ben", "Ben", "short");
        Assert.Equal(HttpStatusCode.BadRequest, shortOne.StatusCode);
        Assert.Contains("at least 12", (await Forms.PageAsync(shortOne)).QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);
        using HttpResponseMessage taken = await Forms.JoinAsync(_host.Client(null), first.GetProperty("link").GetString()!, "ADMIN", "Ben", Password);
        Assert.Contains("already", (await Forms.PageAsync(taken)).QuerySelector("[role=alert]")!.TextContent, StringComparison.Ordinal);

        using HttpResponseMessage back = await _host.Admin.DeleteAsync($"/v1/people/invitations/{first.GetProperty("id").GetInt64()}");
        Assert.Equal(HttpStatusCode.NoContent, back.StatusCode);
        using HttpResponseMessage gone = await Forms.ReadAsync(_host.Client(null), new Uri(first.GetProperty("link").GetString()!).PathAndQuery);
        Assert.Equal(HttpStatusCode.Unauthorized, gone.StatusCode);

        JsonElement second = await PostAsync("/v1/people/invitations", new { abilities = new[] { "read" } });
        _host.Clock.Advance(TimeSpan.FromHours(168));
        using HttpResponseMessage late = await Forms.ReadAsync(_host.Client(null), new Uri(second.GetProperty("link").GetString()!).PathAndQuery);
        Assert.Equal(HttpStatusCode.Unauthorized, late.StatusCode);
        Assert.Empty((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/people/invitations")).GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task An_invitation_ends_with_what_its_maker_may_do()
    {
        HttpClient helper = await _host.ClientAsync(Abilities.Administer | Abilities.Read, "helper");
        foreach (string way in new[] { "revoked by an administrator", "revoked by the command" })
        {
            using HttpResponseMessage made = await helper.PostAsJsonAsync("/v1/people/invitations", new { abilities = new[] { "administer" } });
            string link = (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("link").GetString()!;
            await PostAsync("/v1/people/invitations", new { note = "stays", abilities = new[] { "read" } });
            if (way == "revoked by the command")
            {
                Assert.True(await _host.Services.GetRequiredService<Keys>().RevokeAsync("helper-2", CancellationToken.None));
            }
            else
            {
                using HttpResponseMessage revoked = await _host.Admin.DeleteAsync("/v1/keys/helper");
                Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
            }

            using HttpResponseMessage gone = await Forms.ReadAsync(_host.Client(null), new Uri(link).PathAndQuery);
            Assert.Equal(HttpStatusCode.Unauthorized, gone.StatusCode);
            helper = await _host.ClientAsync(Abilities.Administer | Abilities.Read, "helper-2");
        }

        Assert.Equal(["stays", "stays"], await InvitedAsync());
    }

    [Fact]
    public async Task An_invitation_ends_when_the_person_who_made_it_may_do_less_or_is_disabled()
    {
        long chief = await JoinedAsync("chief", "read", "administer");
        foreach (object change in new object[] { new { name = "Chief", abilities = new[] { "administer" } }, new { abilities = new[] { "administer" }, disabled = true } })
        {
            await _host.Services.GetRequiredService<PersonLinks>().InviteAsync(
                Abilities.Read, Scope.Everything, "by chief", "chief", Abilities.All, CancellationToken.None);
            Assert.Equal(["by chief"], await InvitedAsync());
            await PutAsync($"/v1/people/{chief}", change);
            Assert.Empty(await InvitedAsync());
        }
    }

    private async Task<string[]> InvitedAsync() =>
    [
        .. (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/people/invitations")).GetProperty("items").EnumerateArray()
            .Select(item => item.GetProperty("note").GetString()!),
    ];

    [Fact]
    public async Task Nobody_hands_on_or_takes_away_what_he_may_not_do_himself()
    {
        HttpClient helper = await _host.ClientAsync(Abilities.Administer | Abilities.Read, "helper");
        using HttpResponseMessage invite = await helper.PostAsJsonAsync("/v1/people/invitations", new { abilities = new[] { "read", "manage" } });
        await ProblemAssert.ListsAsync(invite, "abilities beyond_own");
        using HttpResponseMessage key = await helper.PostAsJsonAsync("/v1/keys", new { name = "k", abilities = new[] { "ingest" } });
        await ProblemAssert.ListsAsync(key, "abilities beyond_own");
        using HttpResponseMessage revoke = await helper.DeleteAsync("/v1/keys/admin");
        await ProblemAssert.ListsAsync(revoke, "abilities beyond_own");

        long manager = await JoinedAsync("manager", "read", "manage");
        using HttpResponseMessage put = await helper.PutAsJsonAsync($"/v1/people/{manager}", new { abilities = new[] { "read" } });
        await ProblemAssert.ListsAsync(put, "abilities beyond_own");
        using HttpResponseMessage disable = await helper.DeleteAsync($"/v1/people/{manager}");
        await ProblemAssert.ListsAsync(disable, "abilities beyond_own");
        using HttpResponseMessage link = await helper.PostAsync($"/v1/people/{manager}/password-link", null);
        await ProblemAssert.ListsAsync(link, "abilities beyond_own");

        HttpClient reader = await _host.ClientAsync(Abilities.All & ~Abilities.Administer, "reader");
        foreach (string path in new[] { "/v1/people", "/v1/people/invitations", "/v1/keys", "/v1/sessions", "/people", "/keys" })
        {
            using HttpResponseMessage refused = await reader.GetAsync(path);
            await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, refused);
        }
    }

    [Fact]
    public async Task The_last_who_may_administer_stays_and_a_key_counts()
    {
        long boss = await JoinedAsync("boss", "read", "ingest", "work", "plan", "manage", "administer");
        using HttpResponseMessage first = await _host.Admin.DeleteAsync("/v1/keys/admin");
        Assert.Equal(HttpStatusCode.NoContent, first.StatusCode);
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(person, "boss", Password);

        using HttpResponseMessage lower = await person.PutAsJsonAsync($"/v1/people/{boss}", new { abilities = new[] { "read" } });
        await ProblemAssert.ListsAsync(lower, "abilities last_administrator");
        using HttpResponseMessage disable = await person.DeleteAsync($"/v1/people/{boss}");
        await ProblemAssert.ListsAsync(disable, "abilities last_administrator");
        Assert.Equal(HttpStatusCode.OK, (await person.GetAsync("/v1/people")).StatusCode);

        using HttpResponseMessage key = await person.PostAsJsonAsync("/v1/keys", new { name = "spare", abilities = new[] { "administer" } });
        Assert.Equal(HttpStatusCode.OK, key.StatusCode);
        using HttpResponseMessage now = await person.DeleteAsync($"/v1/people/{boss}");
        Assert.Equal(HttpStatusCode.NoContent, now.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await person.GetAsync("/v1/people")).StatusCode);
    }

    [Fact]
    public async Task A_change_of_a_person_holds_at_the_next_request_and_nothing_unknown_is_taken()
    {
        long anna = await JoinedAsync("anna", "read");
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(person, "anna", Password);
        Assert.Equal(HttpStatusCode.Forbidden, (await person.GetAsync("/v1/people")).StatusCode);

        await PutAsync($"/v1/people/{anna}", new { name = "Anna B", abilities = new[] { "read", "administer" } });
        Assert.Equal(HttpStatusCode.OK, (await person.GetAsync("/v1/people")).StatusCode);
        await PutAsync($"/v1/people/{anna}", new { abilities = new[] { "work" } });
        Assert.Equal(HttpStatusCode.Forbidden, (await person.GetAsync("/v1/units")).StatusCode);
        JsonElement shown = await _host.Admin.GetFromJsonAsync<JsonElement>($"/v1/people/{anna}");
        Assert.Equal("Anna B", shown.GetProperty("name").GetString());

        foreach ((object body, string problem) in new (object, string)[]
        {
            (new { abilities = new[] { "fly" } }, "abilities choice"),
            (new { abilities = Array.Empty<string>() }, "abilities required"),
            (new { abilities = new[] { "read" }, scope = new { kind = "planets", codes = new[] { "x" } } }, "scope.kind choice"),
            (new { abilities = new[] { "read" }, scope = new { kind = "sites", codes = new[] { "NOWHERE" } } }, "scope.codes known"),
            (new { abilities = new[] { "read" }, scope = new { kind = "sites", codes = Array.Empty<string>() } }, "scope.codes count"),
            (new { abilities = new[] { "read" }, name = " " }, "name text"),
        })
        {
            using HttpResponseMessage refused = await _host.Admin.PutAsJsonAsync($"/v1/people/{anna}", body);
            await ProblemAssert.ListsAsync(refused, problem);
        }

        using HttpResponseMessage put = await _host.Admin.PutAsJsonAsync("/v1/operators/harbour", new { name = "Harbour" });
        Assert.Equal(HttpStatusCode.Created, put.StatusCode);
        using HttpResponseMessage near = await _host.Admin.PutAsJsonAsync(
            $"/v1/people/{anna}", new { abilities = new[] { "read" }, scope = new { kind = "operators", codes = new[] { "harbuor" } } });
        Assert.Equal("Did you mean 'harbour'? If not, register it first.", (await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, near)).GetProperty("errors")[0].GetProperty("mend").GetString());

        using HttpResponseMessage nobody = await _host.Admin.PutAsJsonAsync("/v1/people/4711", new { abilities = new[] { "read" } });
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, nobody);
    }

    [Fact]
    public async Task A_key_that_is_made_works_is_shown_once_and_stops_when_it_is_revoked()
    {
        JsonElement made = await PostAsync("/v1/keys", new { name = "gateway", abilities = new[] { "read" } });
        HttpClient program = _host.Client(made.GetProperty("secret").GetString());
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/v1/units")).StatusCode);
        Assert.DoesNotContain("ww_", await _host.Admin.GetStringAsync("/v1/keys"), StringComparison.Ordinal);
        using HttpResponseMessage twice = await _host.Admin.PostAsJsonAsync("/v1/keys", new { name = "gateway", abilities = new[] { "read" } });
        await ProblemAssert.ListsAsync(twice, "name taken");

        using HttpResponseMessage revoked = await _host.Admin.DeleteAsync("/v1/keys/gateway");
        Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/v1/units")).StatusCode);
        using HttpResponseMessage own = await program.GetAsync("/account");
        Assert.Equal(HttpStatusCode.Unauthorized, own.StatusCode);
    }

    [Fact]
    public async Task A_new_password_ends_the_other_sessions_and_wants_the_present_one()
    {
        await JoinedAsync("anna", "read");
        HttpClient here = _host.Client(null);
        HttpClient there = _host.Client(null);
        using HttpResponseMessage one = await Forms.SignInAsync(here, "anna", Password);
        using HttpResponseMessage two = await Forms.SignInAsync(there, "anna", Password);
        const string Form = "form[action='/account/password']";
        using HttpResponseMessage wrong = await Forms.SendAsync(here, "/account", Form, ("present", "another one"), ("password", "quite another one"));
        Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        using HttpResponseMessage common = await Forms.SendAsync(here, "/account", Form, ("present", Password), ("password", "Password12345!"));
        Assert.Equal(HttpStatusCode.BadRequest, common.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await there.GetAsync("/v1/units")).StatusCode);

        using HttpResponseMessage changed = await Forms.SendAsync(here, "/account", Form, ("present", Password), ("password", "quite another one"));
        Assert.Equal(HttpStatusCode.SeeOther, changed.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/v1/units")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await there.GetAsync("/v1/units")).StatusCode);
        using HttpResponseMessage old = await Forms.SignInAsync(_host.Client(null), "anna", Password);
        Assert.Equal(HttpStatusCode.Unauthorized, old.StatusCode);
    }

    [Fact]
    public async Task An_administrator_invites_changes_and_disables_by_pages()
    {
        await JoinedAsync("boss", "read", "ingest", "work", "plan", "manage", "administer");
        HttpClient boss = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(boss, "boss", Password);
        using HttpResponseMessage invited = await Forms.SendAsync(
            boss, "/people", "form[action='/people/invitations']", ("note", "Cleo"), ("can", "read"), ("scope", "everything"), ("codes", ""));
        string link = (await Forms.PageAsync(invited)).QuerySelector("code.secret")!.TextContent;
        HttpClient cleo = _host.Client(null);
        using HttpResponseMessage joined = await Forms.JoinAsync(cleo, link, "cleo", "Cleo", Password);
        Assert.Equal(HttpStatusCode.SeeOther, joined.StatusCode);

        using HttpResponseMessage people = await Forms.ReadAsync(boss, "/people");
        string path = (await Forms.PageAsync(people)).QuerySelectorAll<IHtmlAnchorElement>("tbody a").Single(a => a.TextContent == "Cleo").GetAttribute("href")!;
        using HttpResponseMessage reset = await Forms.SendAsync(boss, path, $"form[action='{path}/password-link']");
        string again = (await Forms.PageAsync(reset)).QuerySelector("code.secret")!.TextContent;
        using HttpResponseMessage set = await Forms.SendAsync(
            _host.Client(null), new Uri(again).PathAndQuery, "form[action='/join']", ("password", "quite another one"));
        Assert.Equal(HttpStatusCode.SeeOther, set.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await cleo.GetAsync("/v1/units")).StatusCode);
        using HttpResponseMessage back = await Forms.SignInAsync(cleo, "cleo", "quite another one");
        Assert.Equal(HttpStatusCode.SeeOther, back.StatusCode);

        using HttpResponseMessage saved = await Forms.SendAsync(
            boss, path, $"form[action='{path}']", ("can", "read"), ("scope", "everything"), ("codes", ""), ("disabled", "yes"));
        Assert.Equal(HttpStatusCode.SeeOther, saved.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await cleo.GetAsync("/v1/units")).StatusCode);

        using HttpResponseMessage key = await Forms.SendAsync(
            boss, "/keys", "form[action='/keys']", ("name", "gateway"), ("can", "ingest"), ("scope", "everything"), ("codes", ""));
        Assert.StartsWith("ww_", (await Forms.PageAsync(key)).QuerySelector("code.secret")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_typed_and_not_done_is_still_there_to_be_mended()
    {
        await JoinedAsync("boss", "read", "ingest", "work", "plan", "manage", "administer");
        HttpClient boss = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(boss, "boss", Password);
        foreach ((string address, string action, string name) in new[] { ("/people", "/people/invitations", "note"), ("/keys", "/keys", "name") })
        {
            using HttpResponseMessage refused = await Forms.SendAsync(
                boss, address, $"form[action='{action}']", (name, "cellar"), ("can", "work"), ("scope", "sites"), ("codes", "NOT-THERE, NOR-HERE"));
            Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
            IHtmlFormElement form = (await Forms.PageAsync(refused)).QuerySelector<IHtmlFormElement>($"form[action='{action}']")!;
            Assert.Equal("cellar", form.QuerySelector<IHtmlInputElement>($"[name={name}]")!.Value);
            Assert.Equal("NOT-THERE, NOR-HERE", form.QuerySelector<IHtmlInputElement>("[name=codes]")!.Value);
            Assert.Equal("sites", form.QuerySelector<IHtmlSelectElement>("[name=scope]")!.Value);
            Assert.Equal(["work"], form.QuerySelectorAll<IHtmlInputElement>("[name=can]").Where(box => box.IsChecked).Select(box => box.Value));
        }
    }

    [Theory]
    [InlineData("/people", "/people/invitations", "note")]
    [InlineData("/keys", "/keys", "name")]
    public async Task Codes_that_are_typed_beside_everything_do_not_show_everybodys_kitchens(string address, string action, string name)
    {
        await JoinedAsync("boss", "read", "ingest", "work", "plan", "manage", "administer");
        HttpClient boss = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(boss, "boss", Password);
        using HttpResponseMessage refused = await Forms.SendAsync(
            boss, address, $"form[action='{action}']", (name, "chain"), ("can", "read"), ("scope", "everything"), ("codes", "HARBOUR"));
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        IHtmlDocument page = await Forms.PageAsync(refused);
        Assert.Null(page.QuerySelector("code.secret"));
        Assert.Contains("everything has none", page.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lists_of_people_and_keys_have_pages_and_count_all_of_them()
    {
        foreach (string name in new[] { "anna", "ben", "cleo" })
        {
            await JoinedAsync(name, "read");
        }

        foreach (string name in new[] { "a-gateway", "b-gateway" })
        {
            await PostAsync("/v1/keys", new { name, abilities = new[] { "ingest" } });
        }

        foreach ((string address, string count) in new[] { ("/people", "3 people"), ("/keys", "3 keys") })
        {
            List<string> seen = [];
            for (string? next = address + "?limit=2"; next is not null;)
            {
                using HttpResponseMessage answer = await Forms.ReadAsync(_host.Admin, next);
                IHtmlDocument page = await Forms.PageAsync(answer);
                Assert.StartsWith(count, page.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
                string[] rows = [.. page.QuerySelectorAll("tbody th").Select(row => row.TextContent)];
                Assert.InRange(rows.Length, 1, 2);
                seen.AddRange(rows);
                next = page.QuerySelector(".after-table a.button")?.GetAttribute("href");
            }

            Assert.Equal(3, seen.Distinct().Count());
            Assert.Equal(3, seen.Count);
        }
    }

    private async Task<long> JoinedAsync(string login, params string[] abilities)
    {
        JsonElement invitation = await PostAsync("/v1/people/invitations", new { abilities });
        using HttpResponseMessage joined = await Forms.JoinAsync(
            _host.Client(null), invitation.GetProperty("link").GetString()!, login, login.ToUpperInvariant(), Password);
        Assert.Equal(HttpStatusCode.SeeOther, joined.StatusCode);
        JsonElement people = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/people");
        return people.GetProperty("items").EnumerateArray().Single(person => person.GetProperty("login").GetString() == login).GetProperty("id").GetInt64();
    }

    private async Task<JsonElement> PostAsync(string path, object body)
    {
        using HttpResponseMessage answer = await _host.Admin.PostAsJsonAsync(path, body);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }

    private async Task PutAsync(string path, object body)
    {
        using HttpResponseMessage answer = await _host.Admin.PutAsJsonAsync(path, body);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }
}
