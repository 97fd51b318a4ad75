using System.Net;
using System.Text.Json;

namespace Washwear.Api.Tests.Planning;

/// <summary>Pages on what lies behind the plan, over HTTP, on a fleet with published lives.</summary>
public sealed class PlanningPagesTests
{
    private static readonly (string Page, string Data)[] Headed =
    [
        ("/planning/parts", "/v1/plan/replacements"), ("/planning/stock", "/v1/plan/stock"), ("/planning/forecast", "/v1/plan/failures"),
        ("/planning/parts?position=wash-pump", "/v1/plan/replacements?position=wash-pump"), ("/planning/stock?stock_point=van-1", "/v1/plan/stock?stock_point=van-1"),
        ("/planning/parts?sort=-fitted", "/v1/plan/replacements"), ("/planning/parts?list=together&sort=opened", "/v1/plan/companions"),
        ("/planning/stock?sort=-order", "/v1/plan/stock"), ("/planning/forecast?days=30&by=month", "/v1/plan/failures?days=30&by=month"),
    ];

    [Fact]
    public async Task A_page_is_headed_by_the_finding_of_its_data()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100, 400, 900]);
        foreach ((string page, string data) in Headed)
        {
            string finding = (await PlannedFleet.GetAsync(host, data)).GetProperty("sentence").GetString()!;
            Assert.Contains($"<h1 class=\"finding\">{WebUtility.HtmlEncode(finding)}</h1>", (await host.Admin.GetStringAsync(page)).Replace('\u00A0', ' '), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_best_age_its_range_and_the_other_costs_stand_on_the_page_as_the_data_has_them()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100, 400, 900]);
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/replacements?position=wash-pump")).GetProperty("rows").EnumerateArray());
        Assert.Equal("replace_at_age", row.GetProperty("verdict").GetString());

        // A page keeps numbers and units on one line; the API's sentences are plain text.
        string page = (await host.Admin.GetStringAsync("/planning/parts?position=wash-pump")).Replace('\u00A0', ' ');
        Assert.Contains(WebUtility.HtmlEncode(row.GetProperty("sentence").GetString()!), page, StringComparison.Ordinal);
        JsonElement age = row.GetProperty("age");
        Assert.Contains($"the cheapest age lies in: {age.GetProperty("lower").GetDouble():0} to {age.GetProperty("upper").GetDouble():0} days", page, StringComparison.Ordinal);
        Assert.Contains($"Between {row.GetProperty("flat_from").GetDouble():0} and {row.GetProperty("flat_to").GetDouble():0} days it makes no difference", page, StringComparison.Ordinal);
        Assert.All(row.GetProperty("sensitivity").EnumerateArray(), other =>
            Assert.Contains(WebUtility.HtmlEncode(other.GetProperty("what").GetString()![1..]), page, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/charts/planning/cost.svg?position=wash-pump", "image/svg+xml")]
    [InlineData("/charts/planning/cost.png?position=wash-pump&model=T10&part_number=P-1", "image/png")]
    [InlineData("/charts/planning/forecast.svg", "image/svg+xml")]
    [InlineData("/charts/planning/forecast.png?days=180&by=month", "image/png")]
    public async Task Charts_come_as_pictures(string path, string type)
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100, 400]);
        using HttpResponseMessage answer = await host.Admin.GetAsync(path);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        Assert.Equal(type, answer.Content.Headers.ContentType!.MediaType);
    }

    [Theory]
    [InlineData("/planning/parts", "No fitted part is on record here")]
    [InlineData("/planning", "A plan rests on which parts are fitted since when")]
    [InlineData("/planning/stock", "A plan rests on which parts are fitted since when")]
    [InlineData("/planning/forecast", "A plan rests on which parts are fitted since when")]
    public async Task A_fleet_without_anything_is_told_so_in_words(string path, string words)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        Assert.Contains(words, await host.Admin.GetStringAsync(path), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_choice_that_names_nothing_gives_an_empty_page_and_no_cost_curve()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100]);
        foreach ((string page, _) in Headed)
        {
            string path = page.Split('?')[0] + "?site=" + Uri.EscapeDataString("<b>\"nowhere");
            Assert.Contains("Show all", await host.Admin.GetStringAsync(path), StringComparison.Ordinal);
        }

        using HttpResponseMessage curve = await host.Admin.GetAsync("/charts/planning/cost.svg?position=nothing");
        await ProblemAssert.IsAsync(HttpStatusCode.NotFound, curve);
    }

    [Theory]
    [InlineData("/planning/forecast?days=0", "days range")]
    [InlineData("/planning/forecast?days=x&by=year", "days range", "by choice")]
    [InlineData("/charts/planning/forecast.svg?by=year", "by choice")]
    [InlineData("/charts/planning/forecast.gif", "format choice")]
    [InlineData("/planning/stock?after=nonsense", "after cursor")]
    [InlineData("/planning/stock?sort=price", "sort choice")]
    [InlineData("/planning/parts?sort=past_age", "sort choice")]
    [InlineData("/planning/parts?list=all", "list choice")]
    public async Task Bad_questions_are_refused(string path, params string[] fieldsAndRules)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage answer = await host.Admin.GetAsync(path);
        await ProblemAssert.ListsAsync(answer, fieldsAndRules);
    }
}
