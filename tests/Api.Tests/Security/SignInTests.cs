using System.Net;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>How a person gets in with a key and out again, and what a form from elsewhere cannot do.</summary>
public sealed class SignInTests : IAsyncLifetime
{
    // Far ahead of the machine's clock: the client's jar keeps only cookies that have not expired.
    private static readonly DateTimeOffset Now = new(2046, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private readonly string _shared = Directory.CreateTempSubdirectory("washwear-sign-in-test-").FullName;
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await StartAsync();

    public async Task DisposeAsync()
    {
        await _host.DisposeAsync();
        Directory.Delete(_shared, recursive: true);
    }

    [Fact]
    public async Task A_key_signs_in_and_the_button_signs_out()
    {
        HttpClient person = _host.Stranger;
        using HttpResponseMessage before = await ReadAsync(person, "/units?q=OVEN");
        Assert.Equal(HttpStatusCode.Redirect, before.StatusCode);
        Assert.Equal("/sign-in?return_to=%2Funits%3Fq%3DOVEN", before.Headers.Location!.OriginalString);

        using HttpResponseMessage entered = await SignInAsync(person, await KeyAsync(Abilities.Read), "/units?q=OVEN");
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.Equal("/units?q=OVEN", entered.Headers.Location!.OriginalString);
        using HttpResponseMessage page = await ReadAsync(person, "/units");
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);

        IHtmlFormElement form = (await PageAsync(page)).QuerySelector<IHtmlFormElement>("form.sign-out")!;
        using HttpResponseMessage left = await person.PostAsync("/sign-out", FieldsOf(form));
        Assert.Equal("/sign-in", left.Headers.Location!.OriginalString);
        using HttpResponseMessage after = await ReadAsync(person, "/units");
        Assert.Equal(HttpStatusCode.Redirect, after.StatusCode);
    }

    [Theory]
    [InlineData("//elsewhere.example/x")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("https://elsewhere.example")]
    [InlineData("elsewhere")]
    [InlineData("")]
    public async Task Signing_in_never_leads_to_another_site(string returnTo)
    {
        using HttpResponseMessage entered = await SignInAsync(_host.Stranger, await KeyAsync(Abilities.Read), returnTo);
        Assert.Equal("/", entered.Headers.Location!.OriginalString);
    }

    [Fact]
    public async Task A_wrong_key_gets_the_form_again_which_says_so_and_repeats_no_key()
    {
        using HttpResponseMessage answer = await SignInAsync(_host.Stranger, "ww_no-key-of-this-house", "/");
        string page = await answer.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.Contains("This key is not known", page, StringComparison.Ordinal);
        Assert.DoesNotContain("no-key-of-this-house", page, StringComparison.Ordinal);
        Assert.False(answer.Headers.TryGetValues("Set-Cookie", out IEnumerable<string>? cookies)
            && cookies.Any(cookie => cookie.StartsWith("session", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/sign-in/key")]
    [InlineData("/join")]
    [InlineData("/sign-out")]
    public async Task A_form_without_its_token_is_refused_in_the_readers_form(string path)
    {
        var fields = new Dictionary<string, string> { ["key"] = await KeyAsync(Abilities.Read) };
        using HttpResponseMessage program = await _host.Stranger.PostAsync(path, new FormUrlEncodedContent(fields));
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, program);

        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Accept", "text/html");
        using HttpResponseMessage person = await _host.Stranger.SendAsync(request);
        Assert.Equal(HttpStatusCode.BadRequest, person.StatusCode);
        Assert.Contains("Open the page again", await person.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_many_wrong_keys_have_to_wait_even_with_a_good_one_and_only_so_long()
    {
        string key = await KeyAsync(Abilities.Read);
        for (int attempt = 0; attempt < 3; attempt++)
        {
            using HttpResponseMessage wrong = await SignInAsync(_host.Stranger, "wrong", "/");
            Assert.Equal(HttpStatusCode.Unauthorized, wrong.StatusCode);
        }

        using HttpResponseMessage waits = await SignInAsync(_host.Stranger, key, "/");
        Assert.Equal(HttpStatusCode.TooManyRequests, waits.StatusCode);
        Assert.Equal(TimeSpan.FromMinutes(10), waits.Headers.RetryAfter!.Delta);
        Assert.Equal("text/html", waits.Content.Headers.ContentType!.MediaType);

        _host.Clock.Advance(TimeSpan.FromMinutes(10));
        using HttpResponseMessage entered = await SignInAsync(_host.Stranger, key, "/");
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
    }

    [Fact]
    public async Task A_sign_in_survives_a_restart_and_ends_with_its_key()
    {
        string key = await KeyAsync(Abilities.Read);
        using HttpResponseMessage entered = await SignInAsync(_host.Stranger, key, "/");
        string cookie = SessionOf(entered);
        await _host.DisposeAsync();
        _host = await StartAsync();

        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(cookie));
        await _host.Services.GetRequiredService<Keys>().RevokeAsync("person", CancellationToken.None);
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(cookie));
    }

    [Fact]
    public async Task A_sign_in_lasts_as_long_as_it_is_used_and_no_longer_than_the_settings_say()
    {
        using HttpResponseMessage entered = await SignInAsync(_host.Stranger, await KeyAsync(Abilities.Read), "/");
        string cookie = SessionOf(entered);

        _host.Clock.Advance(TimeSpan.FromDays(13.9));
        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(cookie));
        _host.Clock.Advance(TimeSpan.FromDays(13.9));
        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(cookie));
        _host.Clock.Advance(TimeSpan.FromDays(2.3));
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(cookie));
    }

    [Fact]
    public async Task A_sign_in_that_is_not_used_ends()
    {
        using HttpResponseMessage entered = await SignInAsync(_host.Stranger, await KeyAsync(Abilities.Read), "/");
        _host.Clock.Advance(TimeSpan.FromDays(14.1));
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(SessionOf(entered)));
    }

    [Fact]
    public async Task A_person_may_do_what_the_key_may_and_reads_why_not_on_a_page()
    {
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await SignInAsync(person, await KeyAsync(Abilities.Ingest), "/");
        using HttpResponseMessage page = await ReadAsync(person, "/units");

        Assert.Equal(HttpStatusCode.Forbidden, page.StatusCode);
        Assert.Contains("You may not do this", (await PageAsync(page)).Title, StringComparison.Ordinal);
        using HttpResponseMessage call = await person.GetAsync("/v1/units");
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, call);
    }

    private Task<ApiHost> StartAsync() =>
        ApiHost.StartAsync(Now, ("database", Path.Combine(_shared, "washwear.db")), ("failed_sign_ins", "3"), ("failed_sign_in_minutes", "10"));

    private async Task<string> KeyAsync(Abilities abilities) =>
        (await _host.Services.GetRequiredService<Keys>().AddAsync("person", abilities, Scope.Everything, CancellationToken.None))!;

    private async Task<HttpStatusCode> WithCookieAsync(string cookie)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/v1/units");
        request.Headers.Add("Cookie", cookie);
        using HttpResponseMessage answer = await _host.Client(null).SendAsync(request);
        return answer.StatusCode;
    }

    private static string SessionOf(HttpResponseMessage entered) =>
        entered.Headers.GetValues("Set-Cookie").Single(cookie => cookie.StartsWith("session=", StringComparison.Ordinal)).Split(';')[0];

    private static async Task<HttpResponseMessage> SignInAsync(HttpClient person, string key, string returnTo)
    {
        using HttpResponseMessage shown = await ReadAsync(person, "/sign-in?return_to=" + Uri.EscapeDataString(returnTo));
        IHtmlFormElement form = (await PageAsync(shown)).QuerySelector<IHtmlFormElement>("form[action='/sign-in/key']")!;
        form.QuerySelector<IHtmlInputElement>("input[name='key']")!.Value = key;
        using var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in/key") { Content = FieldsOf(form) };
        request.Headers.Add("Accept", "text/html");
        return await person.SendAsync(request);
    }

    private static async Task<HttpResponseMessage> ReadAsync(HttpClient person, string path)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", "text/html");
        return await person.SendAsync(request);
    }

    private static async Task<IDocument> PageAsync(HttpResponseMessage answer) =>
        new HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync());

    private static FormUrlEncodedContent FieldsOf(IHtmlFormElement form) => new(form.QuerySelectorAll<IHtmlInputElement>("input[name]")
        .Select(input => new KeyValuePair<string, string>(input.Name!, input.Value)));
}
