using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Approvals;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>Time before a unit was commissioned is not owed, as ever, and is told apart from a time out of service.</summary>
public sealed class CommissioningTests : IAsyncLifetime
{
    private WaitingOven _oven = null!;

    public async Task InitializeAsync() => _oven = await WaitingOven.StartAsync(("alert_check_minutes", "0"));

    public Task DisposeAsync() => _oven.DisposeAsync().AsTask();

    // Commissioned on 1 March at midnight UTC; the window begins four days before: 96 h, of which nothing is owed. Then out of service for 12 h.
    [Fact]
    public async Task Hours_before_commissioning_are_told_among_those_out_of_service()
    {
        using HttpResponseMessage put = await Samples.PutAsync(
            _oven.Host.Admin,
            "/v1/units/OVEN-2",
            """
            {"site":"pier-4","model":"T10","commissioned_on":"2026-03-01","reporting_hours":8784,
             "out_of_service":[{"from":"2026-03-03T00:00:00Z","to":"2026-03-03T12:00:00Z","reason":"rebuilt"}]}
            """);
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());
        JsonElement report = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>(
            "/v1/cleaning/compliance?from=2026-02-25T00:00:00Z&to=2026-03-05T00:00:00Z&unit=OVEN-2&by=unit");
        foreach (JsonElement row in new[] { report.GetProperty("total"), report.GetProperty("rows")[0] })
        {
            Assert.Equal(108, row.GetProperty("hours_by_cause").GetProperty("out_of_service").GetDouble(), 1e-9);
            Assert.Equal(96, row.GetProperty("not_yet_there_hours").GetDouble(), 1e-9);
            Assert.Equal(8 * 24, row.GetProperty("window_hours").GetDouble(), 1e-9);
        }

        JsonElement later = await _oven.Host.Admin.GetFromJsonAsync<JsonElement>(
            "/v1/cleaning/compliance?from=2026-03-02T00:00:00Z&to=2026-03-05T00:00:00Z&unit=OVEN-2&by=unit");
        Assert.Equal(0, later.GetProperty("total").GetProperty("not_yet_there_hours").GetDouble());
        Assert.Equal(12, later.GetProperty("total").GetProperty("hours_by_cause").GetProperty("out_of_service").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task A_unit_that_is_still_to_come_says_from_when_it_is_there_and_its_days_before_say_so()
    {
        using HttpResponseMessage put = await Samples.PutAsync(
            _oven.Host.Admin, "/v1/units/OVEN-3", """{"site":"pier-4","model":"T10","commissioned_on":"2026-04-01"}""");
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());
        string coming = await _oven.Host.Admin.GetStringAsync("/v1/units/OVEN-3");
        Assert.Contains("Not yet there: it is in service from", coming, StringComparison.Ordinal);
        Assert.DoesNotContain("Out of service;", coming, StringComparison.Ordinal);

        string there = await _oven.Host.Admin.GetStringAsync("/v1/units/OVEN-2");
        Assert.Contains("\"not yet there\"", there, StringComparison.Ordinal);
        Assert.DoesNotContain("\"out of service\"", there, StringComparison.Ordinal);
    }
}
