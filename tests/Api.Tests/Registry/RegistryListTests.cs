using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Registry;

public sealed class RegistryListTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
        foreach (int number in Enumerable.Range(2, 6))
        {
            string path = string.Create(CultureInfo.InvariantCulture, $"/v1/units/oven-{number}");
            using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, path, Samples.Unit);
        }
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task WalksThroughAllPagesByTheirLinks()
    {
        var seen = new List<string>();
        string? address = "/v1/units?limit=3&format=json";
        while (address is not null)
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync(address);
            JsonNode page = JsonNode.Parse(await answer.Content.ReadAsStringAsync())!;
            seen.AddRange(page["items"]!.AsArray().Select(item => (string)item!["unit"]!));
            string? link = answer.Headers.TryGetValues("Link", out IEnumerable<string>? links) ? links.Single() : null;
            Assert.Equal(link is null, page["next"] is null);
            Assert.Equal(link is null, link?.EndsWith("; rel=\"next\"", StringComparison.Ordinal) != true);
            address = link?[1..link.IndexOf('>', StringComparison.Ordinal)];
            Assert.True(address is null || address.Contains("limit=3", StringComparison.Ordinal));
        }

        Assert.Equal(["OVEN-1", "oven-2", "oven-3", "oven-4", "oven-5", "oven-6", "oven-7"], seen);
    }

    [Theory]
    [InlineData("/v1/sites?format=csv", null)]
    [InlineData("/v1/sites", "text/csv")]
    [InlineData("/v1/sites", "application/json;q=0.5, text/*")]
    public async Task GivesCsv(string path, string? accept)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        if (accept is not null)
        {
            request.Headers.Add("Accept", accept);
        }

        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        Assert.Equal("text/csv; charset=utf-8; header=present", answer.Content.Headers.ContentType?.ToString());
        Assert.Equal(
            "site,operator,name,time_zone,region,stock_point,water_hardness_mg_per_l,weekdays,ends_at,closures\r\n"
            + "pier-4,harbour,Pier 4,Europe/Vienna,north,van 2,210.5,mon tue wed thu fri sat,02:00,2026-12-24/2026-12-26 2027-01-01\r\n",
            await answer.Content.ReadAsStringAsync());
    }

    [Theory]
    [InlineData("/v1/units", "application/xml", HttpStatusCode.NotAcceptable)]
    [InlineData("/v1/units?format=xml", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units?limit=0", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units?limit=1001", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units?limit=ten", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units?after=!!", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units?after=_w", "*/*", HttpStatusCode.BadRequest)]
    [InlineData("/v1/sites/nowhere", "*/*", HttpStatusCode.NotFound)]
    [InlineData("/v1/units/nobody/registration", "*/*", HttpStatusCode.NotFound)]
    [InlineData("/v1/nothing-here", "*/*", HttpStatusCode.NotFound)]
    public async Task SaysWhatIsWrong(string path, string accept, HttpStatusCode status)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", accept);
        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        await ProblemAssert.IsAsync(status, answer);
    }

    [Fact]
    public async Task TakesNoOtherMethods()
    {
        using HttpResponseMessage answer = await _host.Admin.DeleteAsync("/v1/units/OVEN-1");
        await ProblemAssert.IsAsync(HttpStatusCode.MethodNotAllowed, answer);
    }
}
