using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Washwear.Analytics.Tests;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.PartLife;

/// <summary>Published life data, sent in over HTTP as units, fittings and removals, come back as the published figures.</summary>
public sealed class PublishedLivesTests
{
    private const double HoursPerDay = 24;
    private static readonly DateTimeOffset Fitted = new(2012, 1, 1, 0, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("weibull_mle.generator_fans", "kaplan_meier.generator_fans", "hours")]
    [InlineData("weibull_mle.nist_censored", "kaplan_meier.nist_censored", "hours")]
    public async Task Censored_lives_sent_as_csv_give_the_published_fit_and_survival_in_days(string fit, string survival, string column)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        PublishedCheck check = PublishedChecks.Get(fit);
        double[] hours = check.Rows.Numbers(column);
        double[] failed = check.Rows.Numbers("status");
        await PutUnitsAsync(host.Admin, hours.Length);
        var csv = new StringBuilder("key,unit,at,position,removed.reason,fitted.part_number\r\n");
        for (int i = 0; i < hours.Length; i++)
        {
            csv.Append(CultureInfo.InvariantCulture, $"in-{i},U{i},{Fitted:O},wash-pump,,P/100-2\r\n");
            string reason = failed[i] == 1 ? "failed" : "precaution";
            csv.Append(CultureInfo.InvariantCulture, $"out-{i},U{i},{Fitted.AddHours(hours[i]):O},wash-pump,{reason},\r\n");
        }

        await SendAsync(host.Admin, "/v1/records?type=part_change", csv.ToString(), "text/csv", 2 * hours.Length);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump?clock=days");

        AssertFit(check, report.GetProperty("weibull"), HoursPerDay);
        AssertSurvival(PublishedChecks.Get(survival), report.GetProperty("kaplan_meier"), HoursPerDay);
        Assert.Equal(check.Inputs.GetProperty("failures").GetInt32(), report.GetProperty("basis").GetProperty("failures").GetInt32());
    }

    [Fact]
    public async Task Complete_lives_sent_as_ndjson_give_the_published_fit_on_the_meter_clock()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        PublishedCheck check = PublishedChecks.Get("weibull_mle.ball_bearings_complete");
        double[] lives = check.Rows.Numbers("million_revolutions");
        await PutUnitsAsync(host.Admin, lives.Length);
        var lines = new StringBuilder();
        for (int i = 0; i < lives.Length; i++)
        {
            string end = Fitted.AddDays(100).ToString("O", CultureInfo.InvariantCulture);
            string start = Fitted.ToString("O", CultureInfo.InvariantCulture);
            foreach (object record in new object[]
            {
                new { type = "meter", key = $"m0-{i}", unit = $"U{i}", at = start, operating_hours_total = 0 },
                new { type = "part_change", key = $"in-{i}", unit = $"U{i}", at = start, position = "wash-pump", fitted = new { part_number = "P/100-2" } },
                new { type = "part_change", key = $"out-{i}", unit = $"U{i}", at = end, position = "wash-pump", removed = new { reason = "failed" } },
                new { type = "meter", key = $"m1-{i}", unit = $"U{i}", at = end, operating_hours_total = lives[i] },
            })
            {
                lines.Append(JsonSerializer.Serialize(record)).Append('\n');
            }
        }

        await SendAsync(host.Admin, "/v1/records", lines.ToString(), "application/x-ndjson", 4 * lives.Length);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump?clock=operating_hours");

        AssertFit(check, report.GetProperty("weibull"), 1);
        Assert.Equal(0, report.GetProperty("counts").GetProperty("still_fitted").GetInt32());
    }

    [Fact]
    public async Task Used_parts_enter_late_and_give_the_published_fit()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        PublishedCheck check = PublishedChecks.Get("weibull_mle.generator_fans_delayed_entry");
        double[] entries = check.Rows.Numbers("entry_hours");
        double[] hours = check.Rows.Numbers("hours");
        double[] failed = check.Rows.Numbers("status");
        await PutUnitsAsync(host.Admin, hours.Length);
        object[] records =
        [
            .. hours.SelectMany((end, i) => new object[]
            {
                new
                {
                    type = "part_change", key = $"in-{i}", unit = $"U{i}", at = Fitted, position = "wash-pump",
                    fitted = new { part_number = "P/100-2", age_days = entries[i] / HoursPerDay },
                },
                new
                {
                    type = "part_change", key = $"out-{i}", unit = $"U{i}", at = Fitted.AddHours(end - entries[i]), position = "wash-pump",
                    removed = new { reason = failed[i] == 1 ? "failed" : "upgrade" },
                },
            }),
        ];
        await SendAsync(host.Admin, "/v1/records", JsonSerializer.Serialize(records), "application/json", records.Length);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump");

        AssertFit(check, report.GetProperty("weibull"), HoursPerDay);
        Assert.Equal(entries.Count(entry => entry > 0), report.GetProperty("counts").GetProperty("entered_late").GetInt32());
    }

    [Fact]
    public async Task Two_groups_sent_as_batches_give_the_published_tests_of_equal_lives()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        PublishedCheck groups = PublishedChecks.Get("weibull_groups.leukemia_two_groups");
        double[] ages = groups.Rows.Numbers("weeks");
        double[] failed = groups.Rows.Numbers("status");
        string[] batches = groups.Rows.Text("treatment");
        await PutUnitsAsync(host.Admin, ages.Length);
        var csv = new StringBuilder("key,unit,at,position,removed.reason,fitted.batch\r\n");
        for (int i = 0; i < ages.Length; i++)
        {
            csv.Append(CultureInfo.InvariantCulture, $"in-{i},U{i},{Fitted:O},wash-pump,,{batches[i]}\r\n");
            csv.Append(CultureInfo.InvariantCulture, $"out-{i},U{i},{Fitted.AddDays(ages[i]):O},wash-pump,{(failed[i] == 1 ? "failed" : "precaution")},\r\n");
        }

        await SendAsync(host.Admin, "/v1/records?type=part_change", csv.ToString(), "text/csv", 2 * ages.Length);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump?by=batch");

        JsonElement compared = report.GetProperty("groups");
        groups.AssertClose(compared.GetProperty("common_shape").GetDouble(), "common_shape", "shape");
        groups.AssertClose(compared.GetProperty("equal_scale_p_value").GetDouble(), "test_equal_scale_given_common_shape", "p_value");
        PublishedChecks.Get("log_rank.leukemia_two_groups").AssertClose(compared.GetProperty("log_rank_p_value").GetDouble(), "p_value");
        JsonElement treated = compared.GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("group").GetString() == "6-MP");
        groups.AssertClose(treated.GetProperty("scale").GetDouble(), "common_shape", "scale_mp6");
        Assert.Equal("compared with", treated.GetProperty("verdict").GetString());
        JsonElement control = compared.GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("group").GetString() == "control");
        Assert.Equal("fails earlier", control.GetProperty("verdict").GetString());
        groups.AssertClose(compared.GetProperty("equal_shape_p_value").GetDouble(), "test_equal_shape", "p_value");
        PublishedCheck logRank = PublishedChecks.Get("log_rank.leukemia_two_groups");
        logRank.AssertClose(logRank.Value("expected")[0], treated.GetProperty("expected").GetDouble(), "expected of 6-MP");
        logRank.AssertClose(logRank.Value("expected")[1], control.GetProperty("expected").GetDouble(), "expected of control");

        JsonElement alone = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump?by=batch&group=6-MP");
        groups.AssertClose(alone.GetProperty("weibull").GetProperty("shape").GetProperty("estimate").GetDouble(), "separate", "mp6", "shape");
        groups.AssertClose(alone.GetProperty("weibull").GetProperty("scale").GetProperty("estimate").GetDouble(), "separate", "mp6", "scale");
        AssertSurvival(PublishedChecks.Get("kaplan_meier.leukemia_6mp"), alone.GetProperty("kaplan_meier"), 1);
    }

    [Fact]
    public async Task Three_groups_sent_as_batches_give_the_published_tests_and_scales()
    {
        PublishedCheck groups = PublishedChecks.Get("weibull_groups.motor_insulation_three_groups");
        PublishedPart[] parts =
            [.. PublishedFleet.FromStatus(groups.Rows, "time", HoursPerDay, "temp").Where(part => part.Batch != "150")];

        JsonElement report = await PublishedFleet.ReportAsync(parts, "?by=batch");

        JsonElement compared = report.GetProperty("groups");
        groups.AssertClose(compared.GetProperty("common_shape").GetDouble(), "common_shape", "shape");
        groups.AssertClose(compared.GetProperty("equal_shape_p_value").GetDouble(), "test_equal_shape", "p_value");
        groups.AssertClose(compared.GetProperty("equal_scale_p_value").GetDouble(), "test_equal_scale_given_common_shape", "p_value");
        PublishedChecks.Get("log_rank.motor_insulation_three_groups").AssertClose(compared.GetProperty("log_rank_p_value").GetDouble(), "p_value");
        JsonElement[] rows = [.. compared.GetProperty("rows").EnumerateArray().OrderBy(row => row.GetProperty("group").GetString(), StringComparer.Ordinal)];
        groups.AssertAllClose(rows.Select(row => row.GetProperty("scale").GetDouble() * HoursPerDay), "common_shape", "scale");
    }

    [Fact]
    public async Task Used_parts_give_the_published_survival_with_delayed_entry()
    {
        PublishedCheck check = PublishedChecks.Get("kaplan_meier.generator_fans_delayed_entry");
        double[] entries = check.Rows.Numbers("entry_hours");
        PublishedPart[] parts =
        [
            .. PublishedFleet.FromStatus(check.Rows, "hours", HoursPerDay).Select((part, i) => part with { Entry = entries[i] / HoursPerDay }),
        ];

        PublishedFleet.AssertSurvival(check, await PublishedFleet.ReportAsync(parts), HoursPerDay);
    }

    [Fact]
    public async Task Two_failures_are_answered_in_words_and_with_the_exact_bound_of_a_constant_rate()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await PutUnitsAsync(host.Admin, 2);
        object[] records =
        [
            .. Enumerable.Range(0, 2).SelectMany(i => new object[]
            {
                new { type = "part_change", key = $"in-{i}", unit = $"U{i}", at = Fitted, position = "wash-pump", fitted = new { } },
                new
                {
                    type = "part_change", key = $"out-{i}", unit = $"U{i}", at = Fitted.AddDays(100), position = "wash-pump",
                    removed = new { reason = "failed" },
                },
            }),
        ];
        await SendAsync(host.Admin, "/v1/records", JsonSerializer.Serialize(records), "application/json", 4);
        JsonElement report = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump");

        Assert.Equal(JsonValueKind.Null, report.GetProperty("weibull").ValueKind);
        JsonElement few = report.GetProperty("not_enough");
        Assert.Contains("too few failures (2)", few.GetProperty("message").GetString(), StringComparison.OrdinalIgnoreCase);
        // 2 T / chi-square(0.95; 2 r + 2 = 6) = 400 / 12.5916 (chi-square tables): 31.77 days.
        Assert.Equal(31.77, few.GetProperty("mean_life_lower_bound").GetDouble(), 2);
        Assert.Equal(200, few.GetProperty("time_under_watch").GetDouble(), 6);
    }

    private static async Task PutUnitsAsync(HttpClient client, int count)
    {
        await Samples.PutAllAsync(client);
        using HttpResponseMessage answer = await client.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units = Enumerable.Range(0, count).Select(i => new { unit = $"U{i}", site = "pier-4", model = "T10", commissioned_on = "2012-01-01" }),
            rules = Array.Empty<object>(),
        });
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
    }

    private static async Task SendAsync(HttpClient client, string path, string body, string mediaType, int accepted)
    {
        using HttpResponseMessage answer = await client.PostAsync(path, new StringContent(body, Encoding.UTF8, mediaType));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        Assert.True(JsonDocument.Parse(text).RootElement.GetProperty("accepted").GetInt32() == accepted, text);
    }

    private static void AssertFit(PublishedCheck check, JsonElement weibull, double perUnit)
    {
        foreach ((string name, double factor) in new[] { ("shape", 1), ("scale", perUnit), ("mean_life", perUnit), ("b10", perUnit), ("b50", perUnit) })
        {
            JsonElement figure = weibull.GetProperty(name);
            check.AssertClose(figure.GetProperty("estimate").GetDouble() * factor, name, "estimate");
            check.AssertClose(figure.GetProperty("lower").GetDouble() * factor, name, "lower_profile");
            check.AssertClose(figure.GetProperty("upper").GetDouble() * factor, name, "upper_profile");
        }
    }

    private static void AssertSurvival(PublishedCheck check, JsonElement steps, double perUnit)
    {
        JsonElement[] given = [.. steps.EnumerateArray()];
        check.AssertAllClose(given.Select(step => step.GetProperty("age").GetDouble() * perUnit), "time");
        check.AssertAllClose(given.Select(step => step.GetProperty("at_risk").GetDouble()), "at_risk");
        check.AssertAllClose(given.Select(step => step.GetProperty("survival").GetDouble()), "survival");
        check.AssertAllClose(given.Select(step => step.GetProperty("lower").GetDouble()), "lower_loglog");
        check.AssertAllClose(given.Select(step => step.GetProperty("upper").GetDouble()), "upper_loglog");
    }
}
