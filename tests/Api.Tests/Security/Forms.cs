using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace Washwear.Api.Tests.Security;

/// <summary>Reads pages and sends their forms as a browser does.</summary>
internal static class Forms
{
    /// <summary>Asks for a page.</summary>
    public static async Task<HttpResponseMessage> ReadAsync(HttpClient person, string path)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", "text/html");
        return await person.SendAsync(request);
    }

    /// <summary>The page of an answer.</summary>
    public static async Task<IHtmlDocument> PageAsync(HttpResponseMessage answer) =>
        new HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync());

    /// <summary>Asks for a page, fills a form of it in and sends it.</summary>
    /// <param name="person">Who.</param>
    /// <param name="path">Where the form is.</param>
    /// <param name="form">Selector of the form.</param>
    /// <param name="fields">Names and values; the others stay as they are.</param>
    public static async Task<HttpResponseMessage> SendAsync(HttpClient person, string path, string form, params (string Name, string Value)[] fields)
    {
        using HttpResponseMessage shown = await ReadAsync(person, path);
        IHtmlDocument page = await PageAsync(shown);
        IHtmlFormElement found = page.QuerySelector<IHtmlFormElement>(form)
            ?? throw new InvalidOperationException($"{path} ({(int)shown.StatusCode}) has no {form}: {page.Body!.TextContent}");
        return await SendAsync(person, found, fields);
    }

    /// <summary>Fills a form in and sends it.</summary>
    public static async Task<HttpResponseMessage> SendAsync(HttpClient person, IHtmlFormElement form, params (string Name, string Value)[] fields)
    {
        HashSet<string> named = [.. fields.Select(field => field.Name)];
        IEnumerable<(string, string)> rest = form.QuerySelectorAll<IHtmlInputElement>("input[name]")
            .Where(input => !named.Contains(input.Name!) && (input.Type is not ("checkbox" or "radio") || input.IsChecked))
            .Select(input => (input.Name!, input.Value));
        using var request = new HttpRequestMessage(HttpMethod.Post, form.GetAttribute("action"))
        {
            Content = new FormUrlEncodedContent(rest.Concat(fields).Select(field => KeyValuePair.Create(field.Item1, field.Item2))),
        };
        request.Headers.Add("Accept", "text/html");
        return await person.SendAsync(request);
    }

    /// <summary>Signs in with login and password.</summary>
    public static Task<HttpResponseMessage> SignInAsync(HttpClient person, string login, string password, string returnTo = "/") => SendAsync(
        person, "/sign-in?return_to=" + Uri.EscapeDataString(returnTo), "form[action='/sign-in']", ("login", login), ("password", password));

    /// <summary>Takes a link up as somebody new.</summary>
    public static Task<HttpResponseMessage> JoinAsync(HttpClient person, string link, string login, string name, string password) => SendAsync(
        person, new Uri(person.BaseAddress!, link).PathAndQuery, "form[action='/join']", ("login", login), ("name", name), ("password", password));

    /// <summary>The cookie of the session that an answer hands out.</summary>
    public static string SessionOf(HttpResponseMessage entered) =>
        entered.Headers.GetValues("Set-Cookie").Single(cookie => cookie.StartsWith("session=", StringComparison.Ordinal)).Split(';')[0];
}
