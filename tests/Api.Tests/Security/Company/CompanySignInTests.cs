using System.Net;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security.Company;

/// <summary>Signing in with the account of a company, at a real issuer over HTTP: who gets in, who does not, and what an answer that cannot be
/// trusted comes to.</summary>
public sealed class CompanySignInTests : IAsyncLifetime
{
    private const string NotTrusted = "cannot be trusted";
    private const string NotKnown = "Nobody who may sign in here has this account";
    private const string Lost = "took too long";

    private TestIssuer _issuer = null!;
    private ApiHost _host = null!;

    private People People => _host.Services.GetRequiredService<People>();

    public async Task InitializeAsync()
    {
        _issuer = await TestIssuer.StartAsync();
        _host = await StartAsync();
        await People.AddAsync(new NewPerson("Anna@Example.org", "Anna", Abilities.Read, Scope.Everything), CancellationToken.None);
    }

    public async Task DisposeAsync()
    {
        await _host.DisposeAsync();
        await _issuer.DisposeAsync();
    }

    [Fact]
    public async Task The_form_offers_it_and_a_first_sign_in_binds_the_account_and_begins_a_session()
    {
        HttpClient person = _host.Client(null);
        using HttpResponseMessage form = await Forms.ReadAsync(person, "/sign-in?return_to=%2Funits%3Fq%3DOVEN");
        IHtmlAnchorElement link = (await Forms.PageAsync(form)).QuerySelector<IHtmlAnchorElement>("#sign-in-company")!;
        Assert.Equal("Sign in with the Example account", link.TextContent);

        using HttpResponseMessage entered = await WalkAsync(person, link.GetAttribute("href")!);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.Equal("/units?q=OVEN", entered.Headers.Location!.OriginalString);
        Assert.Empty(_issuer.Refusals);
        using HttpResponseMessage page = await Forms.ReadAsync(person, "/units");
        Assert.Equal("Anna@Example.org", (await Forms.PageAsync(page)).Body!.GetAttribute("data-reader"));
        Assert.Equal((_issuer.Name, "account-1"), await BoundAsync());
    }

    [Fact]
    public async Task The_way_in_and_its_refusals_are_in_the_audit_as_any_other()
    {
        using HttpResponseMessage entered = await SignInAsync();
        _issuer.Claims["sub"] = "account-2";
        using HttpResponseMessage refused = await SignInAsync();

        using JsonDocument page = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/audit?action=session.begin"));
        string[] entries =
        [
            .. page.RootElement.GetProperty("items").EnumerateArray().Reverse().Select(entry => string.Join(
                " | ", new[] { "route", "status", "caller_kind", "caller", "about_kind", "about_name", "detail" }.Select(field => entry.GetProperty(field).ToString()))),
        ];
        Assert.Equal(
            [
                "/sign-in/company | 303 | person | Anna@Example.org | person | Anna@Example.org | the company's account was bound to this person",
                "/sign-in/company | 401 | stranger |  |  |  | ",
            ],
            entries);
    }

    [Fact]
    public async Task From_then_on_the_account_counts_whatever_its_address_is()
    {
        using HttpResponseMessage first = await SignInAsync();
        _issuer.Claims["email"] = "anna.married@example.org";
        _issuer.Claims["email_verified"] = false;
        HttpClient person = _host.Client(null);
        using HttpResponseMessage second = await SignInAsync(person);
        Assert.Equal(HttpStatusCode.SeeOther, second.StatusCode);
        using HttpResponseMessage page = await Forms.ReadAsync(person, "/units");
        Assert.Equal("Anna@Example.org", (await Forms.PageAsync(page)).Body!.GetAttribute("data-reader"));
    }

    [Fact]
    public async Task An_address_that_was_given_to_somebody_new_lets_nobody_in_until_the_person_is_released()
    {
        using HttpResponseMessage first = await SignInAsync();
        _issuer.Claims["sub"] = "account-2";
        await RefusedAsync(NotKnown, sessions: 1);
        Assert.Equal((_issuer.Name, "account-1"), await BoundAsync());

        Assert.True(await People.ReleaseAsync("anna@example.org", CancellationToken.None));
        using HttpResponseMessage after = await SignInAsync();
        Assert.Equal(HttpStatusCode.SeeOther, after.StatusCode);
        Assert.Equal((_issuer.Name, "account-2"), await BoundAsync());
    }

    [Theory]
    [InlineData("nobody@example.org", true, NotKnown)]
    [InlineData("anna@example.org", false, "has not verified your e-mail address")]
    [InlineData("anna@example.org", "yes", "has not verified your e-mail address")]
    [InlineData("anna@example.org", null, "has not verified your e-mail address")]
    [InlineData(null, true, "does not tell which login is yours")]
    [InlineData("\u202eanna@example.org", true, "does not tell which login is yours")]
    public async Task Who_has_no_login_here_or_no_verified_address_is_refused(string? email, object? verified, string sentence)
    {
        Set("email", email);
        Set("email_verified", verified);
        await RefusedAsync(sentence);
        Assert.Equal((null, null), await BoundAsync());
    }

    [Fact]
    public async Task A_disabled_person_is_refused_bound_or_not_in_the_words_for_one_who_is_not_known()
    {
        Assert.True(await People.DisableAsync("anna@example.org", CancellationToken.None));
        await RefusedAsync(NotKnown);
        Assert.Equal((null, null), await BoundAsync());

        await People.ChangeAsync(1, Abilities.All, person => person with { DisabledAt = null }, CancellationToken.None);
        using HttpResponseMessage entered = await SignInAsync();
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.True(await People.DisableAsync("anna@example.org", CancellationToken.None));
        await RefusedAsync(NotKnown);
    }

    [Fact]
    public async Task A_company_that_assigns_user_names_can_be_told_apart_by_them()
    {
        await using ApiHost host = await StartAsync(("oidc_login_claim", "preferred_username"));
        await host.Services.GetRequiredService<People>().AddAsync(new NewPerson("anna", "Anna", Abilities.Read, Scope.Everything), CancellationToken.None);
        _issuer.Claims["preferred_username"] = "ANNA";
        _issuer.Claims.Remove("email_verified");
        using HttpResponseMessage entered = await WalkAsync(host.Client(null), "/sign-in/company/start");
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
    }

    [Fact]
    public async Task A_token_that_is_not_for_this_service_or_not_for_this_sign_in_is_refused()
    {
        foreach ((string claim, object? value) in new (string, object?)[]
        {
            ("iss", "https://elsewhere.example"), ("iss", _issuer.Name + "/"), ("iss", null), ("aud", "another-client"), ("aud", null), ("azp", "another-client"),
            ("nonce", "another-nonce"), ("nonce", null), ("exp", 1_700_000_000L), ("exp", null), ("nbf", 4_000_000_000L), ("sub", null), ("sub", ""),
        })
        {
            _issuer.Spoil = claims =>
            {
                claims.Remove(claim);
                if (value is not null)
                {
                    claims[claim] = value;
                }
            };
            await RefusedAsync(NotTrusted, what: $"{claim} {value}");
        }

        _issuer.Spoil = null;
        using HttpResponseMessage good = await SignInAsync();
        Assert.Equal(HttpStatusCode.SeeOther, good.StatusCode);
    }

    [Fact]
    public async Task A_token_signed_with_a_key_of_somebody_else_or_not_at_all_is_refused()
    {
        _issuer.SignsWithOtherKey = true;
        await RefusedAsync(NotTrusted);
        _issuer.SignsWithOtherKey = false;
        _issuer.SignsNot = true;
        await RefusedAsync(NotTrusted);
    }

    [Fact]
    public async Task The_way_back_can_be_gone_once_and_only_by_the_browser_that_began_it()
    {
        HttpClient person = _host.Client(null);
        string back = await AtIssuerAsync(person, "/sign-in/company/start");
        await RefusedAsync(Lost, await Forms.ReadAsync(_host.Client(null), back));
        using HttpResponseMessage entered = await Forms.ReadAsync(person, back);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        await RefusedAsync(Lost, await Forms.ReadAsync(person, back), sessions: 1);
    }

    [Fact]
    public async Task An_answer_that_no_sign_in_of_ours_asked_for_leads_to_the_form()
    {
        foreach (string query in new[]
        {
            "", "?code=made-up&state=made-up", "?error=%3Cb%3Ebold%3C%2Fb%3E&error_description=%3Cb%3Ebold%3C%2Fb%3E", "?state=a&state=b&code=%00",
            "?id_token=made-up&access_token=made-up",
        })
        {
            await RefusedAsync(Lost, await Forms.ReadAsync(_host.Client(null), "/sign-in/company" + query), what: query);
        }
    }

    [Fact]
    public async Task What_the_issuer_says_of_an_error_is_not_shown()
    {
        HttpClient person = _host.Client(null);
        string back = await AtIssuerAsync(person, "/sign-in/company/start");
        string state = Microsoft.AspNetCore.WebUtilities.QueryHelpers.ParseQuery(new Uri(back).Query)["state"].ToString();
        string denied = $"/sign-in/company?error=access_denied&error_description=bold-words&state={Uri.EscapeDataString(state)}";
        await RefusedAsync("did not let you in", await Forms.ReadAsync(person, denied));
        _issuer.IsBroken = true;
        await RefusedAsync(NotTrusted);
    }

    [Fact]
    public async Task An_issuer_that_does_not_answer_is_told_on_the_form_where_a_password_still_works()
    {
        await using ApiHost host = await StartAsync(("oidc_issuer", "http://127.0.0.1:9"));
        using HttpResponseMessage answer = await Forms.ReadAsync(host.Client(null), "/sign-in/company/start?return_to=%2Funits");
        Assert.Equal(HttpStatusCode.BadGateway, answer.StatusCode);
        IHtmlDocument page = await Forms.PageAsync(answer);
        Assert.Contains("does not answer", page.QuerySelector("#sign-in-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("/units", page.QuerySelector<IHtmlInputElement>("input[name=return_to]")!.Value);
    }

    [Fact]
    public async Task It_never_leads_to_another_site()
    {
        foreach (string returnTo in new[] { "//elsewhere.example/x", "/\\elsewhere.example", "https://elsewhere.example" })
        {
            using HttpResponseMessage entered = await WalkAsync(_host.Client(null), "/sign-in/company/start?return_to=" + Uri.EscapeDataString(returnTo));
            Assert.Equal("/", entered.Headers.Location!.OriginalString);
        }
    }

    [Fact]
    public async Task Its_cookies_are_hardened_and_by_https_bound_to_the_host_and_the_way_back_is_by_the_public_address()
    {
        using HttpResponseMessage started = await _host.Client(null).GetAsync("/sign-in/company/start");
        string[] plain = [.. started.Headers.GetValues("Set-Cookie")];
        Assert.Equal(2, plain.Length);
        Assert.All(plain, cookie => Assert.StartsWith("company-", cookie, StringComparison.Ordinal));
        Assert.All(plain, cookie => Assert.Contains("; path=/; samesite=lax; httponly", cookie, StringComparison.OrdinalIgnoreCase));

        await using ApiHost behind = await StartAsync(("trusted_proxies", "127.0.0.1"), ("public_url", "https://fleet.example"));
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in/company/start");
        request.Headers.Add("X-Forwarded-Proto", "https");
        using HttpResponseMessage secure = await behind.Client(null).SendAsync(request);
        Assert.All(secure.Headers.GetValues("Set-Cookie"), cookie => Assert.StartsWith("__Host-company-", cookie, StringComparison.Ordinal));
        Assert.All(secure.Headers.GetValues("Set-Cookie"), cookie => Assert.Contains("; path=/; secure; samesite=lax; httponly", cookie, StringComparison.OrdinalIgnoreCase));
        Assert.Contains("redirect_uri=" + Uri.EscapeDataString("https://fleet.example/sign-in/company"), secure.Headers.Location!.Query, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_no_issuer_is_set_there_is_no_such_way()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        foreach (string path in new[] { "/sign-in/company", "/sign-in/company/start", "/signin-oidc", "/signout-oidc", "/signout-callback-oidc" })
        {
            using HttpResponseMessage answer = await host.Admin.GetAsync(path);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        }

        using HttpResponseMessage form = await Forms.ReadAsync(host.Client(null), "/sign-in");
        Assert.Null((await Forms.PageAsync(form)).QuerySelector("#sign-in-company"));
        using HttpResponseMessage signOut = await _host.Admin.GetAsync("/signout-oidc");
        Assert.Equal(HttpStatusCode.NotFound, signOut.StatusCode);
    }

    [Theory]
    [InlineData("oidc_issuer", "http://login.example.org")]
    [InlineData("oidc_issuer", "login.example.org")]
    [InlineData("oidc_issuer", "https://login.example.org/?tenant=1")]
    [InlineData("oidc_scopes", "profile email")]
    [InlineData("oidc_client_id", "")]
    public void Settings_that_are_not_safe_or_not_whole_are_refused_at_the_start(string name, string value)
    {
        var given = new Dictionary<string, string> { ["oidc_issuer"] = "https://login.example.org", ["oidc_client_id"] = "washwear", [name] = value };
        SettingException refused = Assert.Throws<SettingException>(() => Program.Build(Settings.Load(given)));
        Assert.Contains(name, refused.Message, StringComparison.Ordinal);
    }

    private void Set(string claim, object? value)
    {
        _issuer.Claims.Remove(claim);
        if (value is not null)
        {
            _issuer.Claims[claim] = value;
        }
    }

    private Task<ApiHost> StartAsync(params (string Name, string Value)[] settings) => ApiHost.StartAsync(
        TimeProvider.System.GetUtcNow(),
        [
            ("oidc_issuer", _issuer.Name), ("oidc_client_id", TestIssuer.ClientId), ("oidc_client_secret", TestIssuer.ClientSecret),
            ("oidc_name", "the Example account"), ("failed_sign_ins", "100"), .. settings,
        ]);

    private Task<HttpResponseMessage> SignInAsync(HttpClient? person = null) => WalkAsync(person ?? _host.Client(null), "/sign-in/company/start");

    private static async Task<HttpResponseMessage> WalkAsync(HttpClient person, string start) => await Forms.ReadAsync(person, await AtIssuerAsync(person, start));

    // What a browser does: the service sends it to the issuer, which sends it back.
    private static async Task<string> AtIssuerAsync(HttpClient person, string start)
    {
        using HttpResponseMessage sent = await Forms.ReadAsync(person, start);
        Assert.Equal(HttpStatusCode.Found, sent.StatusCode);
        using var atIssuer = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false });
        using HttpResponseMessage back = await atIssuer.GetAsync(sent.Headers.Location);
        Assert.Equal(HttpStatusCode.Found, back.StatusCode);
        return back.Headers.Location!.AbsoluteUri;
    }

    private async Task RefusedAsync(string sentence, HttpResponseMessage? answer = null, int sessions = 0, string what = "")
    {
        using HttpResponseMessage refused = answer ?? await SignInAsync();
        Assert.True(refused.StatusCode == HttpStatusCode.Unauthorized, $"{what}: {refused.StatusCode}");
        Assert.DoesNotContain(
            refused.Headers.TryGetValues("Set-Cookie", out IEnumerable<string>? cookies) ? cookies : [],
            cookie => cookie.StartsWith("session", StringComparison.Ordinal));
        IHtmlDocument page = await Forms.PageAsync(refused);
        Assert.Contains(sentence, page.QuerySelector("#sign-in-error")!.TextContent, StringComparison.Ordinal);

        // Neither the issuer's words nor the library's codes. Random marks may spell anything, so they are set aside.
        foreach (IElement hidden in page.QuerySelectorAll("input[type=hidden]"))
        {
            hidden.Remove();
        }

        string shown = page.DocumentElement.OuterHtml;
        Assert.DoesNotContain("bold", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("IDX", shown, StringComparison.Ordinal);
        Assert.Equal(sessions, (await QueryAsync<long>("SELECT count(*) FROM sign_in_session")).Single());
    }

    private async Task<(string? Issuer, string? Subject)> BoundAsync() =>
        (await QueryAsync<(string?, string?)>("SELECT issuer, subject FROM person")).Single();

    private async Task<IReadOnlyList<T>> QueryAsync<T>(string sql)
    {
        await using System.Data.Common.DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        return [.. await connection.QueryAsync<T>(sql)];
    }
}
