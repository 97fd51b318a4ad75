using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using RegistrySamples = Washwear.Api.Tests.Registry.Samples;

namespace Washwear.Api.Tests.Today;

/// <summary>What needs whom over HTTP: one oven, locked out since Wednesday; it is Monday 2 March 2026.</summary>
public sealed class TodayTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await RegistrySamples.PutAllAsync(_host.Admin);
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-25T22:00:00+01:00","code":"E21"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"heartbeat","key":"h1","unit":"OVEN-1","at":"2026-03-02T12:00:00+01:00"}""");
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_lockout_needs_the_kitchen_until_a_visit_is_asked_for_and_a_technician_from_then_on()
    {
        JsonElement before = Assert.Single(await LinesAsync("all"));
        Assert.Equal(("operator", "/sites/pier-4"), (Word(before, "role"), Word(before, "href").ToLowerInvariant()));
        await Sending.SendAsync(_host.Admin, """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-26T09:00:00+01:00","asked_at":"2026-02-26T09:00:00+01:00"}""");
        JsonElement after = Assert.Single(await LinesAsync("technician"));
        Assert.Equal("OVEN-1 at Pier 4 cannot wash and waits for a technician.", Word(after, "sentence"));
        Assert.Equal("/units/OVEN-1/visit-sheet", Word(after, "href"));
        Assert.Equal(new DateTimeOffset(2026, 2, 25, 21, 0, 0, TimeSpan.Zero), after.GetProperty("since").GetDateTimeOffset());
        Assert.Empty(await LinesAsync("operator"));
        Assert.Equal("Nothing needs the operator of kitchens today.", Word(await ReportAsync("operator"), "sentence"));
    }

    [Fact]
    public async Task A_lockout_that_waits_for_an_approval_needs_the_service_manager_and_once_it_is_granted_a_technician()
    {
        await Sending.SendAsync(_host.Admin,
            """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-26T09:00:00+01:00","arrived_at":"2026-02-26T09:00:00+01:00","left_at":"2026-02-26T10:00:00+01:00","outcome":"waiting_approval"}""");
        await Sending.SendAsync(_host.Admin,
            """{"type":"approval","key":"a1","unit":"OVEN-1","asked_at":"2026-02-26T10:00:00+01:00","what":"Wash pump"}""");
        JsonElement waiting = Assert.Single(await LinesAsync("service"));
        Assert.Equal(("1 repair waits for an approval.", "/approvals"), (Word(waiting, "sentence"), Word(waiting, "href")));
        Assert.Empty(await LinesAsync("technician"));
        await Sending.SendAsync(_host.Admin,
            """{"type":"approval","key":"a2","replaces":"a1","unit":"OVEN-1","asked_at":"2026-02-26T10:00:00+01:00","what":"Wash pump","decision":"granted","decided_at":"2026-02-28T10:00:00+01:00","decided_by":"Area manager"}""");
        JsonElement[] lines = await LinesAsync("technician");
        Assert.Contains(lines, line => Word(line, "sentence") == "The repair of OVEN-1 at Pier 4 is approved and not done.");
        Assert.Empty(await LinesAsync("service"));
    }

    [Fact]
    public async Task Rows_refused_at_the_door_are_a_line_of_the_service_manager()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"wash","key":"w1","unit":"NOBODY","at":"2026-02-26T10:00:00+01:00","grade":"standard","outcome":"completed"}""");
        Assert.Equal("1 row was refused at the door.", Word(Assert.Single(await LinesAsync("service")), "sentence"));
    }

    [Fact]
    public async Task A_role_that_is_none_is_refused_and_the_page_takes_the_same_words()
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync("/v1/today?for=cook");
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        foreach (string word in new[] { "technician", "service", "operator", "planner", "all" })
        {
            using HttpResponseMessage page = await Security.Forms.ReadAsync(_host.Admin, "/?for=" + word);
            Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        }
    }

    private static string Word(JsonElement thing, string name) => thing.GetProperty(name).GetString()!;

    private Task<JsonElement> ReportAsync(string role) => _host.Admin.GetFromJsonAsync<JsonElement>("/v1/today?for=" + role);

    private async Task<JsonElement[]> LinesAsync(string role) => [.. (await ReportAsync(role)).GetProperty("lines").EnumerateArray()];
}
