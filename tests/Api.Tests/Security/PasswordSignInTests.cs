using System.Diagnostics;
using System.Net;
using AngleSharp.Html.Dom;
using Dapper;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Security;

/// <summary>How a person gets in with login and password, what guessing comes to, and what the server keeps of it.</summary>
public sealed class PasswordSignInTests : IAsyncLifetime
{
    private const string Password = "long enough for anybody";

    // Far ahead of the machine's clock: the client's jar keeps only cookies that have not expired.
    private static readonly DateTimeOffset Now = new(2046, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private ApiHost _host = null!;

    private People People => _host.Services.GetRequiredService<People>();

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(Now, ("failed_sign_ins", "100"), ("failed_sign_ins_of_person", "3"), ("failed_sign_in_minutes", "10"));
        await AddAsync("Anna@Example.org", Abilities.Read);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_person_signs_in_whatever_the_case_of_the_login_and_is_named_on_the_page()
    {
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(person, " anna@example.ORG ", Password, "/units?q=OVEN");
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        Assert.Equal("/units?q=OVEN", entered.Headers.Location!.OriginalString);

        using HttpResponseMessage page = await Forms.ReadAsync(person, "/units");
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.Equal("Anna@Example.org", (await Forms.PageAsync(page)).Body!.GetAttribute("data-reader"));
    }

    [Theory]
    [InlineData("//elsewhere.example/x")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("https://elsewhere.example")]
    public async Task Signing_in_never_leads_to_another_site(string returnTo)
    {
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password, returnTo);
        Assert.Equal("/", entered.Headers.Location!.OriginalString);
    }

    [Fact]
    public async Task A_login_that_nobody_has_is_answered_word_by_word_like_a_wrong_password_and_waits_alike()
    {
        await AddAsync("gone", Abilities.Read);
        Assert.True(await People.DisableAsync("gone", CancellationToken.None));
        await People.AddAsync(new NewPerson("fresh", "Fresh", Abilities.Read, Scope.Everything), CancellationToken.None);
        var answers = new List<string>();
        foreach (string login in new[] { "anna@example.org", "nobody", "gone", "fresh" })
        {
            var told = new List<string>();
            for (int attempt = 0; attempt < 4; attempt++)
            {
                using HttpResponseMessage answer = await Forms.SignInAsync(_host.Client(null), login, login == "gone" ? Password : "no password of this house");
                IHtmlDocument page = await Forms.PageAsync(answer);
                Assert.False(answer.Headers.TryGetValues("Set-Cookie", out IEnumerable<string>? cookies)
                    && cookies.Any(cookie => cookie.StartsWith("session", StringComparison.Ordinal)));
                told.Add($"{(int)answer.StatusCode} {answer.Headers.RetryAfter} {page.QuerySelector("main")!.TextContent}");
            }

            answers.Add(string.Join('\n', told));
        }

        Assert.StartsWith("401", answers[0], StringComparison.Ordinal);
        Assert.Contains("429 600", answers[0], StringComparison.Ordinal);
        Assert.All(answers, answer => Assert.Equal(WithoutTokens(answers[0]), WithoutTokens(answer)));
    }

    // A hash of 210,000 rounds takes a thousand times as long as all else that a try needs; a factor of ten is lost on no machine.
    [Fact]
    public void A_password_is_hashed_for_a_login_that_nobody_has_with_as_many_rounds()
    {
        var passwords = new Passwords();
        string hash = passwords.Hash(Password);
        Assert.Equal(Convert.FromBase64String(hash)[..13], Convert.FromBase64String(passwords.HashOfNobody)[..13]);
        TimeSpan known = Shortest(() => passwords.Check(hash, "wrong"));
        TimeSpan unknown = Shortest(() => passwords.Check(null, "wrong"));

        Assert.True(unknown > known / 10, $"{unknown} against {known}");
        Assert.Equal(PasswordVerificationResult.Failed, passwords.Check(null, string.Empty));
        Assert.Equal(PasswordVerificationResult.Success, passwords.Check(hash, Password));
    }

    [Fact]
    public async Task Too_many_wrong_passwords_make_the_login_wait_wherever_they_come_from_and_only_so_long()
    {
        for (int attempt = 0; attempt < 3; attempt++)
        {
            using HttpResponseMessage wrong = await Forms.SignInAsync(_host.Client(null), "anna@example.org", "wrong");
            Assert.Equal(HttpStatusCode.Unauthorized, wrong.StatusCode);
        }

        using HttpResponseMessage waits = await Forms.SignInAsync(_host.Client(null), "ANNA@example.org", Password);
        Assert.Equal(HttpStatusCode.TooManyRequests, waits.StatusCode);
        Assert.Equal(TimeSpan.FromMinutes(10), waits.Headers.RetryAfter!.Delta);

        _host.Clock.Advance(TimeSpan.FromMinutes(10));
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
    }

    [Fact]
    public async Task Guesses_at_the_same_time_get_no_further_than_guesses_in_turn()
    {
        HttpStatusCode[] answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(async number =>
        {
            using HttpResponseMessage answer = await Forms.SignInAsync(_host.Client(null), "anna@example.org", "wrong" + number);
            return answer.StatusCode;
        }));

        Assert.Equal(3, answers.Count(status => status == HttpStatusCode.Unauthorized));
        Assert.Equal(9, answers.Count(status => status == HttpStatusCode.TooManyRequests));
    }

    [Fact]
    public async Task Signing_in_changes_the_session_and_signing_out_ends_it_on_the_server()
    {
        HttpClient person = _host.Client(null);
        using HttpResponseMessage first = await Forms.SignInAsync(person, "anna@example.org", Password);
        string before = Forms.SessionOf(first);
        using HttpResponseMessage second = await Forms.SignInAsync(person, "anna@example.org", Password);
        string after = Forms.SessionOf(second);
        Assert.NotEqual(before, after);
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(before));
        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(after));
        Assert.Equal(1, await CountAsync("sign_in_session"));

        using HttpResponseMessage left = await Forms.SendAsync(person, "/units", "form.sign-out");
        Assert.Equal("/sign-in", left.Headers.Location!.OriginalString);
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(after));
        Assert.Equal(0, await CountAsync("sign_in_session"));
    }

    [Fact]
    public async Task A_disabled_person_is_out_at_the_next_request_and_a_change_of_abilities_holds_there()
    {
        Person anna = (await People.FindAsync("anna@example.org", CancellationToken.None))!;
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password);
        string cookie = Forms.SessionOf(entered);
        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(cookie));

        await People.ChangeAsync(anna.Id, Abilities.All, person => person with { Abilities = Abilities.Ingest }, CancellationToken.None);
        Assert.Equal(HttpStatusCode.Forbidden, await WithCookieAsync(cookie));
        await People.ChangeAsync(anna.Id, Abilities.All, person => person with { Abilities = Abilities.Read }, CancellationToken.None);
        Assert.Equal(HttpStatusCode.OK, await WithCookieAsync(cookie));
        await People.ChangeAsync(anna.Id, Abilities.All, person => person with { DisabledAt = Now }, CancellationToken.None);
        Assert.Equal(HttpStatusCode.Unauthorized, await WithCookieAsync(cookie));
        Assert.Equal(0, await CountAsync("sign_in_session"));
    }

    [Fact]
    public async Task A_password_hashed_with_fewer_rounds_is_hashed_anew_at_the_next_sign_in()
    {
        string old = new PasswordHasher<object>(Options.Create(new PasswordHasherOptions { IterationCount = 1000 })).HashPassword(new object(), Password);
        await ExecuteAsync("UPDATE person SET password = @old", new { old });
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);

        string kept = (await QueryAsync<string>("SELECT password FROM person")).Single();
        Assert.NotEqual(old, kept);
        Assert.Equal(PasswordVerificationResult.Success, new Passwords().Check(kept, Password));
    }

    [Fact]
    public async Task No_file_beside_the_program_holds_a_password_or_what_a_cookie_or_a_link_carries()
    {
        PersonLinks links = _host.Services.GetRequiredService<PersonLinks>();
        Person anna = (await People.FindAsync("anna@example.org", CancellationToken.None))!;
        (PersonLink _, string token) = await links.ResetAsync(anna, "test", Abilities.All, CancellationToken.None);
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password);
        byte[] all = [.. Directory.EnumerateFiles(_host.Folder, "*", SearchOption.AllDirectories).SelectMany(Bytes)];

        Assert.True(Holds(all, "anna@example.org"));
        Assert.False(Holds(all, Password));
        Assert.False(Holds(all, token));
        Assert.False(Holds(all, Forms.SessionOf(entered)["session=".Length..]));
    }

    [Fact]
    public async Task When_a_session_was_last_seen_is_written_after_minutes_and_what_is_over_is_deleted()
    {
        Sessions sessions = _host.Services.GetRequiredService<Sessions>();
        using HttpResponseMessage entered = await Forms.SignInAsync(_host.Client(null), "anna@example.org", Password);
        string cookie = Forms.SessionOf(entered);
        _host.Clock.Advance(TimeSpan.FromMinutes(4));
        await WithCookieAsync(cookie);
        await sessions.TidyAsync(CancellationToken.None);
        Assert.Equal(Now.ToUnixTimeMilliseconds(), (await QueryAsync<long>("SELECT seen_ms FROM sign_in_session")).Single());

        _host.Clock.Advance(TimeSpan.FromMinutes(4));
        await WithCookieAsync(cookie);
        await sessions.TidyAsync(CancellationToken.None);
        Assert.Equal(Now.AddMinutes(8).ToUnixTimeMilliseconds(), (await QueryAsync<long>("SELECT seen_ms FROM sign_in_session")).Single());

        _host.Clock.Advance(TimeSpan.FromDays(15));
        await sessions.TidyAsync(CancellationToken.None);
        Assert.Equal(0, await CountAsync("sign_in_session"));
    }

    [Fact]
    public async Task A_cookie_by_https_is_bound_to_the_host_and_never_sent_in_the_clear()
    {
        await using ApiHost behind = await ApiHost.StartAsync(Now, ("trusted_proxies", "127.0.0.1"), ("public_url", "https://fleet.example"));
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        request.Headers.Add("X-Forwarded-Proto", "https");
        using HttpResponseMessage form = await behind.Client(null).SendAsync(request);
        string formCookie = form.Headers.GetValues("Set-Cookie").Single();
        Bound(formCookie, "__Host-form=");

        string link = (await behind.Services.GetRequiredService<Keys>().AddSignInLinkAsync(Keys.FirstName, CancellationToken.None))!;
        using var enter = new HttpRequestMessage(HttpMethod.Get, link);
        enter.Headers.Add("X-Forwarded-Proto", "https");
        using HttpResponseMessage entered = await behind.Client(null).SendAsync(enter);
        Bound(entered.Headers.GetValues("Set-Cookie").Single(cookie => cookie.Contains("session", StringComparison.Ordinal)), "__Host-session=");
    }

    private static void Bound(string cookie, string name)
    {
        Assert.StartsWith(name, cookie, StringComparison.Ordinal);
        string[] parts = [.. cookie.Split(';').Skip(1).Select(part => part.Trim().ToLowerInvariant())];
        Assert.Contains("secure", parts);
        Assert.Contains("httponly", parts);
        Assert.Contains("path=/", parts);
        Assert.Contains("samesite=lax", parts);
        Assert.DoesNotContain(parts, part => part.StartsWith("domain", StringComparison.Ordinal));
    }

    private static byte[] Bytes(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var memory = new MemoryStream();
        stream.CopyTo(memory);
        return memory.ToArray();
    }

    private static bool Holds(byte[] all, string text) => all.AsSpan().IndexOf(System.Text.Encoding.UTF8.GetBytes(text)) >= 0;

    private static string WithoutTokens(string text) => System.Text.RegularExpressions.Regex.Replace(text, "trace_id [0-9a-f]+", string.Empty);

    private static TimeSpan Shortest(Action work) => Enumerable.Range(0, 5).Select(_ =>
    {
        long before = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(before);
    }).Min();

    private async Task AddAsync(string login, Abilities abilities)
    {
        Person person = await People.AddAsync(new NewPerson(login, "Anna", abilities, Scope.Everything), CancellationToken.None);
        await People.SetPasswordAsync(person.Id, Password, null, CancellationToken.None);
    }

    private async Task<HttpStatusCode> WithCookieAsync(string cookie)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/v1/units");
        request.Headers.Add("Cookie", cookie);
        using HttpResponseMessage answer = await _host.Client(null).SendAsync(request);
        return answer.StatusCode;
    }

    private async Task<long> CountAsync(string table) => (await QueryAsync<long>($"SELECT count(*) FROM {table}")).Single();

    private async Task<IReadOnlyList<T>> QueryAsync<T>(string sql)
    {
        await using System.Data.Common.DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        return [.. await connection.QueryAsync<T>(sql)];
    }

    private Task<int> ExecuteAsync(string sql, object values) =>
        _host.Database.WriteAsync(session => session.Connection.ExecuteAsync(session.Command(sql, values, CancellationToken.None)), CancellationToken.None);
}
