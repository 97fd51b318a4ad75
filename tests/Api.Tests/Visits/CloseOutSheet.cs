using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace Washwear.Api.Tests.Visits;

/// <summary>A close-out as a browser holds it: the fields of the form, what was entered, files, and how it is sent.</summary>
public sealed class CloseOutSheet
{
    private readonly HttpClient _client;
    private readonly List<(string Name, string Value)> _fields;
    private readonly List<(string FileName, byte[] Bytes)> _files = [];

    private CloseOutSheet(HttpClient client, IHtmlDocument document)
    {
        _client = client;
        Document = document;
        _fields = [.. FieldsOf(document.QuerySelector<IHtmlFormElement>("form#close-out")!)];
    }

    public IHtmlDocument Document { get; }

    public string Key => this["key"]!;

    public string? this[string name] => _fields.Where(field => field.Name == name).Select(field => field.Value).FirstOrDefault();

    public static async Task<CloseOutSheet> OpenAsync(HttpClient client, string query = "unit=OVEN-1")
    {
        using HttpResponseMessage answer = await ReadAsync(client, "/visits/new?" + query);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return new CloseOutSheet(client, await ParseAsync(answer));
    }

    public static async Task<HttpResponseMessage> ReadAsync(HttpClient client, string path)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", "text/html");
        return await client.SendAsync(request);
    }

    public static async Task<IHtmlDocument> ParseAsync(HttpResponseMessage answer) =>
        new HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync());

    /// <summary>Enters values; null takes one out.</summary>
    public CloseOutSheet With(params (string Name, string? Value)[] entered)
    {
        foreach ((string name, string? value) in entered)
        {
            _fields.RemoveAll(field => field.Name == name);
            if (value is not null)
            {
                _fields.Add((name, value));
            }
        }

        return this;
    }

    /// <summary>Marks every proof that the form asks for.</summary>
    public CloseOutSheet WithProofs(string result = "pass") => With(
        [.. Document.QuerySelectorAll<IHtmlInputElement>("input[name^='proof/']").Select(input => input.Name!).Distinct().Select(name => (name, (string?)result))]);

    public CloseOutSheet WithFile(string fileName, byte[] bytes)
    {
        _files.Add((fileName, bytes));
        return this;
    }

    /// <summary>Sends the form as a browser without scripts does.</summary>
    public Task<HttpResponseMessage> SubmitAsync() => PostAsync("text/html");

    /// <summary>Sends the form as the page's script does, and reads the answer.</summary>
    public async Task<JsonElement> SendAsync(HttpStatusCode expected = HttpStatusCode.OK)
    {
        using HttpResponseMessage answer = await PostAsync("application/json");
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == expected, answer.StatusCode + ": " + text);
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Sends the form and expects one problem.</summary>
    public async Task<JsonElement> RefusedAsync(string field, string rule)
    {
        JsonElement answer = await SendAsync(HttpStatusCode.UnprocessableEntity);
        Assert.Equal("refused", answer.GetProperty("outcome").GetString());
        JsonElement problem = Assert.Single(answer.GetProperty("problems").EnumerateArray());
        Assert.True(problem.GetProperty("field").GetString() == field && problem.GetProperty("rule").GetString() == rule, answer.ToString());
        Assert.NotEmpty(problem.GetProperty("detail").GetString()!);
        Assert.NotEmpty(problem.GetProperty("mend").GetString()!);
        return problem;
    }

    /// <summary>The visit that was saved, as the API tells it.</summary>
    public Task<JsonElement> VisitAsync() => _client.GetFromJsonAsync<JsonElement>("/v1/visits/" + Key);

    private async Task<HttpResponseMessage> PostAsync(string accept)
    {
        using var content = new MultipartFormDataContent();
        foreach ((string name, string value) in _fields)
        {
            content.Add(new StringContent(value), '"' + name + '"');
        }

        foreach ((string fileName, byte[] bytes) in _files)
        {
            var file = new ByteArrayContent(bytes);
            file.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
            content.Add(file, "\"photo\"", '"' + fileName + '"');
        }

        using var request = new HttpRequestMessage(HttpMethod.Post, "/visits/new") { Content = content };
        request.Headers.Add("Accept", accept);
        return await _client.SendAsync(request);
    }

    private static IEnumerable<(string Name, string Value)> FieldsOf(IHtmlFormElement form)
    {
        foreach (IElement element in form.QuerySelectorAll("input[name], select[name], textarea[name]"))
        {
            switch (element)
            {
                case IHtmlInputElement { Type: "radio" or "checkbox", IsChecked: false } or IHtmlInputElement { Type: "file" }:
                    break;
                case IHtmlInputElement input:
                    yield return (input.Name!, input.Value);
                    break;
                case IHtmlSelectElement select:
                    yield return (select.Name!, select.Value ?? string.Empty);
                    break;
                case IHtmlTextAreaElement area:
                    yield return (area.Name!, area.Value);
                    break;
                default:
                    throw new InvalidOperationException(element.OuterHtml);
            }
        }
    }
}
