using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.PartLife;

/// <summary>Ages of parts from what is on record.</summary>
public sealed class FleetLivesTests
{
    [Fact]
    public async Task A_part_fitted_after_its_unit_fell_silent_is_not_younger_than_new()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, """
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-02T10:00:00Z"}
            {"type":"part_change","key":"p","unit":"OVEN-1","at":"2026-01-20T10:00:00Z","position":"wash-pump","fitted":{}}

            """, "application/x-ndjson");

        JsonElement today = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/today");
        Assert.Equal(1, today.GetProperty("units").GetInt32());
        JsonElement lives = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump/lives");
        Assert.Equal(0, lives.GetProperty("items")[0].GetProperty("age_days").GetDouble());
    }

    [Fact]
    public async Task A_part_of_a_silent_unit_is_as_old_as_when_the_unit_was_last_heard()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, """
            {"type":"part_change","key":"p","unit":"OVEN-1","at":"2026-01-02T10:00:00Z","position":"wash-pump","fitted":{}}
            {"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-01-12T10:00:00Z"}

            """, "application/x-ndjson");

        JsonElement lives = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump/lives");
        Assert.Equal(10, lives.GetProperty("items")[0].GetProperty("age_days").GetDouble());
    }
}
