using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Html.Dom;
using Washwear.Api.Tests.Security;

namespace Washwear.Api.Tests.Accounts;

/// <summary>Every page is shown in the language that the reader has chosen, else in the browser's.</summary>
public sealed class LanguageTests : IAsyncLifetime
{
    private const string Password = "long enough for anybody";
    private ApiHost _host = null!;

    // Cookies of a test's client go by the machine's clock: it has to be before the program's.
    public async Task InitializeAsync() => _host = await ApiHost.StartAsync(new DateTimeOffset(2046, 3, 2, 12, 0, 0, TimeSpan.Zero));

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData(null, "en", "Sign in")]
    [InlineData("fr-FR, de;q=0.7, en;q=0.5", "de", "Anmelden")]
    [InlineData("de-AT", "de", "Anmelden")]
    [InlineData("en-US, de;q=0.9", "en", "Sign in")]
    public async Task Who_signs_in_reads_the_browsers_language(string? asked, string language, string heading)
    {
        IHtmlDocument page = await PageAsync(_host.Stranger, "/sign-in", asked);
        Assert.Equal(language, page.DocumentElement.GetAttribute("lang"));
        Assert.Equal(heading, page.QuerySelector("h1")!.TextContent);
        Assert.StartsWith(language == "en" ? "As of " : "Stand: ", page.QuerySelector("footer")!.TextContent.Trim(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_sign_in_says_why_in_the_language_of_the_page()
    {
        HttpClient person = _host.Client(null);
        person.DefaultRequestHeaders.Add("Accept-Language", "de-DE");
        using HttpResponseMessage refused = await Forms.SignInAsync(person, "nobody", "no such password");
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        string alert = (await Forms.PageAsync(refused)).QuerySelector("[role=alert]")!.TextContent;
        Assert.Contains("Anmeldename und Passwort passen nicht zusammen", alert, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_own_choice_goes_before_the_browser_on_every_page_and_what_the_API_says_is_marked_as_English()
    {
        using HttpResponseMessage made = await _host.Admin.PostAsJsonAsync("/v1/people/invitations", new { abilities = new[] { "read" } });
        string link = (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("link").GetString()!;
        HttpClient person = _host.Client(null);
        IHtmlDocument invitation = await PageAsync(person, new Uri(link).PathAndQuery, "de");
        Assert.Equal("Sie sind eingeladen", invitation.QuerySelector("h1")!.TextContent);
        using HttpResponseMessage joined = await Forms.JoinAsync(person, link, "ben", "Ben", Password);
        Assert.Equal(HttpStatusCode.SeeOther, joined.StatusCode);

        using HttpResponseMessage kept = await person.PutAsJsonAsync("/v1/account/preferences", new { language = "de", culture = "de-AT" });
        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        IHtmlDocument account = await PageAsync(person, "/account", "en-US");
        Assert.Equal("de", account.DocumentElement.GetAttribute("lang"));
        Assert.Equal("Ben, nur hier angemeldet.", account.QuerySelector("h1")!.TextContent);
        Assert.Contains("Fr, 2. März 2046, 12:00\u00A0UTC", account.QuerySelector("tbody")!.TextContent, StringComparison.Ordinal);
        IHtmlDocument today = await PageAsync(person, "/", "en-US");
        Assert.Equal("de", today.DocumentElement.GetAttribute("lang"));
        Assert.Equal("Was ansteht", today.QuerySelector(".nav-pages a[aria-current=page]")!.TextContent);
        IHtmlDocument missing = await PageAsync(person, "/units/NONE", "en-US");
        Assert.Equal("Hier gibt es nichts", missing.QuerySelector("h1")!.TextContent);
        Assert.Equal(("de", null), (missing.DocumentElement.GetAttribute("lang"), missing.QuerySelector("h1 + p")!.GetAttribute("lang")));
        Assert.StartsWith("Unter „NONE“ ist nichts verzeichnet", missing.QuerySelector("h1 + p")!.TextContent, StringComparison.Ordinal);
        IHtmlDocument wrong = await PageAsync(person, "/cleaning?state=none", "en-US");
        Assert.Equal((null, "en"), (wrong.QuerySelector("h1 + p")!.GetAttribute("lang"), wrong.QuerySelector("h1 + p + p")!.GetAttribute("lang")));
        IHtmlDocument nowhere = await PageAsync(person, "/nowhere", "en-US");
        Assert.Equal((null, "Hier gibt es nichts · Washwear"), (nowhere.QuerySelector("h1 + p")!.GetAttribute("lang"), nowhere.Title));
        Assert.Equal("Zu dem, was heute ansteht", missing.QuerySelectorAll("main a.button")[^1].TextContent);
    }

    private static async Task<IHtmlDocument> PageAsync(HttpClient person, string path, string? language)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", "text/html");
        if (language is not null)
        {
            request.Headers.Add("Accept-Language", language);
        }

        using HttpResponseMessage answer = await person.SendAsync(request);
        return await Forms.PageAsync(answer);
    }
}
