using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operators;

/// <summary>February 2026 of an operator with one oven in Vienna; it is Monday 2 March 2026, 13:00 there.</summary>
public sealed class MonthReportTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        List<string> rows = [];
        for (int day = -31; day <= 28; day++)
        {
            DateTimeOffset at = new DateTimeOffset(2026, 1, 31, 22, 0, 0, TimeSpan.FromHours(1)).AddDays(day);
            if (day is not (5 or 10 or 11))
            {
                rows.Add($$"""{"type":"wash","key":"w{{day}}","unit":"OVEN-1","at":"{{Text(at)}}","ended_at":"{{Text(at.AddHours(1))}}","grade":"standard","outcome":"completed"}""");
            }
        }

        rows.AddRange(
        [
            """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-10T10:00:00+01:00","code":"E21"}""",
            """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-10T10:00:00+01:00","asked_at":"2026-02-10T10:00:00+01:00","arrived_at":"2026-02-12T09:00:00+01:00","left_at":"2026-02-12T10:30:00+01:00","outcome":"repaired_not_proven","faults":["E21"]}""",
            """{"type":"part_change","key":"p1","unit":"OVEN-1","at":"2026-02-12T09:30:00+01:00","position":"wash-pump","removed":{"reason":"failed"},"fitted":{"part_number":"P/100-2"}}""",
            """{"type":"fault_cleared","key":"c1","unit":"OVEN-1","at":"2026-02-12T10:00:00+01:00","code":"E21"}""",
            """{"type":"heartbeat","key":"h1","unit":"OVEN-1","at":"2026-03-02T12:00:00+01:00"}""",
        ]);
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, string.Join('\n', rows), "application/x-ndjson"), accepted: rows.Count);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task The_last_month_that_is_over_begins_and_ends_on_the_ovens_own_clock_and_says_what_the_reports_behind_it_say()
    {
        JsonElement report = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/report");
        Assert.Equal("2026-02", report.GetProperty("month").GetString());
        Assert.True(report.GetProperty("is_over").GetBoolean());
        JsonElement now = report.GetProperty("washing").GetProperty("now");
        Assert.Equal("2026-01-31T23:00:00Z", now.GetProperty("from").GetString());
        Assert.Equal("2026-02-28T23:00:00Z", now.GetProperty("to").GetString());
        JsonElement total = (await _host.Admin.GetFromJsonAsync<JsonElement>(
            "/v1/cleaning/compliance?operator=harbour&from=2026-01-31T23:00:00Z&to=2026-02-28T23:00:00Z")).GetProperty("total");
        Assert.Equal(total.GetProperty("due").GetInt32(), now.GetProperty("due").GetInt32());
        Assert.Equal(total.GetProperty("on_time").GetInt32(), now.GetProperty("on_time").GetInt32());
        JsonElement kitchen = Assert.Single(report.GetProperty("worst_kitchens").EnumerateArray());
        Assert.Equal(total.GetProperty("due").GetInt32() - total.GetProperty("on_time").GetInt32(), kitchen.GetProperty("missed").GetInt32());
        Assert.Contains("cannot be told: fewer than 6 units (1)", report.GetProperty("washing").GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lockouts_repairs_and_parts_of_the_month_are_told_with_what_they_came_to()
    {
        JsonElement report = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/report?month=2026-02");
        JsonElement lockout = Assert.Single(report.GetProperty("lockouts").EnumerateArray());
        Assert.Equal(48, lockout.GetProperty("hours").GetDouble(), 9);
        Assert.Equal("waiting_technician", lockout.GetProperty("mostly_waited_for").GetString());
        JsonElement repair = Assert.Single(report.GetProperty("repairs").EnumerateArray());
        Assert.Equal("v1", repair.GetProperty("visit").GetString());
        Assert.Equal("proven_by_washes", repair.GetProperty("state").GetString());
        JsonElement part = Assert.Single(report.GetProperty("parts").EnumerateArray());
        Assert.Equal("Wash pump", part.GetProperty("position_name").GetString());
        Assert.Equal("failed", part.GetProperty("removed_because").GetString());
        Assert.Equal("P/100-2", part.GetProperty("fitted_part_number").GetString());
        Assert.StartsWith("In February 2026 ", report.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains("1 oven was locked out of washing, for 2 days.", report.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains("1 repair ended, 1 of them proven.", report.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_month_in_course_is_told_up_to_the_last_full_hour_and_one_without_records_says_so()
    {
        JsonElement course = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/report?month=2026-03");
        Assert.False(course.GetProperty("is_over").GetBoolean());
        Assert.Equal("2026-03-02T12:00:00Z", course.GetProperty("washing").GetProperty("now").GetProperty("to").GetString());
        Assert.Contains("so far", course.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        JsonElement old = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/report?month=2001-05");
        Assert.Contains("no wash was due that could be judged", old.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("?month=2026-13", HttpStatusCode.BadRequest)]
    [InlineData("?month=2026-02-01", HttpStatusCode.BadRequest)]
    [InlineData("?month=1999-12", HttpStatusCode.BadRequest)]
    [InlineData("?month=2026-04", HttpStatusCode.BadRequest)]
    [InlineData("?month=2026-02", HttpStatusCode.OK)]
    public async Task A_month_is_answered_or_refused_with_its_reason(string query, HttpStatusCode status)
    {
        foreach (string path in new[] { "/operators/harbour/report", "/v1/operators/harbour/report" })
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync(path + query);
            Assert.Equal(status, answer.StatusCode);
        }
    }

    [Fact]
    public async Task An_operator_without_ovens_gets_an_empty_report()
    {
        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/operators/empty", """{"name":"Empty (invented)"}""");
        Assert.True(put.IsSuccessStatusCode);
        string page = await _host.Admin.GetStringAsync("/operators/empty/report");
        Assert.Contains("No oven was locked out of washing.", page, StringComparison.Ordinal);
        Assert.Contains("No oven in service", await _host.Admin.GetStringAsync("/operators/empty"), StringComparison.Ordinal);
        Assert.Contains("Nothing of this kind is on record.", await _host.Admin.GetStringAsync("/operators/empty/timeline"), StringComparison.Ordinal);
    }

    private static string Text(DateTimeOffset at) => at.ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);
}
