using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>The trend by week over HTTP; it is Monday 2 March 2026, 12:00 UTC.</summary>
public sealed class TrendTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        for (int day = 2; day <= 28; day += day % 5 == 0 ? 2 : 1)
        {
            string date = day.ToString("D2", CultureInfo.InvariantCulture);
            await Sending.SendAsync(_host.Admin, Sending.Wash("w" + date, $"2026-02-{date}T22:00:00+01:00", more: $",\"ended_at\":\"2026-02-{date}T23:00:00+01:00\""));
        }
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task Each_week_says_what_compliance_says_of_it_and_the_week_in_course_is_left_out()
    {
        JsonElement trend = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/trend?weeks=4");
        JsonElement[] weeks = [.. trend.GetProperty("weeks").EnumerateArray()];
        Assert.Equal(["2026-W06", "2026-W07", "2026-W08", "2026-W09"], weeks.Select(week => week.GetProperty("week").GetString()));
        Assert.Equal("2026-03-02T00:00:00Z", weeks[^1].GetProperty("to").GetString());
        foreach (JsonElement week in weeks)
        {
            JsonElement total = (await _host.Admin.GetFromJsonAsync<JsonElement>(
                $"/v1/cleaning/compliance?from={week.GetProperty("from").GetString()}&to={week.GetProperty("to").GetString()}")).GetProperty("total");
            Assert.True(total.GetProperty("due").GetInt32() > 0);
            foreach (string figure in new[] { "units", "due", "on_time", "time_within_share", "window_hours", "hours_by_cause", "on_time_share" })
            {
                Assert.Equal(total.GetProperty(figure).GetRawText(), week.GetProperty(figure).GetRawText());
            }
        }
    }

    [Fact]
    public async Task One_unit_is_too_few_to_name_a_trend()
    {
        JsonElement trend = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/trend?weeks=4");
        Assert.Contains("cannot be told: fewer than 6 units (1)", trend.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, trend.TryGetProperty("change", out JsonElement change) ? change.ValueKind : JsonValueKind.Null);
    }

    [Theory]
    [InlineData("?weeks=1", HttpStatusCode.BadRequest)]
    [InlineData("?weeks=105", HttpStatusCode.BadRequest)]
    [InlineData("?whose_move=butler", HttpStatusCode.BadRequest)]
    [InlineData("?site=NOWHERE&model=none&unit=none", HttpStatusCode.OK)]
    [InlineData("?weeks=104&format=csv", HttpStatusCode.OK)]
    public async Task A_query_is_answered_or_refused_with_its_reason(string query, HttpStatusCode status)
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync("/v1/cleaning/trend" + query);
        Assert.Equal(status, answer.StatusCode);
        Assert.NotEmpty(await answer.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task The_page_and_the_chart_open_for_every_choice_also_where_nothing_matches()
    {
        foreach (string query in new[] { "", "?whose_move=kitchen", "?site=pier-4&model=T10&unit=OVEN-1&state=overdue", "?site=%3Cscript%3E" })
        {
            string page = await _host.Admin.GetStringAsync("/cleaning" + query);
            Assert.DoesNotContain("<script>", page[page.IndexOf("<main", StringComparison.Ordinal)..], StringComparison.Ordinal);
            foreach (string format in new[] { "svg", "png" })
            {
                using HttpResponseMessage chart = await _host.Admin.GetAsync($"/charts/cleaning/trend.{format}{query}");
                Assert.Equal(HttpStatusCode.OK, chart.StatusCode);
            }
        }
    }
}
