using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Tests;
using Washwear.Analytics.Tests.Cleaning;
using Washwear.Api.Projections;
using Washwear.Api.Registry;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>
/// The three cases that were worked by hand (expected.json, compliance.*), entered as registry and records over HTTP, come back from the compliance
/// report with the same counts, gaps and causes. Minutes are exact.
/// </summary>
public sealed class PublishedComplianceTests
{
    public static TheoryData<string, bool> Cases => new()
    {
        { "compliance.simple", false },
        { "compliance.simple", true },
        { "compliance.clock_change", false },
        { "compliance.clock_change", true },
        { "compliance.lockout_and_silence", false },
        { "compliance.lockout_and_silence", true },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task Records_sent_over_http_give_the_published_compliance(string id, bool asCsv)
    {
        ComplianceCase worked = new(id);
        await using ApiHost host = await StartAsync(worked);
        await SendAsync(host.Admin, Records(worked.Check.Rows), asCsv);

        await AssertPublishedAsync(host, worked);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task Records_that_arrive_backwards_one_by_one_after_a_first_question_give_the_same(string id, bool rebuild)
    {
        ComplianceCase worked = new(id);
        await using ApiHost host = await StartAsync(worked);
        foreach (JsonObject record in Records(worked.Check.Rows).Reverse())
        {
            await ComplianceAsync(host, worked);
            await SendAsync(host.Admin, [record], false);
        }

        if (rebuild)
        {
            RegistryCache registry = host.Services.GetRequiredService<RegistryCache>();
            await host.Database.WriteAsync(
                async session => Projector.Rebuild(session, await registry.CurrentAsync(CancellationToken.None)), CancellationToken.None);
        }

        await AssertPublishedAsync(host, worked);
    }

    [Fact]
    public async Task A_visit_that_is_voided_and_sent_again_changes_what_the_lockout_waited_for()
    {
        ComplianceCase worked = new("compliance.lockout_and_silence");
        await using ApiHost host = await StartAsync(worked);
        JsonObject[] records = Records(worked.Check.Rows);
        await SendAsync(host.Admin, records, false);
        await ComplianceAsync(host, worked);
        await SendAsync(host.Admin, [Void("c5")], false);
        Dictionary<string, double> without = await MinutesAsync(host, worked);

        // Without the visit of 9 and 10 July (expected.json, segments): nobody had asked from 9 July 12:00Z until the approval was asked for on
        // 10 July 19:30Z, and that approval was decided 1,510 min later. 1,890 min took the place of 140 + 1,660 + 70 + 20.
        Assert.Equal(140 + 1660 + 70 + 20, without["locked_out_no_visit_asked"], 6);
        Assert.Equal(3070 - 1660, without["locked_out_waiting_for_technician"], 6);
        Assert.Equal(245 - 70, without["being_worked_on"], 6);
        Assert.Equal(1530 - 20, without["locked_out_waiting_for_approval"], 6);
        Assert.Equal(3860, without["locked_out_waiting_for_part"], 6);

        JsonObject again = (JsonObject)records.Single(record => (string?)record["key"] == "c5").DeepClone();
        again["key"] = "c5-again";
        await SendAsync(host.Admin, [again], false);
        await AssertPublishedAsync(host, worked);
    }

    [Fact]
    public async Task A_visit_told_step_by_step_by_replacements_tells_the_status_at_each_step()
    {
        ComplianceCase worked = new("compliance.lockout_and_silence");
        await using ApiHost host = await StartAsync(worked, At("2025-07-09T13:00:00Z"));
        JsonObject[] records = Records(worked.Check.Rows);
        records[2].Remove("cleared_at");
        await SendAsync(host.Admin, [.. records.Take(5)], false);
        Assert.Equal("lockout_no_visit_asked", await WaitsForAsync(host));

        host.Clock.Now = At("2025-07-09T15:00:00Z");
        await SendAsync(host.Admin, [Visit("v1", null, """{"asked_at":"2025-07-09T14:20:00Z"}""")], false);
        Assert.Equal("lockout_waiting_technician", await WaitsForAsync(host));

        host.Clock.Now = At("2025-07-10T18:30:00Z");
        await SendAsync(
            host.Admin, [records[5], Visit("v2", "v1", """{"asked_at":"2025-07-09T14:20:00Z","arrived_at":"2025-07-10T18:00:00Z"}""")], false);
        Assert.Equal("being_worked_on", await WaitsForAsync(host));

        host.Clock.Now = At("2025-07-10T19:20:00Z");
        JsonObject left = Visit(
            "v3", "v2",
            """{"asked_at":"2025-07-09T14:20:00Z","arrived_at":"2025-07-10T18:00:00Z","left_at":"2025-07-10T19:10:00Z","outcome":"waiting_part"}""");
        await SendAsync(host.Admin, [left], false);
        Assert.Equal("lockout_waiting_part", await WaitsForAsync(host));
    }

    private static JsonObject Visit(string key, string? replaces, string fields)
    {
        var visit = (JsonObject)JsonNode.Parse(fields)!;
        (visit["type"], visit["key"], visit["unit"]) = ("visit", key, "OVEN-1");
        if (replaces is not null)
        {
            visit["replaces"] = replaces;
        }

        return visit;
    }

    private static JsonObject Void(string key) => new()
    {
        ["type"] = "void",
        ["key"] = key + "-void",
        ["at"] = "2025-07-20T00:00:00Z",
        ["voids"] = key,
        ["reason"] = "entered for the wrong oven",
    };

    private static async Task<string?> WaitsForAsync(ApiHost host)
    {
        JsonElement status = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status");
        JsonElement row = Assert.Single(status.GetProperty("rows").EnumerateArray());
        return row.GetProperty("cause").GetString();
    }

    // The clock stands at the window's end, as if the question were asked that day.
    private static async Task<ApiHost> StartAsync(ComplianceCase worked, DateTimeOffset? now = null)
    {
        ApiHost host = await ApiHost.StartAsync(now ?? worked.Window.End.ToDateTimeOffset());
        using HttpResponseMessage answer = await host.Admin.PutAsJsonAsync("/v1/registry", Registry(worked.Check));
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        return host;
    }

    private static JsonObject Registry(PublishedCheck check)
    {
        JsonElement inputs = check.Inputs;
        string firstDay = check.Rows.Text("started_at")[0][..10];
        CsvRows rows = check.Rows;
        IEnumerable<object> faults = Enumerable.Range(0, rows.Count).Where(i => rows.Text("type")[i] == "fault").Select(i => new
        {
            code = rows.Text("fault_code")[i],
            text = "invented",
            locks_out_washing = rows.Text("locks_out_washing")[i] == "yes",
        });
        return (JsonObject)JsonSerializer.SerializeToNode(new
        {
            operators = new[] { new { @operator = "harbour", name = "Harbour Kitchens (invented)" } },
            sites = new[]
            {
                new
                {
                    site = "pier-4", @operator = "harbour", name = "Pier 4", time_zone = inputs.GetProperty("time_zone").GetString(),
                    trading_days = new
                    {
                        weekdays = inputs.GetProperty("trading_weekdays").EnumerateArray().Select(day => day.GetString()!.ToLowerInvariant()),
                        ends_at = inputs.GetProperty("trading_day_ends_at").GetString(),
                    },
                    closures = inputs.GetProperty("closures").EnumerateArray().Select(day => new { from = day.GetString() }),
                },
            },
            models = new[]
            {
                new
                {
                    model = "T10", name = "Ten-tray oven", kind = "combi oven", positions = Array.Empty<object>(),
                    programmes = Array.Empty<object>(), faults,
                },
            },
            units = new[]
            {
                new
                {
                    unit = "OVEN-1", site = "pier-4", model = "T10", commissioned_on = firstDay,
                    reporting_hours = inputs.GetProperty("reporting_hours").GetDouble(),
                    out_of_service = inputs.GetProperty("out_of_service").EnumerateArray()
                        .Select(period => new { from = period[0].GetString(), to = period[1].GetString() }),
                },
            },
            rules = new[]
            {
                new
                {
                    rule = "daily", scope = new { unit = "OVEN-1" }, grade = inputs.GetProperty("grade").GetString(),
                    every_trading_days = inputs.GetProperty("due_every_trading_days").GetInt32(),
                    grace_hours = inputs.GetProperty("grace_hours").GetDouble(), basis = "worked case",
                },
            },
        })!;
    }

    // The published file's cells under the names that the service gives them; what it keeps in the model (locks_out_washing) is left out.
    private static JsonObject[] Records(CsvRows rows) =>
    [
        .. Enumerable.Range(0, rows.Count).Select(i =>
        {
            string type = rows.Text("type")[i];
            var record = new JsonObject { ["type"] = type, ["key"] = rows.Text("key")[i], ["unit"] = "OVEN-1" };
            foreach (string column in (string[])["started_at", "ended_at", "grade", "outcome", "raised_at", "cleared_at", "asked_at", "arrived_at",
                "left_at", "decided_at", "decision", "at"])
            {
                Set(record, column, rows.Text(column)[i]);
            }

            Set(record, type == "fault" ? "code" : "fault_code", rows.Text("fault_code")[i]);
            if (rows.Text("detergent_left")[i] is { Length: > 0 } left)
            {
                record["detergent_left"] = left == "yes";
            }

            return record;
        }),
    ];

    private static void Set(JsonObject record, string name, string value)
    {
        if (value.Length > 0)
        {
            record[name] = value;
        }
    }

    private static async Task SendAsync(HttpClient client, JsonObject[] records, bool asCsv)
    {
        string[] columns = [.. records.SelectMany(record => record.Select(field => field.Key)).Distinct()];
        string body = asCsv
            ? string.Join(",", columns) + "\r\n" + string.Concat(records.Select(record =>
                string.Join(",", columns.Select(column => record[column]?.ToString() ?? string.Empty)) + "\r\n"))
            : string.Concat(records.Select(record => record.ToJsonString() + "\n"));
        using HttpResponseMessage answer = await client.PostAsync(
            "/v1/records", new StringContent(body, Encoding.UTF8, asCsv ? "text/csv" : "application/x-ndjson"));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        Assert.True(JsonDocument.Parse(text).RootElement.GetProperty("accepted").GetInt32() == records.Length, text);
    }

    private static async Task<JsonElement> ComplianceAsync(ApiHost host, ComplianceCase worked)
    {
        string Asked(string name) => Uri.EscapeDataString(worked.Check.Inputs.GetProperty(name).GetString()!);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>(
            $"/v1/cleaning/compliance?from={Asked("from")}&to={Asked("to")}&by=unit");
        return report;
    }

    private static async Task<Dictionary<string, double>> MinutesAsync(ApiHost host, ComplianceCase worked) =>
        Minutes((await ComplianceAsync(host, worked)).GetProperty("rows")[0]);

    private static Dictionary<string, double> Minutes(JsonElement row) => row.GetProperty("hours_by_cause").EnumerateObject().ToDictionary(
        hours => ComplianceCase.Name(Enum.Parse<Cause>(hours.Name.Replace("_", "", StringComparison.Ordinal), ignoreCase: true)),
        hours => Math.Round(hours.Value.GetDouble() * 60, 6));

    private static async Task AssertPublishedAsync(ApiHost host, ComplianceCase worked)
    {
        JsonElement report = await ComplianceAsync(host, worked);
        JsonElement row = Assert.Single(report.GetProperty("rows").EnumerateArray());
        PublishedCheck check = worked.Check;

        Assert.Equal("OVEN-1", row.GetProperty("group").GetString());
        Assert.Equal(check.Value("due").GetInt32(), row.GetProperty("due").GetInt32());
        Assert.Equal(check.Value("on_time").GetInt32(), row.GetProperty("on_time").GetInt32());
        check.AssertClose(row.GetProperty("on_time_share").GetProperty("estimate").GetDouble(), "on_time_share");
        check.AssertClose(row.GetProperty("time_within_share").GetDouble(), "time_within_share");
        check.AssertClose(row.GetProperty("longest_gap_hours").GetDouble(), "longest_gap_hours");
        Assert.Equal(
            check.Value("minutes_by_cause").EnumerateObject().Select(cause => (cause.Name, cause.Value.GetDouble())).Order(),
            Minutes(row).Select(cause => (cause.Key, cause.Value)).Order());
        Assert.Equal(check.Value("window_minutes").GetDouble(), row.GetProperty("window_hours").GetDouble() * 60, 6);
        JsonElement excluded = report.GetProperty("basis").GetProperty("excluded");
        Assert.Equal(check.Value("unknown").GetInt32(), Count(excluded, "silent_at_deadline"));
        Assert.Equal(check.Value("excused").GetInt32(), Count(excluded, "out_of_service_when_due"));
    }

    private static int Count(JsonElement excluded, string reason) =>
        excluded.TryGetProperty(reason, out JsonElement count) ? count.GetInt32() : 0;

    private static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
