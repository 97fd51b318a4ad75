using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Dapper;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Security;

namespace Washwear.Api.Tests.Accounts;

/// <summary>How somebody likes to read shapes that reader's pages, charts and forms, and nothing else.</summary>
public sealed class PreferenceTests : IAsyncLifetime
{
    private const string Password = "long enough for anybody";
    private const string Path = "/v1/account/preferences";
    private ApiHost _host = null!;

    // Cookies of a test's client go by the machine's clock: it has to be before the program's.
    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(new DateTimeOffset(2046, 3, 2, 12, 0, 0, TimeSpan.Zero));
        await Registry.Samples.PutAllAsync(_host.Admin);
        string visit = """
            {"type":"visit","key":"v1","unit":"OVEN-1","at":"2046-02-20T13:05:00Z","arrived_at":"2046-02-20T13:05:00Z","left_at":"2046-02-20T14:05:00Z",
             "outcome":"repaired_not_proven","checks":[{"check":"turn-impeller","result":"pass","reading":65.5,"unit_of_measure":"°C"}]}
            """;
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, $"[{visit}]"), accepted: 1);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_person_chooses_by_the_form_and_reads_so_wherever_the_person_signs_in()
    {
        HttpClient desk = await JoinedAsync("ben");
        Assert.Contains("Arrived Tue 20 Feb 2046, 14:05", await TextAsync(desk, "/visits/v1"), StringComparison.Ordinal);
        using HttpResponseMessage kept = await Forms.SendAsync(
            desk, "/account", "#reading-form", ("culture", "en-US"), ("temperature", "fahrenheit"), ("role", "technician"));
        Assert.Equal("/account?done=preferences#reading", kept.Headers.Location!.ToString());
        Assert.Contains("Arrived Tue, Feb 20, 2046, 2:05 PM", await TextAsync(desk, "/visits/v1"), StringComparison.Ordinal);

        HttpClient phone = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SignInAsync(phone, "ben", Password);
        string visit = await TextAsync(phone, "/visits/v1");
        Assert.Contains("Feb 20, 2046, 2:05 PM", visit, StringComparison.Ordinal);
        Assert.Contains("149.9\u00A0°F", visit, StringComparison.Ordinal);
        IHtmlDocument account = await Forms.PageAsync(await Forms.ReadAsync(phone, "/account"));
        Assert.Equal("fahrenheit", ((IHtmlSelectElement)account.QuerySelector("select[name=temperature]")!).Value);
        Assert.Equal(string.Empty, ((IHtmlSelectElement)account.QuerySelector("select[name=volume]")!).Value);

        // The first page opens with one's own role, unless the address says another.
        Assert.Equal("/?for=technician", await ChosenRoleAsync(phone, "/"));
        Assert.Equal("/?for=all", await ChosenRoleAsync(phone, "/?for=all"));

        // Nobody else is touched.
        HttpClient other = await JoinedAsync("ann");
        Assert.Equal("/?for=all", await ChosenRoleAsync(other, "/"));
        Assert.Contains("Tue 20 Feb 2046, 14:05", await TextAsync(other, "/visits/v1"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Answers_of_the_api_are_the_same_bytes_for_every_reader()
    {
        HttpClient plain = await JoinedAsync("ann");
        HttpClient other = await JoinedAsync("ben");
        using HttpResponseMessage kept = await other.PutAsJsonAsync(Path, new
        {
            culture = "de-DE",
            language = "de",
            temperature = "fahrenheit",
            volume = "gallons",
            hardness = "german_degrees",
            clock = "12",
            time_zone = "America/New_York",
        });
        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        foreach (string path in new[] { "/v1/visits/v1", "/v1/units/OVEN-1", "/v1/cleaning/status", "/v1/today", "/v1/repairs/quality", "/v1/records", "/v1/cleaning/status?format=csv", "/v1/failures/trend" })
        {
            string expected = await plain.GetStringAsync(path);
            using var asked = new HttpRequestMessage(HttpMethod.Get, path);
            asked.Headers.Add("Accept-Language", "de-DE");
            using HttpResponseMessage answer = await other.SendAsync(asked);
            Assert.Equal(expected, await answer.Content.ReadAsStringAsync());
        }
    }

    [Fact]
    public async Task The_browsers_languages_decide_where_nobody_chose_and_the_choice_wins()
    {
        HttpClient person = await JoinedAsync("ben");
        string[] languages = ["ja, en-US;q=0.8, de;q=0.5", "de-AT", "xx", "*;q=0.1", "en-US;q=0", ";;;,,q=9", new string('a', 300)];
        string[] expected = ["Feb 20, 2046, 2:05 PM", "20. Feb. 2046, 14:05", "20 Feb 2046, 14:05", "20 Feb 2046, 14:05", "20 Feb 2046, 14:05", "20 Feb 2046, 14:05", "20 Feb 2046, 14:05"];
        foreach ((string language, string date) in languages.Zip(expected))
        {
            Assert.Contains(date, await TextAsync(person, "/visits/v1", language), StringComparison.Ordinal);
        }

        using HttpResponseMessage answer = await Forms.ReadAsync(person, "/visits/v1");
        Assert.Equal(["Accept-Language", "Cookie"], answer.Headers.Vary);
        using HttpResponseMessage kept = await person.PutAsJsonAsync(Path, new { culture = "en-GB" });
        Assert.Contains("Tue 20 Feb 2046, 14:05", await TextAsync(person, "/visits/v1", "en-US"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Whoever_signed_in_with_a_key_has_the_choice_in_a_cookie_that_holds_only_that()
    {
        HttpClient person = _host.Client(null);
        using HttpResponseMessage entered = await Forms.SendAsync(
            person, "/sign-in", "form[action='/sign-in/key']", ("key", "test-administrator-key-0123456789"));
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
        using HttpResponseMessage kept = await Forms.SendAsync(person, "/account", "#reading-form", ("culture", "en-US"), ("clock", "24"));
        string cookie = kept.Headers.GetValues("Set-Cookie").Single(one => one.StartsWith("reading=", StringComparison.Ordinal));
        Assert.Equal("culture=en-US clock=24", Uri.UnescapeDataString(cookie.Split(';')[0]["reading=".Length..]));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Tue, Feb 20, 2046, 14:05", await TextAsync(person, "/visits/v1"), StringComparison.Ordinal);
        JsonElement report = await person.GetFromJsonAsync<JsonElement>(Path);
        Assert.Equal("browser", report.GetProperty("kept_with").GetString());
        Assert.Equal("sunday", report.GetProperty("holds").GetProperty("first_day").GetString());

        using HttpResponseMessage cleared = await person.PutAsJsonAsync(Path, new { });
        Assert.Contains(cleared.Headers.GetValues("Set-Cookie"), one => one.StartsWith("reading=;", StringComparison.Ordinal));
        Assert.Contains("Tue 20 Feb 2046, 14:05", await TextAsync(person, "/visits/v1"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_chosen_is_named_and_a_programs_key_has_no_taste()
    {
        HttpClient person = await JoinedAsync("ben");
        using HttpResponseMessage refused = await person.PutAsJsonAsync(Path, new { culture = "xx-YY", volume = "buckets", time_zone = "Mars/Olympus" });
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        JsonElement problem = await refused.Content.ReadFromJsonAsync<JsonElement>();
        Assert.Equal(["culture", "time_zone", "volume"], problem.GetProperty("errors").EnumerateArray().Select(error => error.GetProperty("field").GetString()!).Order());
        using HttpResponseMessage unknown = await person.PutAsJsonAsync(Path, new { colour = "red" });
        Assert.Equal(HttpStatusCode.BadRequest, unknown.StatusCode);
        using HttpResponseMessage program = await _host.Admin.GetAsync(Path);
        Assert.Equal(HttpStatusCode.Forbidden, program.StatusCode);
        using HttpResponseMessage stranger = await _host.Stranger.GetAsync(Path);
        Assert.Equal(HttpStatusCode.Unauthorized, stranger.StatusCode);

        // A form that offers something else keeps the rest.
        using HttpResponseMessage some = await Forms.SendAsync(person, "/account", "#reading-form", ("culture", "en-US"), ("time_zone", "Mars/Olympus"));
        Assert.Equal("/account?done=some-preferences#reading", some.Headers.Location!.ToString());
        JsonElement chosen = (await person.GetFromJsonAsync<JsonElement>(Path)).GetProperty("chosen");
        Assert.Equal("en-US", chosen.GetProperty("culture").GetString());
    }

    [Fact]
    public async Task The_first_page_answers_the_questions_of_the_own_work_first_unless_the_address_says()
    {
        HttpClient person = await JoinedAsync("ben");
        using HttpResponseMessage kept = await person.PutAsJsonAsync(Path, new { role = "planner" });
        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        foreach ((string path, string shown) in new[] { ("/", "planner"), ("/?for=all", "all"), ("/?for=technician", "technician") })
        {
            IHtmlDocument page = await Forms.PageAsync(await Forms.ReadAsync(person, path));
            Assert.EndsWith("for=" + shown, page.QuerySelector(".switch a[aria-current=true]")!.GetAttribute("href"), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Erasing_a_person_erases_the_choice()
    {
        HttpClient person = await JoinedAsync("ben");
        using HttpResponseMessage kept = await person.PutAsJsonAsync(Path, new { culture = "en-US" });
        Assert.Equal(1, await CountAsync());
        using HttpResponseMessage erased = await _host.Admin.PostAsJsonAsync("/v1/people/erasures", new { names = new[] { "ben" } });
        Assert.True(erased.IsSuccessStatusCode, await erased.Content.ReadAsStringAsync());
        Assert.Equal(0, await CountAsync());
    }

    private static async Task<string?> ChosenRoleAsync(HttpClient reader, string path)
    {
        using HttpResponseMessage answer = await Forms.ReadAsync(reader, path);
        return (await Forms.PageAsync(answer)).QuerySelector(".switch a[aria-current]")!.GetAttribute("href");
    }

    private async Task<long> CountAsync()
    {
        await using System.Data.Common.DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<long>("SELECT count(*) FROM person_preference");
    }

    private async Task<HttpClient> JoinedAsync(string login)
    {
        using HttpResponseMessage made = await _host.Admin.PostAsJsonAsync("/v1/people/invitations", new { abilities = new[] { "read" } });
        string link = (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("link").GetString()!;
        HttpClient person = _host.Client(null);
        using HttpResponseMessage joined = await Forms.JoinAsync(person, link, login, login, Password);
        Assert.Equal(HttpStatusCode.SeeOther, joined.StatusCode);
        return person;
    }

    private static async Task<string> TextAsync(HttpClient person, string path, string? language = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", "text/html");
        if (language is not null)
        {
            request.Headers.TryAddWithoutValidation("Accept-Language", language);
        }

        using HttpResponseMessage answer = await person.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        IHtmlDocument page = await Forms.PageAsync(answer);
        return string.Join(' ', page.QuerySelector("main")!.Descendants<IText>().Select(text => text.Data.Trim()).Where(text => text.Length > 0));
    }
}
