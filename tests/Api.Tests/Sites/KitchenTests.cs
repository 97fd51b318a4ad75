using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Sites;

/// <summary>A kitchen's own page over HTTP: Pier 4 in Vienna, trading days end at 02:00, closed on Sundays; it is Monday 2 March 2026, 13:00.</summary>
public sealed class KitchenTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        await SendAsync("w17", "2026-02-17T22:00:00+01:00", "\"ended_at\":\"2026-02-17T23:00:00+01:00\",\"grade\":\"standard\",\"outcome\":\"completed\"");
        await SendAsync("w18", "2026-02-18T22:00:00+01:00", "\"ended_at\":\"2026-02-18T23:00:00+01:00\",\"grade\":\"light\",\"outcome\":\"completed\"");
        await SendAsync("w19", "2026-02-19T22:00:00+01:00", "\"ended_at\":\"2026-02-19T23:00:00+01:00\",\"grade\":\"standard\",\"outcome\":\"completed\",\"detergent_left\":true");
        await SendAsync("w20", "2026-02-20T22:00:00+01:00", "\"ended_at\":\"2026-02-20T22:10:00+01:00\",\"grade\":\"standard\",\"outcome\":\"stopped_by_person\"");
        await SendAsync("w21", "2026-02-21T22:00:00+01:00", "\"ended_at\":\"2026-02-21T22:10:00+01:00\",\"grade\":\"standard\",\"outcome\":\"stopped_by_fault\"");
        await HeardAsync("2026-02-22T12:00:00+01:00");
        await HeardAsync("2026-02-23T12:00:00+01:00");
        await SendAsync("w24", "2026-02-25T02:30:00+01:00", "\"ended_at\":\"2026-02-25T03:30:00+01:00\",\"grade\":\"standard\",\"outcome\":\"completed\"");
        await SendAsync("w25", "2026-02-25T22:00:00+01:00", "\"grade\":\"standard\",\"outcome\":\"refused\"");
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-25T22:00:00+01:00","code":"E21"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-26T09:00:00+01:00","asked_at":"2026-02-26T09:00:00+01:00"}""");
        await HeardAsync("2026-02-26T12:00:00+01:00");
        await HeardAsync("2026-03-02T12:00:00+01:00");
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task It_says_what_to_do_by_the_kitchens_own_clock_and_whom_to_ask()
    {
        JsonElement report = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/sites/PIER-4/kitchen");
        JsonElement unit = Assert.Single(report.GetProperty("units").EnumerateArray());
        Assert.Equal("Pier 4", report.GetProperty("site_name").GetString());
        Assert.Equal("Of 1 oven: 1 cannot wash and waits for somebody.", report.GetProperty("sentence").GetString());
        Assert.Equal("Cannot wash: a technician has been asked for since Thursday.", unit.GetProperty("to_do").GetString());
        Assert.Equal("The service firm", unit.GetProperty("ask_whom").GetString());
        Assert.Equal("Wed 25 Feb at 03:30", unit.GetProperty("washed").GetString());
        Assert.Equal(7, report.GetProperty("coming_days").GetArrayLength());
    }

    [Fact]
    public async Task The_last_14_days_say_why_a_wash_did_not_count_and_by_which_cause_none_was_tried()
    {
        JsonElement report = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/sites/pier-4/kitchen");
        (string Day, string Kind, string? Why)[] days =
        [
            .. report.GetProperty("units")[0].GetProperty("days").EnumerateArray().Select(day =>
                (day.GetProperty("day").GetString()!, day.GetProperty("kind").GetString()!, day.GetProperty("why").GetString())),
        ];
        string[] kinds =
        [
            "counted", "lower_grade", "detergent_left", "stopped_by_person", "stopped_by_fault", "closed", "nobody_started", "counted", "counted",
            "locked_out", "locked_out", "silent", "closed", "locked_out",
        ];
        Assert.Equal("2026-02-17", days[0].Day);
        Assert.Equal("Light wash; the rule asks for standard", days[1].Why);
        Assert.Equal("Locked out, waiting for a technician", days[9].Why);
        Assert.Equal(kinds, days.Select(day => day.Kind));
    }

    [Fact]
    public async Task A_unit_in_order_is_to_be_washed_tonight_and_the_page_and_the_csv_say_so()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"visit","key":"v2","unit":"OVEN-1","at":"2026-02-28T09:00:00+01:00","arrived_at":"2026-02-28T09:00:00+01:00","left_at":"2026-02-28T10:00:00+01:00","outcome":"proven"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"fault_cleared","key":"c1","unit":"OVEN-1","at":"2026-02-28T10:00:00+01:00","code":"E21"}""");
        await SendAsync("w28", "2026-02-28T22:00:00+01:00", "\"ended_at\":\"2026-02-28T23:30:00+01:00\",\"grade\":\"intensive\",\"outcome\":\"completed\"");

        string csv = await _host.Admin.GetStringAsync("/v1/sites/pier-4/kitchen?format=csv");
        Assert.Contains("Wash it tonight before 02:00.", csv, StringComparison.Ordinal);
        Assert.Contains("\"Tonight before 02:00 (Tue 3 Mar), programme long\"", csv, StringComparison.Ordinal);
        string page = await _host.Admin.GetStringAsync("/sites/pier-4");
        Assert.Contains("Wash it tonight before 02:00.", page, StringComparison.Ordinal);
        Assert.Contains("/sites/pier-4", await _host.Admin.GetStringAsync("/sites?q=pier"), StringComparison.Ordinal);
        Assert.Contains("0 kitchens match", await _host.Admin.GetStringAsync("/sites?q=nowhere"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_kitchen_that_is_not_known_is_not_found_and_a_cursor_that_is_none_is_refused()
    {
        Assert.Equal(HttpStatusCode.NotFound, (await _host.Admin.GetAsync("/v1/sites/NOWHERE/kitchen")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await _host.Admin.GetAsync("/sites/NOWHERE")).StatusCode);
        Assert.Equal(HttpStatusCode.BadRequest, (await _host.Admin.GetAsync("/sites?after=%00")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await _host.Stranger.GetAsync("/v1/sites/pier-4/kitchen")).StatusCode);
    }

    private Task<JsonElement> SendAsync(string key, string at, string more) =>
        Sending.SendAsync(_host.Admin, $$"""{"type":"wash","key":"{{key}}","unit":"OVEN-1","at":"{{at}}",{{more}}}""");

    private Task<JsonElement> HeardAsync(string at) => Sending.SendAsync(_host.Admin, $$"""{"type":"heartbeat","key":"h-{{at}}","unit":"OVEN-1","at":"{{at}}"}""");
}
