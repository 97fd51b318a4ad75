using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Timeline;

/// <summary>
/// The history of one oven over HTTP, with a lockout that goes from the fault through visit, approval and part to the proof; it is Monday
/// 2 March 2026, 13:00 in Vienna.
/// </summary>
public sealed class TimelineTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        string[] rows =
        [
            Wash("w1", 1), Wash("w2", 2), Wash("w3", 3),
            """{"type":"wash","key":"w4","unit":"OVEN-1","at":"2026-02-04T22:00:00+01:00","ended_at":"2026-02-04T22:10:00+01:00","grade":"standard","outcome":"stopped_by_person"}""",
            Wash("w5", 5), Wash("w6", 6),
            """{"type":"wash","key":"w7","unit":"OVEN-1","at":"2026-02-07T22:00:00+01:00","ended_at":"2026-02-07T22:10:00+01:00","grade":"standard","outcome":"stopped_by_fault","fault_code":"E21"}""",
            """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-07T22:10:00+01:00","code":"E21"}""",
            """{"type":"wash","key":"w8","unit":"OVEN-1","at":"2026-02-08T22:00:00+01:00","grade":"standard","outcome":"refused"}""",
            """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-08T09:00:00+01:00","asked_at":"2026-02-08T09:00:00+01:00","arrived_at":"2026-02-09T10:00:00+01:00","left_at":"2026-02-09T11:00:00+01:00","outcome":"waiting_approval"}""",
            """{"type":"approval","key":"a1","unit":"OVEN-1","at":"2026-02-09T11:00:00+01:00","asked_at":"2026-02-09T11:00:00+01:00","what":"A new pump","decided_at":"2026-02-10T09:00:00+01:00","decision":"granted"}""",
            """{"type":"visit","key":"v2","unit":"OVEN-1","at":"2026-02-11T10:00:00+01:00","arrived_at":"2026-02-11T10:00:00+01:00","left_at":"2026-02-11T12:00:00+01:00","outcome":"proven"}""",
            """{"type":"part_change","key":"p1","unit":"OVEN-1","at":"2026-02-11T11:00:00+01:00","position":"wash-pump","removed":{"reason":"failed"},"fitted":{}}""",
            """{"type":"fault_cleared","key":"c1","unit":"OVEN-1","at":"2026-02-11T11:30:00+01:00","code":"E21"}""",
            Wash("w11", 11), Wash("w12", 12), Wash("w13", 13),
            """{"type":"heartbeat","key":"h1","unit":"OVEN-1","at":"2026-02-14T12:00:00+01:00"}""",
        ];
        foreach (string row in rows)
        {
            Sending.AssertCounts(await Sending.SendAsync(_host.Admin, row), accepted: 1);
        }
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task A_lockout_is_one_story_from_the_wash_that_the_fault_stopped_to_the_wash_that_proves_it()
    {
        JsonElement story = Assert.Single(Entries(await ReadAsync("/v1/units/oven-1/timeline")), entry => entry.GetProperty("is_story").GetBoolean());
        Assert.Equal(
            "Could not wash for 3 days 13 h: E21, no water circulates. 2 tries to wash came to nothing. 2 visits. An approval was granted. Changed: wash pump. "
                + "It washed again 10 h 30 min later, and the visit proved the repair.",
            story.GetProperty("text").GetString());
        Assert.Equal(
            ["w7", "f1", "w8", "v1", "a1", "v2", "p1", "c1", "w11"], story.GetProperty("steps").EnumerateArray().Select(step => step.GetProperty("key").GetString()));
        Assert.Equal("/visits/v2", story.GetProperty("steps")[5].GetProperty("url").GetString());
    }

    [Fact]
    public async Task Ordinary_washes_in_a_row_are_one_line_and_what_is_not_ordinary_stands_between_them()
    {
        JsonElement[] entries = Entries(await ReadAsync("/v1/units/OVEN-1/timeline"));
        Assert.Equal(
            ["2 washes, all counted.", "story", "2 washes, all counted.", "Standard wash stopped by a person after 10 min.", "3 washes, all counted."],
            entries.Select(entry => entry.GetProperty("is_story").GetBoolean() ? "story" : entry.GetProperty("text").GetString()));
        Assert.Equal(["w13", "w12"], entries[0].GetProperty("steps").EnumerateArray().Select(step => step.GetProperty("key").GetString()));
    }

    [Fact]
    public async Task Each_entry_leads_to_its_very_record()
    {
        foreach (JsonElement step in Entries(await ReadAsync("/v1/units/OVEN-1/timeline?kinds=washes,readings")).SelectMany(entry => entry.GetProperty("steps").EnumerateArray()))
        {
            JsonElement record = Assert.Single((await ReadAsync(step.GetProperty("url").GetString()!)).GetProperty("items").EnumerateArray());
            Assert.Equal(step.GetProperty("key").GetString(), record.GetProperty("key").GetString());
        }
    }

    [Fact]
    public async Task Kinds_narrow_it_and_then_nothing_is_folded_into_a_story_that_is_not_whole()
    {
        JsonElement report = await ReadAsync("/v1/units/OVEN-1/timeline?kinds=faults,visits");
        Assert.Equal(["faults", "visits"], report.GetProperty("kinds").EnumerateArray().Select(kind => kind.GetString()));
        Assert.Equal(["c1", "v2", "v1", "f1"], Entries(report).Select(entry => entry.GetProperty("steps")[0].GetProperty("key").GetString()));
        Assert.DoesNotContain(Entries(report), entry => entry.GetProperty("is_story").GetBoolean());
        string page = await _host.Admin.GetStringAsync("/units/OVEN-1/timeline?kinds=faults&kinds=visits");
        Assert.Contains("kinds=faults%2Cvisits", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_corrected_stays_and_says_so()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"wash","key":"w13b","replaces":"w13","unit":"OVEN-1","at":"2026-02-13T22:00:00+01:00","ended_at":"2026-02-13T23:00:00+01:00","grade":"light","outcome":"completed"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"void","key":"x1","at":"2026-03-01T12:00:00+01:00","voids":"w12","reason":"a slip"}""");
        JsonElement[] entries = Entries(await ReadAsync("/v1/units/OVEN-1/timeline?kinds=corrections"));
        Assert.Equal(
            ["Light wash completed after 1 h. Too light to count. Corrects an earlier record.", "Replaced by a later record. Standard wash completed after 1 h.", "Voided. Standard wash completed after 1 h."],
            entries.Select(entry => entry.GetProperty("text").GetString()));
        string page = await _host.Admin.GetStringAsync("/units/OVEN-1/timeline?kinds=corrections");
        Assert.Contains("<s>Standard wash completed after 1\u00A0h.</s>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Pages_further_back_hold_every_record_once_and_end_between_stories()
    {
        List<string> seen = [];
        int stories = 0;
        string? after = null;
        do
        {
            JsonElement page = await ReadAsync("/v1/sites/PIER-4/timeline?limit=4" + (after is null ? null : "&after=" + after));
            stories += Entries(page).Count(entry => entry.GetProperty("is_story").GetBoolean());
            seen.AddRange(Entries(page).SelectMany(entry => entry.GetProperty("steps").EnumerateArray()).Select(step => step.GetProperty("key").GetString()!));
            after = page.GetProperty("next").GetString();
        }
        while (after is not null);
        Assert.Equal(1, stories);
        Assert.Equal(17, seen.Count);
        Assert.Equal(17, seen.Distinct().Count());
        string csv = await _host.Admin.GetStringAsync("/v1/sites/PIER-4/timeline?format=csv");
        Assert.Equal(18, csv.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    [Fact]
    public async Task A_lockout_that_lasts_says_since_when_and_who_has_not_come()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f2","unit":"OVEN-1","at":"2026-03-01T13:00:00+01:00","code":"E21"}""");
        await Sending.SendAsync(_host.Admin, """{"type":"wash","key":"w40","unit":"OVEN-1","at":"2026-03-01T22:00:00+01:00","grade":"standard","outcome":"refused"}""");
        JsonElement story = Entries(await ReadAsync("/v1/units/OVEN-1/timeline"))[0];
        Assert.Equal("Could not wash for 1 day so far: E21, no water circulates. 1 try to wash came to nothing. Nobody has asked for a visit.", story.GetProperty("text").GetString());
        string operatorPage = await _host.Admin.GetStringAsync("/operators/harbour");
        Assert.Contains("Could not wash for 1\u00A0day so far", operatorPage, StringComparison.Ordinal);
        Assert.Contains("Could not wash for 1\u00A0day so far", await _host.Admin.GetStringAsync("/sites/pier-4"), StringComparison.Ordinal);
        Assert.Contains("Could not wash for 1\u00A0day so far", await _host.Admin.GetStringAsync("/units/oven-1"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_clean_by_hand_ends_no_lockout()
    {
        string[] rows =
        [
            """{"type":"fault","key":"f2","unit":"OVEN-1","at":"2026-02-28T22:00:00+01:00","code":"E21"}""",
            """{"type":"wash","key":"hand","unit":"OVEN-1","at":"2026-02-28T23:00:00+01:00","ended_at":"2026-02-28T23:50:00+01:00","grade":"standard","outcome":"completed","attested_by":"shift lead"}""",
            """{"type":"wash","key":"w16","unit":"OVEN-1","at":"2026-03-01T22:00:00+01:00","grade":"standard","outcome":"refused"}""",
        ];
        foreach (string row in rows)
        {
            Sending.AssertCounts(await Sending.SendAsync(_host.Admin, row), accepted: 1);
        }

        JsonElement story = Entries(await ReadAsync("/v1/units/OVEN-1/timeline"))[0];
        Assert.Equal("Could not wash for 1 day 15 h so far: E21, no water circulates. 1 try to wash came to nothing. Nobody has asked for a visit.", story.GetProperty("text").GetString());
        Assert.Equal(["f2", "hand", "w16"], story.GetProperty("steps").EnumerateArray().Select(step => step.GetProperty("key").GetString()));
        JsonElement status = (await ReadAsync("/v1/cleaning/status?unit=OVEN-1")).GetProperty("rows")[0];
        Assert.DoesNotContain("washed since", status.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/units/nothing/timeline", HttpStatusCode.NotFound)]
    [InlineData("/v1/sites/nowhere/timeline", HttpStatusCode.NotFound)]
    [InlineData("/v1/operators/nobody/timeline", HttpStatusCode.NotFound)]
    [InlineData("/v1/units/OVEN-1/timeline?kinds=gossip", HttpStatusCode.BadRequest)]
    [InlineData("/v1/units/OVEN-1/timeline?after=rubbish", HttpStatusCode.BadRequest)]
    [InlineData("/operators/harbour/timeline?kinds=readings", HttpStatusCode.OK)]
    public async Task What_is_asked_wrongly_is_said(string address, HttpStatusCode status)
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync(address);
        Assert.Equal(status, answer.StatusCode);
    }

    [Fact]
    public async Task Who_may_not_see_the_unit_finds_no_timeline()
    {
        using HttpClient caller = await _host.ClientAsync(Abilities.Read, "elsewhere", Scope.Of(ScopeKind.Operators, ["nobody"]));
        foreach (string address in new[] { "/v1/units/OVEN-1/timeline", "/v1/sites/PIER-4/timeline", "/v1/operators/harbour/timeline", "/operators/harbour/report" })
        {
            using HttpResponseMessage answer = await caller.GetAsync(address);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        }
    }

    private static JsonElement[] Entries(JsonElement report) =>
        [.. report.GetProperty("days").EnumerateArray().SelectMany(day => day.GetProperty("entries").EnumerateArray())];

    private static string Wash(string key, int day) =>
        $$"""{"type":"wash","key":"{{key}}","unit":"OVEN-1","at":"2026-02-{{day:D2}}T22:00:00+01:00","ended_at":"2026-02-{{day:D2}}T23:00:00+01:00","grade":"standard","outcome":"completed"}""";

    private async Task<JsonElement> ReadAsync(string address) => await _host.Admin.GetFromJsonAsync<JsonElement>(address);
}
