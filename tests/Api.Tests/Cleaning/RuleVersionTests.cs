using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>A changed rule does not rewrite the past. The clock stands at noon of 5 March 2026, UTC; nobody washes.</summary>
public sealed class RuleVersionTests
{
    private const string Daily = """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":0 """;
    private const string Now = "2026-03-05T12:00:00Z";

    [Theory]
    [InlineData(""" "scope":{},"grade":"standard","every_trading_days":2,"grace_hours":0 """)]
    [InlineData(""" "scope":{},"grade":"standard","every_hours":10,"grace_hours":1 """)]
    [InlineData(""" "scope":{},"grade":"intensive","every_trading_days":1,"grace_hours":0 """)]
    [InlineData(""" "scope":{"unit":"OVEN-1"},"grade":"standard","every_trading_days":1,"grace_hours":5 """)]
    [InlineData(""" "scope":{},"grade":"descale","every_washes":1,"grace_hours":0 """)]
    public async Task A_closed_window_stays_as_it_was_whatever_the_rule_becomes(string changed)
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        await oven.WashAsync("standard", "2026-03-02T20:00:00Z", "2026-03-02T21:00:00Z");
        await oven.RuleAsync("r", Daily);
        string before = OneOven.Figures((await PastAsync(oven)).GetProperty("total"));
        JsonElement status = (await oven.StatusAsync())["r"];

        await oven.RuleAsync("r", changed);

        Assert.Equal(before, OneOven.Figures((await PastAsync(oven)).GetProperty("total")));
        Assert.Equal(status.GetRawText(), (await oven.StatusAsync())["r"].GetRawText());
    }

    [Fact]
    public async Task The_new_content_holds_from_the_first_day_that_has_begun_nowhere_and_the_basis_follows()
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        await oven.RuleAsync("r", Daily);
        await oven.PutAsync("/v1/rules/r", """{"basis":"new text","scope":{},"grade":"standard","every_trading_days":2,"grace_hours":0}""");

        // At noon of 5 March it is 6 March already in the easternmost zone, so 7 March is the first day that has begun nowhere.
        JsonElement versions = await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/rules/r/versions");
        Assert.Equal("2026-03-07", versions.GetProperty("holds_from").GetString());
        Assert.Equal("2026-03-06", Assert.Single(versions.GetProperty("earlier").EnumerateArray()).GetProperty("until").GetString());
        Assert.Equal("says r", (await oven.StatusAsync())["r"].GetProperty("rule_basis").GetString());
        oven.Host.Clock.Now = OneOven.At("2026-03-07T00:00:00Z");
        Assert.Equal("new text", (await oven.StatusAsync())["r"].GetProperty("rule_basis").GetString());
    }

    [Fact]
    public async Task A_day_may_be_named_and_always_replaces_the_past()
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        await oven.RuleAsync("r", Daily);
        string two = """ "scope":{},"grade":"standard","every_trading_days":2,"grace_hours":0 """;

        // Window of four days: daily asks at the end of each; every second day from 3 March on: at the ends of 1, 2 and 4 March.
        await oven.RuleAsync("r", two, "?from=2026-03-03");
        Assert.Equal("0/3 in_order=72 nobody_started=24", OneOven.Figures((await PastAsync(oven)).GetProperty("total")));

        // Every second day from 1 March: at the ends of 2 and 4 March; overdue on 3 and 4 March.
        await oven.RuleAsync("r", two, "?from=always");
        Assert.Equal("0/2 in_order=48 nobody_started=48", OneOven.Figures((await PastAsync(oven)).GetProperty("total")));
        JsonElement versions = await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/rules/r/versions");
        Assert.All(versions.GetProperty("earlier").EnumerateArray(), one => Assert.Equal(JsonValueKind.String, one.GetProperty("withdrawn_at").ValueKind));
    }

    [Fact]
    public async Task The_same_again_changes_nothing_and_an_export_carries_the_versions()
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        await oven.RuleAsync("r", Daily);
        await oven.RuleAsync("r", Daily.Replace("\"grace_hours\":0", "\"grace_hours\":3"));
        string document = await oven.Host.Admin.GetStringAsync("/v1/registry");
        await oven.RuleAsync("r", Daily.Replace("\"grace_hours\":0", "\"grace_hours\":3"));
        await oven.PutAsync("/v1/registry", document);
        Assert.Equal(document, await oven.Host.Admin.GetStringAsync("/v1/registry"));

        await using ApiHost other = await ApiHost.StartAsync(OneOven.At(Now));
        using HttpResponseMessage put = await Registry.Samples.PutAsync(other.Admin, "/v1/registry", document);
        Assert.Equal(HttpStatusCode.OK, put.StatusCode);
        Assert.Equal(document, await other.Admin.GetStringAsync("/v1/registry"));
        Assert.Contains("rule_versions", document, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_from_that_is_no_day_is_refused()
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        using HttpResponseMessage answer = await Registry.Samples.PutAsync(
            oven.Host.Admin, "/v1/rules/r?from=tomorrow", $$"""{"basis":"b",{{Daily}}}""");
        await ProblemAssert.ListsAsync(answer, "from date");
    }

    private static Task<JsonElement> PastAsync(OneOven oven) => oven.ComplianceAsync("2026-03-01T00:00:00Z", "2026-03-05T00:00:00Z");
}
