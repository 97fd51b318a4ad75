using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Alerts;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;
using Washwear.Dashboard.Alerts;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>Early signs over HTTP: the list, the unit's charts, the alert.</summary>
public sealed class EarlySignTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Begin = ApiHost.StartsAt.AddDays(-60);
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task A_unit_whose_washes_fail_more_often_than_before_is_listed_with_its_chart()
    {
        await SendAsync(Washes(0, 50), Washes(50, 54, stopped: true));
        JsonElement report = await GetAsync("/v1/cleaning/early-signs");

        Assert.Equal("Washes are getting worse at 1 of 1 unit: look at it before it locks out.", report.GetProperty("sentence").GetString());
        JsonElement row = Assert.Single(report.GetProperty("rows").EnumerateArray());
        JsonElement sign = row.GetProperty("sign");
        Assert.Equal(("OVEN-1", "bad_washes"), (row.GetProperty("unit").GetString(), sign.GetProperty("kind").GetString()));
        Assert.Equal(At(50), sign.GetProperty("since").GetDateTimeOffset());
        Assert.Equal(4, sign.GetProperty("bad_washes").GetInt32());
        Assert.True(sign.GetProperty("statistic").GetDouble() >= sign.GetProperty("limit").GetDouble());
        Assert.InRange(sign.GetProperty("false_alarms_per_year").GetDouble(), 0.3, 0.5);
        Assert.Contains("4 of the last 4 were stopped by a fault or left detergent", sign.GetProperty("sentence").GetString(), StringComparison.Ordinal);

        Assert.Equal(1, report.GetProperty("units").GetInt32());
        Assert.Equal(0.5, report.GetProperty("asked_false_alarms_per_year").GetDouble());
        string csv = await _host.Admin.GetStringAsync("/v1/cleaning/early-signs?format=csv");
        Assert.Equal(2, csv.TrimEnd().Split('\n').Length);
        Assert.StartsWith("unit,site,site_name,operator,", csv, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_list_is_narrowed_and_too_little_history_is_told()
    {
        await SendAsync(Washes(0, 50), Washes(50, 54, stopped: true));
        Assert.Single((await GetAsync("/v1/cleaning/early-signs?operator=harbour&region=north")).GetProperty("rows").EnumerateArray());
        Assert.Empty((await GetAsync("/v1/cleaning/early-signs?region=south")).GetProperty("rows").EnumerateArray());

        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/units/OVEN-2", Samples.Unit);
        Assert.True(put.IsSuccessStatusCode);
        JsonElement basis = (await GetAsync("/v1/cleaning/early-signs")).GetProperty("basis");
        Assert.Equal(1, basis.GetProperty("n").GetInt32());
        Assert.Equal(1, basis.GetProperty("excluded").GetProperty("with_too_little_history").GetInt32());

        JsonElement unit = (await GetAsync("/v1/units/OVEN-2")).GetProperty("signs");
        Assert.Equal("Too little history to tell whether the washes are getting worse.", unit.GetProperty("sentence").GetString());
        Assert.All(unit.GetProperty("readings").EnumerateArray(), one => Assert.False(one.GetProperty("is_charted").GetBoolean()));
    }

    [Fact]
    public async Task Washes_that_grow_longer_are_called_and_the_units_page_and_picture_show_it()
    {
        await SendAsync(Washes(0, 40), Washes(40, 50, minutes: 96));
        JsonElement sign = Assert.Single((await GetAsync("/v1/cleaning/early-signs")).GetProperty("rows").EnumerateArray()).GetProperty("sign");
        Assert.Equal("longer_washes", sign.GetProperty("kind").GetString());
        Assert.Equal(96, sign.GetProperty("mean_minutes").GetDouble(), 6);
        Assert.InRange(sign.GetProperty("usual_minutes").GetDouble(), 80, 84);

        JsonElement charts = (await GetAsync("/v1/units/OVEN-1")).GetProperty("signs");
        Assert.Equal(50, charts.GetProperty("points").GetArrayLength());
        Assert.Equal(1, charts.GetProperty("points").EnumerateArray().Last().GetProperty("longer_washes").GetDouble(), 9);
        string page = await _host.Admin.GetStringAsync("/units/OVEN-1");
        Assert.Contains("take longer than they used to", page, StringComparison.Ordinal);
        Assert.Contains("href=\"/units/OVEN-1#signs\"", await _host.Admin.GetStringAsync("/cleaning"), StringComparison.Ordinal);
        Assert.StartsWith("<svg", await _host.Admin.GetStringAsync("/charts/units/OVEN-1/signs.svg"), StringComparison.Ordinal);
        using HttpResponseMessage missing = await _host.Admin.GetAsync("/charts/units/NONE/signs.svg");
        Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
    }

    [Fact]
    public async Task A_part_change_ends_the_sign()
    {
        await SendAsync(Washes(0, 50), Washes(50, 54, stopped: true), [Mended(54)]);
        Assert.Equal("Washes are getting worse at none of 1 unit.", (await GetAsync("/v1/cleaning/early-signs")).GetProperty("sentence").GetString());
    }

    [Fact]
    public async Task A_sign_opens_one_alert_and_what_ends_it_closes_it_and_says_why()
    {
        await SendAsync(Washes(0, 50), Washes(50, 54, stopped: true));
        Alert opened = Assert.Single(await CheckAsync());
        Assert.Equal((AlertState.Open, At(50)), (opened.State, opened.Since));
        Assert.Contains("go wrong more often", opened.Sentence, StringComparison.Ordinal);

        await SendAsync(Washes(54, 57, stopped: true));
        Assert.Empty(await CheckAsync());

        await SendAsync([Mended(57.5)]);
        Alert closed = Assert.Single(await CheckAsync());
        Assert.Equal((AlertState.Closed, "A part was changed or a repair ended: the charts begin anew."), (closed.State, closed.ClosedBecause));
        Assert.Contains("Getting worse", await _host.Admin.GetStringAsync("/alerts"), StringComparison.Ordinal);
    }

    private static DateTimeOffset At(double day) => Begin.AddDays(day);

    private static string Text(DateTimeOffset at) => at.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string[] Washes(int from, int to, bool stopped = false, double? minutes = null) =>
    [
        .. Enumerable.Range(from, to - from).Select(day => JsonSerializer.Serialize(new
        {
            type = "wash",
            key = $"w{day}",
            unit = "OVEN-1",
            at = Text(At(day)),
            ended_at = Text(At(day).AddMinutes(minutes ?? 80 + (day % 3))),
            programme = "short",
            outcome = stopped ? "stopped_by_fault" : "completed",
        })),
    ];

    private static string Mended(double day) => JsonSerializer.Serialize(new
    {
        type = "part_change",
        key = $"m{day}",
        unit = "OVEN-1",
        at = Text(At(day)),
        position = "wash-pump",
        fitted = new { part_number = "P/100-2" },
    });

    private async Task SendAsync(params string[][] records)
    {
        JsonElement answer = await Sending.SendAsync(_host.Admin, string.Join('\n', records.SelectMany(one => one)) + "\n", "application/x-ndjson");
        Assert.True(answer.GetProperty("refused").GetInt32() == 0, answer.ToString());
    }

    private Task<JsonElement> GetAsync(string path) => _host.Admin.GetFromJsonAsync<JsonElement>(path);

    private async Task<IReadOnlyList<Alert>> CheckAsync() =>
        [.. (await _host.Services.GetRequiredService<AlertChecks>().RunAsync(CancellationToken.None)).Where(alert => alert.Kind == AlertKind.EarlySign)];
}
