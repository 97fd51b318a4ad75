using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Failures;

/// <summary>Small histories whose failures can be counted by hand, over HTTP.</summary>
public sealed class FailureStoriesTests : IAsyncLifetime
{
    private const string NdJson = "application/x-ndjson";
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData("", 2, 3)]
    [InlineData("&gap_hours=0", 4, 1)]
    public async Task Faults_that_follow_each_other_without_a_repair_are_one(string query, int failures, int faultsOfTheOldest)
    {
        // Three within 72 h of each other, then one after a fortnight.
        await Sending.SendAsync(_host.Admin, """
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-01T00:00:00Z"}
            {"type":"fault","key":"a","unit":"OVEN-1","code":"E21","at":"2026-01-10T10:00:00Z","cleared_at":"2026-01-10T12:00:00Z"}
            {"type":"fault","key":"b","unit":"OVEN-1","code":"E21","at":"2026-01-12T10:00:00Z","cleared_at":"2026-01-12T12:00:00Z"}
            {"type":"fault","key":"c","unit":"OVEN-1","code":"E21","at":"2026-01-15T11:00:00Z","cleared_at":"2026-01-15T12:00:00Z"}
            {"type":"fault","key":"d","unit":"OVEN-1","code":"E21","at":"2026-01-29T10:00:00Z","cleared_at":"2026-01-29T12:00:00Z"}

            """, NdJson);

        JsonElement[] rows = [.. (await GetAsync("records?of=faults" + query)).GetProperty("rows").EnumerateArray()];

        Assert.Equal(failures, rows.Length);
        Assert.Equal(faultsOfTheOldest, rows[^1].GetProperty("faults").GetInt32());
    }

    [Fact]
    public async Task A_lockout_costs_its_hours_and_the_days_to_the_next_wash_but_one()
    {
        await Sending.SendAsync(_host.Admin, """
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-01T00:00:00Z"}
            {"type":"fault","key":"a","unit":"OVEN-1","code":"E21","at":"2026-01-10T12:00:00Z","cleared_at":"2026-01-15T12:00:00Z"}
            {"type":"wash","key":"w","unit":"OVEN-1","at":"2026-01-15T14:00:00Z","ended_at":"2026-01-15T18:00:00Z","grade":"standard","outcome":"completed"}
            {"type":"part_change","key":"p","unit":"OVEN-1","at":"2026-01-15T11:00:00Z","position":"wash-pump","removed":{"reason":"failed"},"fitted":{}}

            """, NdJson);

        JsonElement byCode = Assert.Single((await GetAsync("pareto?pareto=code&measure=unwashed_days")).GetProperty("rows").EnumerateArray());
        JsonElement byPosition = Assert.Single((await GetAsync("pareto?measure=locked_out_hours")).GetProperty("rows").EnumerateArray());

        foreach (JsonElement row in new[] { byCode, byPosition })
        {
            Assert.Equal(5 * 24, row.GetProperty("locked_out_hours").GetDouble());
            Assert.Equal(4.25, row.GetProperty("unwashed_days").GetDouble());
            Assert.Equal(1, row.GetProperty("count").GetInt32());
        }

        Assert.Equal("wash-pump", byPosition.GetProperty("position").GetString());
        Assert.Equal("E21", byCode.GetProperty("code").GetString());
    }

    // One trouble: found the hose and waited, then found the pump and repaired. The second trouble, after the repair, found the pump again;
    // a visit long after it, for nothing that was raised, counts by itself.
    [Fact]
    public async Task A_cause_counts_once_a_fault_episode_and_the_last_finding_holds()
    {
        JsonElement answer = await Sending.SendAsync(_host.Admin, """
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-01T00:00:00Z"}
            {"type":"fault","key":"a","unit":"OVEN-1","code":"E21","at":"2026-01-10T10:00:00Z","cleared_at":"2026-01-12T12:00:00Z"}
            {"type":"fault","key":"b","unit":"OVEN-1","code":"E21","at":"2026-01-13T10:00:00Z","cleared_at":"2026-01-16T11:30:00Z"}
            {"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-01-11T09:00:00Z","arrived_at":"2026-01-11T09:00:00Z","left_at":"2026-01-11T10:00:00Z","outcome":"waiting_part","faults":["E21"],"findings":[{"position":"suction-hose"}]}
            {"type":"visit","key":"v2","unit":"OVEN-1","at":"2026-01-16T10:00:00Z","arrived_at":"2026-01-16T10:00:00Z","left_at":"2026-01-16T12:00:00Z","outcome":"repaired_not_proven","faults":["e21"],"findings":[{"position":"wash-pump","failure_mode":"seized"}]}
            {"type":"fault","key":"c","unit":"OVEN-1","code":"E21","at":"2026-01-17T10:00:00Z","cleared_at":"2026-01-17T18:00:00Z"}
            {"type":"visit","key":"v3","unit":"OVEN-1","at":"2026-01-17T16:00:00Z","arrived_at":"2026-01-17T16:00:00Z","left_at":"2026-01-17T19:00:00Z","outcome":"proven","findings":[{"position":"wash-pump","failure_mode":"seized"}]}
            {"type":"visit","key":"v4","unit":"OVEN-1","at":"2026-02-17T16:00:00Z","arrived_at":"2026-02-17T16:00:00Z","left_at":"2026-02-17T19:00:00Z","outcome":"proven","findings":[{"position":"suction-hose"}]}

            """, NdJson);
        Sending.AssertCounts(answer, accepted: 8);

        JsonElement[] rows = [.. (await GetAsync("pareto?pareto=cause")).GetProperty("rows").EnumerateArray()];

        Assert.Equal(
            [("wash-pump", 2), ("suction-hose", 1)], rows.Select(row => (row.GetProperty("position").GetString()!, row.GetProperty("count").GetInt32())));
    }

    [Fact]
    public async Task A_new_pump_that_fails_early_points_to_its_repair_and_another_position_to_the_wrong_cause()
    {
        await Sending.SendAsync(_host.Admin, """
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2025-06-01T00:00:00Z"}
            {"type":"fault","key":"f1","unit":"OVEN-1","code":"E21","at":"2025-07-01T08:00:00Z","cleared_at":"2025-07-01T12:00:00Z"}
            {"type":"part_change","key":"p1","unit":"OVEN-1","at":"2025-07-01T11:00:00Z","position":"wash-pump","removed":{"reason":"failed"},"fitted":{}}
            {"type":"fault","key":"f2","unit":"OVEN-1","code":"E21","at":"2025-07-08T08:00:00Z","cleared_at":"2025-07-08T12:00:00Z"}
            {"type":"part_change","key":"p2","unit":"OVEN-1","at":"2025-07-08T11:00:00Z","position":"wash-pump","removed":{"reason":"failed"},"fitted":{}}
            {"type":"fault","key":"f3","unit":"OVEN-1","code":"E21","at":"2025-07-15T08:00:00Z","cleared_at":"2025-07-15T12:00:00Z"}
            {"type":"part_change","key":"p3","unit":"OVEN-1","at":"2025-07-15T11:00:00Z","position":"suction-hose","removed":{"reason":"failed"},"fitted":{}}

            """, NdJson);

        JsonElement report = await GetAsync("repeats?window_days=60");

        string[] pointsTo = [.. report.GetProperty("repeats").EnumerateArray().Select(row => row.GetProperty("points_to").GetString()!)];
        Assert.Equal(["wrong_cause_found", "repair_did_not_hold"], pointsTo);
        JsonElement pump = report.GetProperty("positions").EnumerateArray().Single(row => row.GetProperty("position").GetString() == "wash-pump");
        Assert.Equal(2, pump.GetProperty("repairs").GetInt32());
        Assert.Equal(1, pump.GetProperty("came_back").GetInt32());
    }

    [Fact]
    public async Task A_failure_shows_right_after_it_was_sent_and_a_void_takes_it_away()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-01T00:00:00Z"}""");
        Assert.Empty((await GetAsync("records")).GetProperty("rows").EnumerateArray());
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"a","unit":"OVEN-1","code":"E21","at":"2026-02-10T12:00:00Z"}""");
        Assert.Single((await GetAsync("records")).GetProperty("rows").EnumerateArray());
        await Sending.SendAsync(_host.Admin, """{"type":"void","key":"v","voids":"a","reason":"typed wrong","at":"2026-02-11T12:00:00Z"}""");
        Assert.Empty((await GetAsync("records")).GetProperty("rows").EnumerateArray());
    }

    [Fact]
    public async Task Two_failures_are_too_few_for_a_trend_and_fourteen_that_come_ever_closer_are_one()
    {
        // The i-th of 14 at the day where i / 15 of a year's square has passed: by Laplace's formula z is 2.3.
        var begin = new DateTimeOffset(2025, 3, 2, 12, 0, 0, TimeSpan.Zero);
        string[] faults =
        [
            .. Enumerable.Range(1, 14).Select(i => begin.AddDays(365 * Math.Sqrt(i / 15.0))).Select((at, i) =>
                $$"""{"type":"fault","key":"c{{i}}","unit":"OVEN-1","code":"E21","at":"{{at:O}}","cleared_at":"{{at.AddMinutes(10):O}}"}""" + "\n"),
        ];
        await Sending.SendAsync(
            _host.Admin, """{"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2025-03-02T00:00:00Z"}""" + "\n" + string.Concat(faults[..2]), NdJson);
        await Sending.SendAsync(_host.Admin, """{"type":"heartbeat","key":"h2","unit":"OVEN-1","at":"2026-03-02T11:00:00Z"}""");
        JsonElement few = await GetAsync("trend?gap_hours=0");
        Assert.Equal("too_little_data", few.GetProperty("verdict").GetString());
        Assert.Equal(JsonValueKind.Null, few.GetProperty("p_value").ValueKind);

        await Sending.SendAsync(_host.Admin, string.Concat(faults[2..]), NdJson);
        JsonElement late = await GetAsync("trend?gap_hours=0");
        Assert.Equal("getting_worse", late.GetProperty("verdict").GetString());
        Assert.InRange(late.GetProperty("p_value").GetDouble(), 0, 0.05);
        Assert.Equal(14, late.GetProperty("months").EnumerateArray().Sum(month => month.GetProperty("failures").GetInt32()));
    }

    [Theory]
    [InlineData("of=valves", "of")]
    [InlineData("from=2026-02-01&to=2026-01-01", "from")]
    [InlineData("from=2027-01-01", "from")]
    [InlineData("from=yesterday", "from")]
    [InlineData("from=0001-01-01", "from")]
    [InlineData("unit=OVEN-9", "unit")]
    [InlineData("operator=nobody", "operator")]
    [InlineData("by=moon", "by")]
    [InlineData("pareto=moon", "pareto")]
    [InlineData("measure=moon", "measure")]
    [InlineData("compare=moon", "compare")]
    [InlineData("axis=moon", "axis")]
    [InlineData("gap_hours=-1", "gap_hours")]
    [InlineData("gap_hours=NaN", "gap_hours")]
    [InlineData("window_days=0", "window_days")]
    public async Task What_cannot_be_asked_is_answered_with_the_field_and_a_mend(string query, string field)
    {
        foreach (string part in new[] { "trend", "recurrence", "rates", "repeats", "pareto", "records" })
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync($"/v1/failures/{part}?{query}");
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
            JsonElement problem = await answer.Content.ReadFromJsonAsync<JsonElement>();
            Assert.Contains(problem.GetProperty("errors").EnumerateArray(), error => error.GetProperty("field").GetString() == field);
        }
    }

    [Theory]
    [InlineData("from=1970-01-01")]
    [InlineData("from=1970-01-01&to=1970-01-02")]
    [InlineData("to=9999-12-31")]
    [InlineData("by=part_number&of=parts")]
    [InlineData("axis=calendar&compare=region&position=nowhere&code=nothing")]
    [InlineData("gap_hours=2160&window_days=730&site=pier-4&model=t10")]
    public async Task Every_odd_window_and_filter_is_answered_on_an_empty_fleet_and_on_one_with_failures(string query)
    {
        for (int round = 0; round < 2; round++)
        {
            foreach (string path in new[] { "/v1/failures/trend", "/v1/failures/recurrence", "/v1/failures/rates", "/v1/failures/repeats", "/v1/failures/pareto", "/v1/failures/records", "/failures", "/failures/records", "/charts/failures/monthly.svg", "/charts/failures/recurrence.svg", "/charts/failures/rates.png", "/charts/failures/pareto.svg" })
            {
                using HttpResponseMessage answer = await _host.Admin.GetAsync($"{path}?{query}");
                Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
            }

            await Sending.SendAsync(_host.Admin, """
                {"type":"fault","key":"a","unit":"OVEN-1","code":"E21","at":"2026-01-10T12:00:00Z","cleared_at":"2026-01-10T13:00:00Z"}
                {"type":"part_change","key":"p","unit":"OVEN-1","at":"2026-01-10T12:30:00Z","position":"wash-pump","removed":{"reason":"failed"},"fitted":{"part_number":"P/100-2","batch":"B"}}

                """, NdJson);
        }
    }

    [Theory]
    [InlineData("records?of=faults", "rows", 4)]
    [InlineData("records?of=parts", "rows", 4)]
    [InlineData("repeats?of=parts", "repeats", 3)]
    public async Task A_list_is_whole_when_it_is_read_page_by_page(string list, string field, int rows)
    {
        for (int month = 1; month <= 4; month++)
        {
            await Sending.SendAsync(_host.Admin, $$$"""
                {"type":"fault","key":"f{{{month}}}","unit":"OVEN-1","code":"E21","at":"2026-01-{{{month * 5:D2}}}T12:00:00Z","cleared_at":"2026-01-{{{month * 5:D2}}}T13:00:00Z"}
                {"type":"part_change","key":"p{{{month}}}","unit":"OVEN-1","at":"2026-01-{{{month * 5:D2}}}T12:30:00Z","position":"wash-pump","removed":{"reason":"failed"},"fitted":{"part_number":"P/100-2"}}

                """, NdJson);
        }

        var seen = new List<string>();
        string? after = null;
        do
        {
            JsonElement page = await GetAsync(list + "&limit=1" + (after is null ? string.Empty : "&after=" + after));
            seen.AddRange(page.GetProperty(field).EnumerateArray().Select(row => row.GetRawText()));
            after = page.GetProperty("next").GetString();
        }
        while (after is not null && seen.Count < 10);

        Assert.Equal(rows, seen.Distinct().Count());
        Assert.Equal(rows, (await GetAsync(list)).GetProperty(field).GetArrayLength());
    }

    [Fact]
    public async Task Every_list_comes_as_csv_too()
    {
        foreach ((string part, string header) in new[]
        {
            ("trend", "month,"), ("recurrence", "group,"), ("rates", "code,"), ("repeats", "unit,"), ("pareto", "position,"), ("records", "unit,"),
        })
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync($"/v1/failures/{part}?format=csv");
            Assert.Equal("text/csv", answer.Content.Headers.ContentType?.MediaType);
            Assert.StartsWith(header, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    private Task<JsonElement> GetAsync(string path) => _host.Admin.GetFromJsonAsync<JsonElement>("/v1/failures/" + path);
}
