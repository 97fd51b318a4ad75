using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Alerts;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Alerts;

/// <summary>Alerts over HTTP: one life a unit, kind and rule.</summary>
public sealed partial class AlertTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        await SendAsync("""[{"type":"wash","key":"w1","unit":"OVEN-1","at":"2026-02-27T22:00:00+01:00","ended_at":"2026-02-27T23:30:00+01:00","grade":"standard","outcome":"completed"}]""");
        await HeartbeatAsync();
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_unit_overdue_past_the_set_time_opens_one_alert_however_often_it_is_checked()
    {
        await CheckAsync();
        _host.Clock.Advance(TimeSpan.FromMinutes(5));
        await CheckAsync();

        JsonElement report = await AlertsAsync("?state=open");
        JsonElement alert = Assert.Single(report.GetProperty("rows").EnumerateArray());
        Assert.Equal("overdue", Word(alert, "kind"));
        Assert.Equal("OVEN-1", Word(alert, "unit"));
        Assert.Equal("daily", Word(alert, "rule"));
        Assert.Equal(ApiHost.StartsAt, alert.GetProperty("opened_at").GetDateTimeOffset());
        Assert.Equal("1 alert waits to be seen.", Word(report, "sentence"));
    }

    [Fact]
    public async Task A_unit_overdue_for_less_than_the_set_time_opens_none()
    {
        await using ApiHost patient = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"), ("alert_overdue_hours", "1000"));
        await Samples.PutAllAsync(patient.Admin);
        await Sending.SendAsync(patient.Admin, """{"type":"wash","key":"w1","unit":"OVEN-1","at":"2026-02-27T22:00:00+01:00","ended_at":"2026-02-27T23:30:00+01:00","grade":"standard","outcome":"completed"}""");
        await Sending.SendAsync(patient.Admin, $$"""{"type":"heartbeat","key":"h","unit":"OVEN-1","at":"{{ApiHost.StartsAt:O}}"}""");
        await patient.Services.GetRequiredService<AlertChecks>().RunAsync(CancellationToken.None);

        JsonElement report = await patient.Admin.GetFromJsonAsync<JsonElement>("/v1/alerts");
        Assert.Equal(0, report.GetProperty("rows").GetArrayLength());
        Assert.Equal("No alert is open.", Word(report, "sentence"));
    }

    [Fact]
    public async Task It_closes_by_itself_when_the_unit_is_washed_and_says_when_and_why()
    {
        await CheckAsync();
        await SendAsync($$"""{"type":"wash","key":"w2","unit":"OVEN-1","at":"{{_host.Clock.Now:O}}","ended_at":"{{_host.Clock.Now.AddHours(1):O}}","grade":"standard","outcome":"completed"}""");
        _host.Clock.Advance(TimeSpan.FromHours(2));
        await CheckAsync();

        Assert.Equal(0, (await AlertsAsync("?state=open")).GetProperty("rows").GetArrayLength());
        JsonElement closed = Assert.Single((await AlertsAsync("?state=closed")).GetProperty("rows").EnumerateArray());
        Assert.Equal(_host.Clock.Now, closed.GetProperty("closed_at").GetDateTimeOffset());
        Assert.NotEmpty(Word(closed, "closed_because"));
    }

    [Fact]
    public async Task A_state_that_is_hidden_by_another_has_not_ended_so_nobody_is_told_twice()
    {
        await CheckAsync();
        _host.Clock.Advance(TimeSpan.FromHours(60));
        await CheckAsync();
        Assert.Equal(["overdue", "silent"], await KindsAsync("?state=open"));

        await HeartbeatAsync();
        await CheckAsync();
        Assert.Equal(["overdue"], await KindsAsync("?state=open"));
        Assert.Equal(["silent"], await KindsAsync("?state=closed"));
    }

    [Fact]
    public async Task A_lockout_opens_and_closes_with_its_fault()
    {
        await SendAsync($$"""{"type":"fault","key":"f1","unit":"OVEN-1","at":"{{_host.Clock.Now:O}}","code":"E21"}""");
        await CheckAsync();
        Assert.Contains("locked_out", await KindsAsync("?state=open"));

        _host.Clock.Advance(TimeSpan.FromHours(1));
        await SendAsync($$"""{"type":"fault_cleared","key":"f2","unit":"OVEN-1","at":"{{_host.Clock.Now:O}}","code":"E21"}""");
        await CheckAsync();
        Assert.DoesNotContain("locked_out", await KindsAsync("?state=open"));
        Assert.Equal(["locked_out"], await KindsAsync("?state=closed"));
    }

    [Fact]
    public async Task Who_saw_it_first_stays_on_record()
    {
        await CheckAsync();
        long id = await OnlyIdAsync();
        JsonElement first = await SeeAsync(_host.Admin, id);
        HttpClient other = await _host.ClientAsync(Abilities.Work, "night desk");
        _host.Clock.Advance(TimeSpan.FromHours(1));
        JsonElement second = await SeeAsync(other, id);

        Assert.Equal("seen", Word(first, "state"));
        Assert.Equal(first.GetRawText(), second.GetRawText());
        await CheckAsync();
        Assert.Equal(["overdue"], await KindsAsync("?state=seen"));
        Assert.Empty(await KindsAsync("?state=open"));
    }

    [Fact]
    public async Task Only_who_may_work_marks_and_what_is_not_there_is_not_found()
    {
        await CheckAsync();
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage refused = await reader.PostAsync($"/v1/alerts/{await OnlyIdAsync()}/seen", null);
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, refused);
        using HttpResponseMessage missing = await _host.Admin.PostAsync("/v1/alerts/999/seen", null);
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, missing);
        Assert.DoesNotContain("<button type=\"submit\">Seen", await reader.GetStringAsync("/alerts"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_marks_with_one_click_and_refuses_a_form_without_its_token()
    {
        await CheckAsync();
        long id = await OnlyIdAsync();
        using HttpResponseMessage bare = await _host.Admin.PostAsync($"/alerts/{id}/seen", new FormUrlEncodedContent([]));
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, bare);

        string page = await _host.Admin.GetStringAsync("/alerts");
        string token = Token().Matches(page)[^1].Groups[1].Value;
        using HttpResponseMessage done = await _host.Admin.PostAsync(
            $"/alerts/{id}/seen", new FormUrlEncodedContent([new("__RequestVerificationToken", WebUtility.HtmlDecode(token))]));
        Assert.Equal(HttpStatusCode.SeeOther, done.StatusCode);
        Assert.Equal("/alerts", done.Headers.Location?.ToString());
        Assert.Equal(["overdue"], await KindsAsync("?state=seen"));
    }

    [Fact]
    public async Task The_digest_tells_what_opened_what_closed_and_what_is_open_longest()
    {
        await CheckAsync();
        _host.Clock.Advance(TimeSpan.FromHours(60));
        await CheckAsync();

        JsonElement digest = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/digest");
        Assert.Equal("In the last 24 hours 1 alert opened and 0 closed; 2 open now.", Word(digest, "sentence"));
        Assert.Equal("silent", Word(Assert.Single(digest.GetProperty("opened").EnumerateArray()), "kind"));
        Assert.Equal(["overdue", "silent"], digest.GetProperty("open_longest").EnumerateArray().Select(alert => Word(alert, "kind")));
        Assert.Contains("2 open now", await _host.Admin.GetStringAsync("/digest"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lists_come_in_pages_and_as_csv_and_a_made_up_state_or_cursor_is_refused()
    {
        await CheckAsync();
        _host.Clock.Advance(TimeSpan.FromHours(60));
        await CheckAsync();
        JsonElement first = await AlertsAsync("?limit=1");
        JsonElement second = await AlertsAsync("?limit=1&after=" + Word(first, "next"));
        Assert.Equal("silent", Word(first.GetProperty("rows")[0], "kind"));
        Assert.Equal("overdue", Word(second.GetProperty("rows")[0], "kind"));
        Assert.Equal(JsonValueKind.Null, second.GetProperty("next").ValueKind);

        string[] csv = (await _host.Admin.GetStringAsync("/v1/alerts?format=csv")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("id,kind,state,unit", csv[0], StringComparison.Ordinal);
        Assert.Equal(3, csv.Length);
        using HttpResponseMessage state = await _host.Admin.GetAsync("/v1/alerts?state=asleep");
        await ProblemAssert.ListsAsync(state, "state choice");
        using HttpResponseMessage cursor = await _host.Admin.GetAsync("/v1/alerts?after=YWJj");
        await ProblemAssert.ListsAsync(cursor, "after cursor");
    }

    private async Task CheckAsync() => await _host.Services.GetRequiredService<AlertChecks>().RunAsync(CancellationToken.None);

    private Task HeartbeatAsync() =>
        SendAsync($$"""{"type":"heartbeat","key":"h-{{_host.Clock.Now.ToUnixTimeSeconds()}}","unit":"OVEN-1","at":"{{_host.Clock.Now:O}}"}""");

    private async Task SendAsync(string body) => Assert.Equal(1, (await Sending.SendAsync(_host.Admin, body)).GetProperty("accepted").GetInt32());

    private Task<JsonElement> AlertsAsync(string query) => _host.Admin.GetFromJsonAsync<JsonElement>("/v1/alerts" + query);

    private async Task<string[]> KindsAsync(string query) =>
        [.. (await AlertsAsync(query)).GetProperty("rows").EnumerateArray().Select(alert => Word(alert, "kind")).Order(StringComparer.Ordinal)];

    private async Task<long> OnlyIdAsync() =>
        Assert.Single((await AlertsAsync(string.Empty)).GetProperty("rows").EnumerateArray()).GetProperty("id").GetInt64();

    private static async Task<JsonElement> SeeAsync(HttpClient client, long id)
    {
        using HttpResponseMessage answer = await client.PostAsync($"/v1/alerts/{id}/seen", null);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }

    private static string Word(JsonElement element, string name) => element.GetProperty(name).GetString()!;

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
