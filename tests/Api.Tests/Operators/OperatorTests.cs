using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operators;

/// <summary>An operator of seven kitchens, one oven each, and another with one; it is Monday 2 March 2026, 12:00 UTC.</summary>
public sealed class OperatorTests : IAsyncLifetime
{
    private const int Kitchens = 7;

    // Two-sided 95 % point of Student's t on 6 degrees of freedom: any printed table, such as NIST/SEMATECH e-Handbook 1.3.6.7.2.
    private const double TOnSix = 2.447;

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
        await PutAsync("/v1/operators/other", """{"name":"Other Kitchens (invented)"}""");
        for (int i = 2; i <= Kitchens; i++)
        {
            await PutAsync($"/v1/sites/pier-{i + 10}", Samples.Site.Replace("Pier 4", $"Pier {i + 10}", StringComparison.Ordinal));
            await PutAsync($"/v1/units/OVEN-{i}", Samples.Unit.Replace("PIER-4", $"PIER-{i + 10}", StringComparison.Ordinal));
        }

        await PutAsync("/v1/sites/elsewhere", Samples.Site.Replace("harbour", "other", StringComparison.Ordinal).Replace("Pier 4", "Elsewhere", StringComparison.Ordinal));
        await PutAsync("/v1/units/OVEN-99", Samples.Unit.Replace("PIER-4", "ELSEWHERE", StringComparison.Ordinal));

        // Oven i misses each (i + 2)nd day of January and each (i + 4)th of February; the last two stop washing on 20 February.
        List<string> washes = [];
        for (int i = 1; i <= Kitchens; i++)
        {
            for (int day = 0; day < 60; day++)
            {
                DateTimeOffset at = new DateTimeOffset(2026, 1, 1, 22, 0, 0, TimeSpan.FromHours(1)).AddDays(day);
                bool missed = (day + 1) % (day < 31 ? i + 2 : i + 4) == 0 || (i > 5 && day > 50);
                if (!missed)
                {
                    string started = at.ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);
                    string ended = at.AddHours(1).ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);
                    washes.Add(Wash($"w{i}-{day}", $"OVEN-{i}", started, ended));
                }
            }

            washes.Add($$"""{"type":"heartbeat","key":"h{{i}}","unit":"OVEN-{{i}}","at":"2026-03-02T12:00:00+01:00"}""");
        }

        washes.Add("""{"type":"fault","key":"f7","unit":"OVEN-7","at":"2026-02-21T08:00:00+01:00","code":"E21"}""");
        Sending.AssertCounts(await Sending.SendAsync(_host.Admin, string.Join('\n', washes), "application/x-ndjson"), accepted: washes.Count);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task The_kitchens_stand_by_what_needs_them_each_with_reason_mover_and_one_step()
    {
        JsonElement report = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/HARBOUR/overview");
        Assert.Equal("Harbour Kitchens (invented)", report.GetProperty("operator_name").GetString());
        Assert.Equal(Kitchens, report.GetProperty("kitchens").GetInt32());
        JsonElement[] rows = [.. report.GetProperty("rows").EnumerateArray()];
        Assert.Equal(Kitchens, rows.Length);
        string?[] first = [.. rows.Take(2).Select(row => row.GetProperty("worst").GetProperty("unit").GetString())];
        Assert.Contains("OVEN-6", first);
        Assert.Contains("OVEN-7", first);
        JsonElement locked = rows.Single(row => row.GetProperty("worst").GetProperty("unit").GetString() == "OVEN-7");
        Assert.Equal("locked_out", locked.GetProperty("worst").GetProperty("state").GetString());
        Assert.Equal("kitchen", locked.GetProperty("worst").GetProperty("whose_move").GetString());
        Assert.Equal("Ask for a visit", locked.GetProperty("next_step").GetString());
        Assert.DoesNotContain("ELSEWHERE", report.GetRawText(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Each_kitchen_comes_once_when_paged_and_the_csv_has_all()
    {
        List<string> seen = [];
        string? after = null;
        do
        {
            JsonElement page = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/overview?limit=3" + (after is null ? null : "&after=" + after));
            seen.AddRange(page.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("site").GetString()!));
            after = page.GetProperty("next").GetString();
        }
        while (after is not null);
        Assert.Equal(Kitchens, seen.Distinct().Count());
        Assert.Equal(Kitchens, seen.Count);
        string csv = await _host.Admin.GetStringAsync("/v1/operators/harbour/overview?format=csv");
        Assert.Equal(Kitchens + 1, csv.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    [Fact]
    public async Task Both_stretches_say_what_compliance_says_and_their_change_has_the_bounds_of_units_as_clusters()
    {
        JsonElement washing = (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/harbour/overview")).GetProperty("washing");
        var shares = new List<Dictionary<string, (int Due, int Kept)>>();
        foreach (string name in new[] { "before", "now" })
        {
            JsonElement stretch = washing.GetProperty(name);
            string window = $"from={stretch.GetProperty("from").GetString()}&to={stretch.GetProperty("to").GetString()}";
            JsonElement compliance = await _host.Admin.GetFromJsonAsync<JsonElement>($"/v1/cleaning/compliance?operator=harbour&by=unit&{window}");
            foreach (string figure in new[] { "due", "on_time", "on_time_share", "time_within_share" })
            {
                Assert.Equal(compliance.GetProperty("total").GetProperty(figure).GetRawText(), stretch.GetProperty(figure).GetRawText());
            }

            Assert.Equal(
                compliance.GetProperty("rows").EnumerateArray().Count(row => row.GetProperty("due").GetInt32() > 0), stretch.GetProperty("units").GetInt32());
            shares.Add(compliance.GetProperty("rows").EnumerateArray().ToDictionary(
                row => row.GetProperty("group").GetString()!, row => (row.GetProperty("due").GetInt32(), row.GetProperty("on_time").GetInt32())));
        }

        // The difference of two shares of the same units, worked out here from the units: each unit's part in it, squared and added up.
        (double due0, double kept0) = (shares[0].Values.Sum(one => one.Due), shares[0].Values.Sum(one => one.Kept));
        (double due1, double kept1) = (shares[1].Values.Sum(one => one.Due), shares[1].Values.Sum(one => one.Kept));
        double difference = (kept1 / due1) - (kept0 / due0);
        double squares = shares[0].Keys.Sum(unit =>
        {
            (int d0, int k0) = shares[0][unit];
            (int d1, int k1) = shares[1][unit];
            double part = ((k1 - (d1 * kept1 / due1)) / due1) - ((k0 - (d0 * kept0 / due0)) / due0);
            return part * part;
        });
        double all = due0 + due1;
        double error = Math.Sqrt(Kitchens / (Kitchens - 1.0) * ((all - 1) / (all - 2)) * squares);
        JsonElement change = washing.GetProperty("change");
        Assert.Equal(difference, change.GetProperty("estimate").GetDouble(), 9);
        Assert.Equal(difference - (TOnSix * error), change.GetProperty("lower").GetDouble(), 3e-4 * error * 10);
        Assert.Equal(difference + (TOnSix * error), change.GetProperty("upper").GetDouble(), 3e-4 * error * 10);
    }

    [Fact]
    public async Task Fewer_than_six_ovens_are_too_few_to_tell_a_change()
    {
        await PutAsync("/v1/rules/daily-other", Samples.Rule.Replace("harbour", "other", StringComparison.Ordinal));
        await Sending.SendAsync(_host.Admin, Wash("o1", "OVEN-99", "2026-02-20T22:00:00+01:00", "2026-02-20T23:00:00+01:00"));
        JsonElement washing = (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/operators/other/overview")).GetProperty("washing");
        Assert.Contains("cannot be told", washing.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, washing.TryGetProperty("change", out JsonElement change) ? change.ValueKind : JsonValueKind.Null);
    }

    [Fact]
    public async Task The_pages_open_and_lead_to_each_other()
    {
        string list = await _host.Admin.GetStringAsync("/operators?q=KITCHENS");
        Assert.Contains("href=\"/operators/harbour\"", list, StringComparison.Ordinal);
        Assert.Contains("href=\"/operators/other\"", list, StringComparison.Ordinal);
        string page = await _host.Admin.GetStringAsync("/operators/harbour");
        Assert.Contains("Ask for a visit", page, StringComparison.Ordinal);
        foreach (string link in new[] { "/sites", "/sites/pier-4", "/units/OVEN-1", "/cleaning" })
        {
            Assert.Contains("href=\"/operators/harbour\"", await _host.Admin.GetStringAsync(link), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("/operators/nobody", HttpStatusCode.NotFound)]
    [InlineData("/v1/operators/nobody/overview", HttpStatusCode.NotFound)]
    [InlineData("/v1/operators/harbour/overview?after=rubbish", HttpStatusCode.BadRequest)]
    [InlineData("/operators/harbour?limit=0", HttpStatusCode.BadRequest)]
    [InlineData("/operators?q=nothing-like-it", HttpStatusCode.OK)]
    public async Task What_is_asked_wrongly_is_said(string address, HttpStatusCode status)
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync(address);
        Assert.Equal(status, answer.StatusCode);
    }

    [Fact]
    public async Task Who_may_see_one_operator_finds_that_one_alone()
    {
        using HttpClient caller = await _host.ClientAsync(Abilities.Read, "other-desk", Scope.Of(ScopeKind.Operators, ["other"]));
        Assert.DoesNotContain("harbour", await caller.GetStringAsync("/operators"), StringComparison.OrdinalIgnoreCase);
        using HttpResponseMessage page = await caller.GetAsync("/operators/harbour");
        using HttpResponseMessage overview = await caller.GetAsync("/v1/operators/harbour/overview");
        Assert.Equal(HttpStatusCode.NotFound, page.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, overview.StatusCode);
        Assert.Contains("Other Kitchens", await caller.GetStringAsync("/operators/other"), StringComparison.Ordinal);
    }

    private static string Wash(string key, string unit, string started, string ended) =>
        $$"""{"type":"wash","key":"{{key}}","unit":"{{unit}}","at":"{{started}}","ended_at":"{{ended}}","grade":"standard","outcome":"completed"}""";

    private async Task PutAsync(string path, string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, path, body);
        Assert.True(answer.IsSuccessStatusCode, path + ": " + await answer.Content.ReadAsStringAsync());
    }
}
