using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Security;
using RegistrySamples = Washwear.Api.Tests.Registry.Samples;

namespace Washwear.Api.Tests.Search;

/// <summary>Search over HTTP in a small invented registry: one kitchen, two ovens, one fault code, two positions.</summary>
public sealed class SearchTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await RegistrySamples.PutAllAsync(_host.Admin);
        await PutAsync("/v1/sites/cafe-9", """{"operator":"harbour","name":"Café Größe Ålesund","time_zone":"Europe/Vienna"}""");
        await PutAsync("/v1/units/OVEN-2", """{"site":"cafe-9","model":"T10","serial":"SN-77 A","commissioned_on":"2023-05-01"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-25T22:00:00+01:00","code":"E21"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"heartbeat","key":"h1","unit":"OVEN-1","at":"2026-03-02T12:00:00+01:00"}""");
        await Sending.SendAsync(_host.Admin,
            """{"type":"visit","key":"Job-4711","unit":"OVEN-1","at":"2026-02-26T09:00:00+01:00","arrived_at":"2026-02-26T09:00:00+01:00","left_at":"2026-02-26T10:00:00+01:00","outcome":"waiting_part"}""");
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData("OVEN-1", "unit", "OVEN-1", "Asset tag is 'OVEN-1'")]
    [InlineData("oven 1", "unit", "OVEN-1", "Asset tag is 'OVEN-1'")]
    [InlineData("sn77a", "unit", "OVEN-2", "Serial number is 'SN-77 A'")]
    [InlineData("cafe gros", "site", "cafe-9", "Name 'Café Größe Ålesund' begins with 'cafe gros'")]
    [InlineData("GRÖSSE", "site", "cafe-9", "Name 'Café Größe Ålesund' has a word that begins with 'GRÖSSE'")]
    [InlineData("lesund", "site", "cafe-9", "Name 'Café Größe Ålesund' contains 'lesund'")]
    [InlineData("kitchens harbour", "operator", "harbour", "Name 'Harbour Kitchens (invented)' and where it stands contain each word of 'kitchens harbour'")]
    [InlineData("circulates", "fault", "E21", "Text 'No water circulates' has a word that begins with 'circulates'")]
    [InlineData("suction", "position", "suction-hose", "Code 'suction-hose' begins with 'suction'")]
    [InlineData("p1002", "part", "P/100-2", "Number is 'P/100-2'")]
    [InlineData("job-47", "visit", null, null)]
    [InlineData("Job-47", "visit", "Job-4711", "Key 'Job-4711' begins with 'Job-47'")]
    public async Task What_is_searched_for_is_found_without_case_and_accents_and_says_why(string query, string kind, string? code, string? why)
    {
        JsonElement[] hits = [.. (await FindAsync(query)).GetProperty("groups").EnumerateArray()
            .Where(group => group.GetProperty("kind").GetString() == kind).SelectMany(group => group.GetProperty("hits").EnumerateArray())];
        if (code is null)
        {
            Assert.Empty(hits);
            return;
        }

        Assert.Equal((code, why), (hits[0].GetProperty("code").GetString(), hits[0].GetProperty("why").GetString()));
    }

    [Theory]
    [InlineData("OVEN-1", "Locked out")]
    [InlineData("pier-4", "1 oven: 1 locked out")]
    [InlineData("E21", "Raised at 1 unit now; locks out washing")]
    [InlineData("harbour kitchens", "2 kitchens; 2 ovens: 1 locked out, 1 silent")]
    [InlineData("P/100-2", "Fits the wash pump")]
    [InlineData("Job-4711", "Waiting part, 26 Feb 2026")]
    public async Task Each_hit_says_how_it_stands(string query, string state) =>
        Assert.Equal(state, (await FindAsync(query)).GetProperty("groups")[0].GetProperty("hits")[0].GetProperty("state").GetString());

    [Theory]
    [InlineData("oven-1", "/units/OVEN-1")]
    [InlineData("S/1", "/units/OVEN-1")]
    [InlineData("pier 4", "/sites/pier-4")]
    [InlineData("e21", "/failures/records?code=E21")]
    [InlineData("Job-4711", "/visits/Job-4711?source=admin")]
    public async Task The_one_thing_that_is_meant_exactly_is_gone_to_at_once(string query, string address)
    {
        using HttpResponseMessage answer = await Forms.ReadAsync(_host.Admin, "/search?q=" + Uri.EscapeDataString(query));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(address, answer.Headers.Location!.OriginalString, ignoreCase: true);
        Assert.Equal(address, (await FindAsync(query)).GetProperty("goes_to").GetString(), ignoreCase: true);
    }

    [Fact]
    public async Task A_code_that_two_things_have_leads_to_none_of_them_but_to_the_page_that_shows_both()
    {
        await PutAsync("/v1/sites/OVEN-1", """{"operator":"harbour","name":"Named like an oven","time_zone":"Europe/Vienna"}""");
        using HttpResponseMessage answer = await Forms.ReadAsync(_host.Admin, "/search?q=oven-1");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(["Units", "Kitchens"], (await Forms.PageAsync(answer)).QuerySelectorAll("h2").Select(heading => heading.FirstChild!.TextContent.Trim()));
    }

    [Fact]
    public async Task Where_nothing_matches_what_is_spelled_most_alike_is_offered_and_what_can_be_found_is_said()
    {
        JsonElement found = await FindAsync("OVNE-2");
        Assert.Equal(0, found.GetProperty("total").GetInt32());
        Assert.Equal("OVEN-2", found.GetProperty("nearest")[0].GetProperty("code").GetString());
        Assert.Equal("cafe-9", (await FindAsync("alesnud")).GetProperty("nearest")[0].GetProperty("code").GetString());
        using HttpResponseMessage page = await Forms.ReadAsync(_host.Admin, "/search?q=xyzzy");
        string text = (await Forms.PageAsync(page)).Body!.TextContent;
        Assert.Contains("Nothing matches 'xyzzy'.", text, StringComparison.Ordinal);
        Assert.Contains("by asset tag or serial number", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("?q=", "q")]
    [InlineData("?q=oven&limit=51", "limit")]
    [InlineData("?q=oven&kind=pan", "kind")]
    public async Task What_cannot_be_searched_for_is_refused_by_its_field(string query, string field)
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync("/v1/search" + query);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(field, (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("errors")[0].GetProperty("field").GetString());
    }

    [Fact]
    public async Task A_hundred_characters_are_searched_for_and_one_more_is_refused_and_wildcards_are_letters()
    {
        using HttpResponseMessage longest = await _host.Admin.GetAsync("/v1/search?q=" + new string('x', 100));
        using HttpResponseMessage longer = await _host.Admin.GetAsync("/v1/search?q=" + new string('x', 101));
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.BadRequest), (longest.StatusCode, longer.StatusCode));
        Assert.All(["%", "_", "*", "' OR 1=1 --", "\u0301", "---"], query => Assert.Equal(0, FindAsync(query).GetAwaiter().GetResult().GetProperty("total").GetInt32()));
    }

    [Fact]
    public async Task What_is_changed_in_the_registry_is_found_at_once()
    {
        Assert.Equal(0, (await FindAsync("lighthouse")).GetProperty("total").GetInt32());
        await PutAsync("/v1/sites/lh", """{"operator":"harbour","name":"Lighthouse","time_zone":"Europe/Vienna"}""");
        Assert.Equal(1, (await FindAsync("lighthouse")).GetProperty("total").GetInt32());
    }

    private async Task<JsonElement> FindAsync(string query) =>
        await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/search?q=" + Uri.EscapeDataString(query));

    private async Task PutAsync(string path, string body)
    {
        using HttpResponseMessage answer = await RegistrySamples.PutAsync(_host.Admin, path, body);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }
}
