using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Planning;

namespace Washwear.Api.Tests.Planning;

/// <summary>Forecasts of quarters are kept and held against what came. The test's day is 2 March 2026.</summary>
public sealed class CalibrationTests
{
    [Fact]
    public async Task The_quarter_that_goes_on_and_the_one_before_are_kept_once_and_say_that_they_were_made_afterwards()
    {
        await using ApiHost host = await StartAsync(withEnds: true);
        KeptForecasts forecasts = host.Services.GetRequiredService<KeptForecasts>();
        Assert.Equal(2, await forecasts.KeepAsync(CancellationToken.None));
        Assert.Equal(0, await forecasts.KeepAsync(CancellationToken.None));
        JsonElement report = await PlannedFleet.GetAsync(host, "/v1/plan/calibration");
        JsonElement[] all = [.. report.GetProperty("rows").EnumerateArray().Where(row => row.GetProperty("part_number").ValueKind == JsonValueKind.Null)];
        Assert.Equal(["2026-Q1", "2025-Q4"], all.Select(row => row.GetProperty("quarter").GetString()));
        Assert.All(all, row => Assert.True(row.GetProperty("made_afterwards").GetBoolean()));
        Assert.Equal([false, true], all.Select(row => row.GetProperty("is_over").GetBoolean()));
        Assert.Equal(JsonValueKind.Null, all[0].GetProperty("inside").ValueKind);

        host.Clock.Now = new DateTimeOffset(2026, 4, 1, 5, 0, 0, TimeSpan.Zero);
        Assert.Equal(1, await forecasts.KeepAsync(CancellationToken.None));
        JsonElement second = (await PlannedFleet.GetAsync(host, "/v1/plan/calibration")).GetProperty("rows")[0];
        Assert.Equal("2026-Q2", second.GetProperty("quarter").GetString());
        Assert.False(second.GetProperty("made_afterwards").GetBoolean());
    }

    [Fact]
    public async Task Failures_that_came_are_counted_parts_taken_out_working_are_not_scored()
    {
        await using ApiHost host = await StartAsync(withEnds: true);
        await host.Services.GetRequiredService<KeptForecasts>().KeepAsync(CancellationToken.None);
        JsonElement report = await PlannedFleet.GetAsync(host, "/v1/plan/calibration");
        JsonElement row = report.GetProperty("rows").EnumerateArray().First(one => one.GetProperty("quarter").GetString() == "2025-Q4");
        Assert.Equal((4, 1, 1), (row.GetProperty("parts").GetInt32(), row.GetProperty("taken_out").GetInt32(), row.GetProperty("observed").GetInt32()));
        Assert.True(row.GetProperty("inside").GetBoolean());
        Assert.Equal((3, 1), (report.GetProperty("scored").GetInt32(), report.GetProperty("observed").GetInt32()));
        Assert.Equal(row.GetProperty("expected").GetDouble(), report.GetProperty("expected").GetDouble(), 1e-12);
        Assert.Equal(1, report.GetProperty("basis").GetProperty("excluded").EnumerateObject().Single().Value.GetInt32());
        Assert.Equal(3, report.GetProperty("bands").EnumerateArray().Sum(band => band.GetProperty("parts").GetInt32()));
        Assert.InRange(report.GetProperty("brier").GetDouble(), 0, 1);
        Assert.StartsWith("quarter,part_number,made_at,", await host.Admin.GetStringAsync("/v1/plan/calibration?format=csv"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_came_later_changes_nothing_of_a_forecast_that_is_made_afterwards()
    {
        Assert.Equal(await SaidAsync(withEnds: false), await SaidAsync(withEnds: true));

        static async Task<double[]> SaidAsync(bool withEnds)
        {
            await using ApiHost host = await StartAsync(withEnds);
            await host.Services.GetRequiredService<KeptForecasts>().KeepAsync(CancellationToken.None);
            return [.. (await host.Services.GetRequiredService<KeptForecastQueries>().PartsAsync(CancellationToken.None))
                .Where(part => part.Quarter == "2025-Q4").Select(part => part.Chance).Order()];
        }
    }

    // Four pumps came in on 1 June 2025; one failed and one was taken out in the last quarter of that year.
    private static async Task<ApiHost> StartAsync(bool withEnds)
    {
        ApiHost host = await PlannedFleet.StartAsync([]);
        object[] units = [.. Enumerable.Range(0, 4).Select(i => (object)new { unit = $"Q-{i}", site = "quay", model = "T10", commissioned_on = "2025-06-01" })];
        using HttpResponseMessage put = await host.Admin.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units,
            rules = Array.Empty<object>(),
        });
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());
        List<object> records = [.. Enumerable.Range(0, 4).Select(i => Change($"q-{i}", $"Q-{i}", "2025-06-01T08:00:00Z", null))];
        if (withEnds)
        {
            records.Add(Change("failed", "Q-0", "2025-11-15T08:00:00Z", "failed"));
            records.Add(Change("swapped", "Q-1", "2025-12-01T08:00:00Z", "precaution"));
        }

        using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", records);
        Assert.Equal(records.Count, (await sent.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accepted").GetInt32());
        return host;
    }

    private static object Change(string key, string unit, string at, string? reason) => new
    {
        type = "part_change",
        key,
        unit,
        at,
        position = "wash-pump",
        removed = reason is null ? null : new { reason },
        fitted = new { part_number = "P-1", age_days = reason is null ? 400 : 0 },
    };
}
