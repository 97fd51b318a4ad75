using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>Rules that overlap or can never be met, and sites whose zone is wrong, over HTTP.</summary>
public sealed class RuleConflictTests
{
    private const string Daily = """ "scope":{"site":"pier-4"},"grade":"standard","every_trading_days":1,"grace_hours":0 """;

    [Fact]
    public async Task Two_rules_of_one_scope_and_grade_on_the_same_days_are_refused_naming_the_other()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        await oven.RuleAsync("daily", Daily);

        using HttpResponseMessage refused = await PutAsync(oven, "/v1/rules/other",
            """{"basis":"b","scope":{"site":"PIER-4"},"grade":"standard","every_hours":36,"grace_hours":0,"valid_from":"2026-04-01"}""");
        JsonElement problem = Assert.Single((await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, refused)).GetProperty("errors").EnumerateArray());
        Assert.Equal("overlap", problem.GetProperty("rule").GetString());
        Assert.Contains("'daily'", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Contains("from 2026-04-01 on", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);

        // Another grade, another scope, other days, and the same content again are no overlap.
        await oven.RuleAsync("weekly", """ "scope":{"site":"pier-4"},"grade":"intensive","every_trading_days":6,"grace_hours":0 """);
        await oven.RuleAsync("own", """ "scope":{"unit":"OVEN-1"},"grade":"standard","every_hours":36,"grace_hours":0 """);
        await oven.RuleAsync("daily", Daily);
        await oven.RuleAsync("daily", Daily + ""","valid_to":"2026-03-31" """);
        await oven.RuleAsync("other", """ "scope":{"site":"pier-4"},"grade":"standard","every_hours":36,"grace_hours":0,"valid_from":"2026-04-01" """);
    }

    [Fact]
    public async Task A_document_lists_every_overlap_among_its_rules_and_takes_nothing_in()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        object Rule(string code) => new { rule = code, scope = new { }, grade = "standard", every_hours = 24, grace_hours = 0, basis = "b" };
        using HttpResponseMessage answer = await oven.Host.Admin.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units = Array.Empty<object>(),
            rules = new[] { Rule("a"), Rule("b") },
        });
        await ProblemAssert.ListsAsync(answer, "rules[0].valid_from overlap", "rules[1].valid_from overlap");
        Assert.Equal(0, (await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/rules")).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task A_rule_that_no_programme_can_keep_is_taken_and_doubted()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        await oven.RuleAsync("hourly", """ "scope":{},"grade":"standard","every_hours":1,"grace_hours":0 """);
        await oven.PutAsync("/v1/models/T10", """
            {"name":"Ten-tray oven","kind":"combi oven","positions":[],"faults":[],
             "programmes":[{"programme":"std","grade":"standard","minutes":90},{"programme":"int","grade":"intensive","minutes":150}]}
            """);
        await oven.RuleAsync("scale", """ "scope":{},"grade":"descale","every_washes":30,"grace_hours":0 """);

        JsonElement status = await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status");
        string doubts = string.Join(' ', status.GetProperty("basis").GetProperty("doubts").EnumerateArray().Select(doubt => doubt.GetString()));
        Assert.Contains("Rule hourly and model T10: a wash takes 1 h 30 min, longer than the 1 h", doubts, StringComparison.Ordinal);
        Assert.Contains("Rule scale and model T10: no programme of the model reaches the grade", doubts, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_site_whose_zone_is_mended_is_judged_anew_on_all_days_past()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        await oven.RuleAsync("daily", Daily);
        await oven.WashAsync("standard", "2026-03-02T22:00:00Z", "2026-03-02T23:30:00Z");

        // In UTC 1 March ends at 0:00 on the 2nd: overdue 23.5 h until the wash, which keeps the 2nd.
        // In Tokyo 1 March ends at 15:00Z on the 1st: overdue 32.5 h until the wash, which falls into the 3rd there and keeps it.
        Assert.Equal("1/3 in_order=48.5 nobody_started=23.5", await FiguresAsync(oven));
        await oven.PutAsync("/v1/sites/pier-4", """{"operator":"harbour","name":"Pier 4","time_zone":"Asia/Tokyo"}""");
        Assert.Equal("1/3 in_order=39.5 nobody_started=32.5", await FiguresAsync(oven));
    }

    [Theory]
    [InlineData("\"time_zone\":\"europe/vienna\"", "time_zone", "Write it as 'Europe/Vienna'.")]
    [InlineData("\"time_zone\":\"UTC+2\"", "time_zone", "daylight-saving")]
    [InlineData("\"time_zone\":\"UTC\",\"trading_days\":{\"weekdays\":[\"mon\"],\"ends_at\":\"26:00\"}", "trading_days.ends_at", "02:00")]
    [InlineData("\"time_zone\":\"UTC\",\"trading_days\":{\"weekdays\":[\"mon\"],\"ends_at\":\"24:00\"}", "trading_days.ends_at", "00:00")]
    public async Task A_wrong_zone_or_end_of_day_says_how_to_write_it(string fields, string field, string mend)
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        using HttpResponseMessage answer = await PutAsync(oven, "/v1/sites/pier-4", $$"""{"operator":"harbour","name":"Pier 4",{{fields}}}""");
        JsonElement problem = Assert.Single((await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer)).GetProperty("errors").EnumerateArray());
        Assert.Equal(field, problem.GetProperty("field").GetString());
        Assert.Contains(mend, problem.GetProperty("mend").GetString(), StringComparison.Ordinal);
    }

    private static Task<HttpResponseMessage> PutAsync(OneOven oven, string path, string body) =>
        oven.Host.Admin.PutAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));

    private static async Task<string> FiguresAsync(OneOven oven) =>
        OneOven.Figures((await oven.ComplianceAsync("2026-03-01T00:00:00Z", "2026-03-04T00:00:00Z")).GetProperty("rows")[0]);
}
