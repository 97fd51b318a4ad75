using System.Text.Json;

namespace Washwear.Api.Tests.VisitSheets;

/// <summary>What a visit sheet tells of the past: which fault, what was left open, and the washes.</summary>
public sealed class SheetHistoryTests : IAsyncLifetime
{
    private SheetFleet _fleet = null!;

    public async Task InitializeAsync() => _fleet = await SheetFleet.StartAsync();

    public async Task DisposeAsync() => await _fleet.DisposeAsync();

    [Fact]
    public async Task A_worn_part_stays_open_until_it_is_changed_or_found_good()
    {
        await _fleet.VisitAsync("2026-02-01", "proven", null, "OVEN-1",
            ",\"conditions\":[{\"position\":\"HOSE\",\"grade\":\"worn\",\"note\":\"hardened\"}]");
        await _fleet.SendAsync("condition", "2026-02-02T09:00:00Z", "\"position\":\"pump\",\"grade\":\"poor\"");
        Assert.Equal(
            ["Wash pump: poor on 2 Feb 2026, left in.", "Pump hose: worn on 1 Feb 2026, left in (hardened)."], await OpenAsync());

        await _fleet.SendAsync("part_change", "2026-02-03T09:00:00Z", "\"position\":\"hose\",\"fitted\":{\"part_number\":\"H-1\"}");
        Assert.Equal(["Wash pump: poor on 2 Feb 2026, left in."], await OpenAsync());
        await _fleet.SendAsync("condition", "2026-02-04T09:00:00Z", "\"position\":\"pump\",\"grade\":\"good\"");
        Assert.Empty(await OpenAsync());
        await _fleet.SendAsync("condition", "2026-02-05T09:00:00Z", "\"position\":\"hose\",\"grade\":\"worn\"");
        Assert.Equal(["Pump hose: worn on 5 Feb 2026, left in."], await OpenAsync());
    }

    [Fact]
    public async Task What_a_visit_found_and_left_to_wait_for_a_part_stays_open_until_the_part_is_changed()
    {
        await _fleet.VisitAsync("2026-02-01", "waiting_part", """{"position":"pump","failure_mode":"seized"}""", "OVEN-1");
        Assert.Equal(["Wash pump: found at fault on 1 Feb 2026, not changed since (seized)."], await OpenAsync());
        await _fleet.SendAsync(
            "part_change", "2026-02-08T09:00:00Z", "\"position\":\"pump\",\"removed\":{\"reason\":\"failed\"},\"fitted\":{\"part_number\":\"P-1\"}");
        Assert.Empty(await OpenAsync());
    }

    [Fact]
    public async Task The_fault_is_the_open_lockout_else_the_last_one_of_ninety_days_else_none()
    {
        Assert.Equal(JsonValueKind.Null, (await _fleet.SheetAsync()).GetProperty("fault").ValueKind);
        await _fleet.SendAsync("fault", "2025-11-20T08:00:00Z", "\"code\":\"E21\",\"cleared_at\":\"2025-11-21T08:00:00Z\"");
        Assert.Equal(JsonValueKind.Null, (await _fleet.SheetAsync()).GetProperty("fault").ValueKind);
        await _fleet.SendAsync("fault", "2026-02-10T08:00:00Z", "\"code\":\"E21\",\"cleared_at\":\"2026-02-11T08:00:00Z\"");
        JsonElement last = (await _fleet.SheetAsync()).GetProperty("fault");
        Assert.Equal("last_lockout", last.GetProperty("reason").GetString());
        Assert.Equal(2, last.GetProperty("raised_last_year").GetInt32());
        await _fleet.SendAsync("fault", "2026-02-20T08:00:00Z", "\"code\":\"E50\"");
        Assert.Equal("E50", (await _fleet.SheetAsync()).GetProperty("fault").GetProperty("code").GetString());
        await _fleet.SendAsync("fault", "2026-02-25T08:00:00Z", "\"code\":\"E21\"");
        JsonElement sheet = await _fleet.SheetAsync();
        Assert.Equal("E21", sheet.GetProperty("fault").GetProperty("code").GetString());
        Assert.Equal("E50", Assert.Single(sheet.GetProperty("also_open").EnumerateArray()).GetProperty("code").GetString());
        Assert.Equal("asked_for", (await _fleet.SheetAsync("?fault=E50")).GetProperty("fault").GetProperty("reason").GetString());
    }

    [Fact]
    public async Task The_last_eight_washes_stand_in_words_and_refusals_in_a_row_are_one()
    {
        for (int day = 1; day <= 9; day++)
        {
            await WashAsync(day, "completed", $",\"ended_at\":\"2026-02-0{day}T22:30:00Z\"");
        }

        await WashAsync(10, "stopped_by_fault", ",\"ended_at\":\"2026-02-10T22:12:00Z\",\"fault_code\":\"E21\"");
        for (int day = 11; day <= 14; day++)
        {
            await WashAsync(day, "refused", ",\"fault_code\":\"E21\"");
        }

        JsonElement[] washes = [.. (await _fleet.SheetAsync()).GetProperty("washes").EnumerateArray()];
        Assert.Equal(8, washes.Length);
        Assert.Equal("Refused by the unit 4 times since 11 Feb 2026 (E21).", washes[0].GetProperty("text").GetString());
        Assert.Equal(4, washes[0].GetProperty("times").GetInt32());
        Assert.Equal("Standard wash stopped by a fault (E21) after 12 min.", washes[1].GetProperty("text").GetString());
        Assert.Equal("Standard wash completed after 30 min.", washes[2].GetProperty("text").GetString());
    }

    private Task<string> WashAsync(int day, string outcome, string more) => _fleet.SendAsync(
        "wash", $"2026-02-{day:00}T22:00:00Z", $"\"started_at\":\"2026-02-{day:00}T22:00:00Z\",\"grade\":\"standard\",\"outcome\":\"{outcome}\"{more}");

    private async Task<string[]> OpenAsync() =>
        [.. (await _fleet.SheetAsync()).GetProperty("recommendations").EnumerateArray().Select(one =>
            one.GetProperty("sentence").GetString()!)];
}
