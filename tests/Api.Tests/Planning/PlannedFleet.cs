using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Planning;

/// <summary>
/// A small fleet whose pumps' lives are the 23 ball bearings of Lieblein and Zelen (1956), 10 days for each million revolutions: shape 2.102,
/// scale 818.8 days (published fit). Every bearing wore out in a unit of its own. The pumps of the plan are fitted on the day of the test, used, so that they add nothing to the fit.
/// </summary>
internal static class PlannedFleet
{
    /// <summary>Shape of the published fit.</summary>
    public const double Shape = 2.102058875;

    /// <summary>Scale of the published fit, days.</summary>
    public const double Scale = 818.7833405;

    private const int DaysPerMillionRevolutions = 10;

    private static readonly double[] MillionRevolutions =
    [
        17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84,
        127.92, 128.04, 173.4,
    ];

    /// <summary>Day of the test: a Monday.</summary>
    public static DateTimeOffset Now { get; } = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    /// <summary>Starts the fleet: bearings that failed, and pumps fitted now of the ages asked for, in units P-0, P-1, ... at site quay.</summary>
    /// <param name="agesDays">Ages of the fitted pumps, days.</param>
    /// <param name="closures">Closures of the site, as JSON.</param>
    /// <param name="costs">Cost fields of the pump's position, as JSON members.</param>
    public static async Task<ApiHost> StartAsync(
        double[] agesDays, string closures = "[]", string costs = "\"part_cost\":100,\"planned_visit_cost\":100,\"failure_cost\":900")
    {
        ApiHost host = await ApiHost.StartAsync(Now);
        await PutAsync(host, "/v1/operators/harbour", Samples.Operator);
        await PutAsync(host, "/v1/sites/quay", $$"""
            {"operator":"harbour","name":"Quay (invented)","time_zone":"UTC","stock_point":"van-1",
             "trading_days":{"weekdays":["mon","tue","wed","thu","fri"],"ends_at":"00:00"},"closures":{{closures}}}
            """);
        await PutAsync(host, "/v1/models/T10", $$"""
            {"name":"Ten-tray oven","kind":"combi oven","programmes":[],"faults":[],
             "positions":[{"position":"wash-pump","name":"Wash pump","part_numbers":["P-1"],"replace_minutes":40,{{costs}}},
                          {"position":"hose","name":"Hose","part_numbers":["H-1"],"replace_minutes":15,"part_cost":30}]}
            """);
        object[] records = [.. Records(agesDays)];
        using HttpResponseMessage units = await host.Admin.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units = Enumerable.Range(0, MillionRevolutions.Length).Select(i => "B-" + i).Concat(agesDays.Select((_, i) => "P-" + i)).Select(Unit),
            rules = Array.Empty<object>(),
        });
        Assert.True(units.StatusCode == HttpStatusCode.OK, await units.Content.ReadAsStringAsync());
        using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", records);
        JsonElement answer = await sent.Content.ReadFromJsonAsync<JsonElement>();
        Assert.True(answer.GetProperty("accepted").GetInt32() == records.Length, answer.ToString());
        return host;
    }

    /// <summary>Puts JSON and asserts that it was taken.</summary>
    public static async Task PutAsync(ApiHost host, string path, string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(host.Admin, path, body);
        Assert.True(answer.IsSuccessStatusCode, path + ": " + await answer.Content.ReadAsStringAsync());
    }

    /// <summary>Asks for JSON.</summary>
    public static Task<JsonElement> GetAsync(ApiHost host, string path) => host.Admin.GetFromJsonAsync<JsonElement>(path);

    /// <summary>Decides about the pump of a unit, and gives the answer.</summary>
    public static Task<HttpResponseMessage> DecideAsync(ApiHost host, string body) =>
        host.Admin.PostAsync("/v1/plan/decisions", new StringContent(body, System.Text.Encoding.UTF8, "application/json"));

    /// <summary>Asks for the jobs of the plan: unit and day, in the order of the plan.</summary>
    public static async Task<(string Unit, string Date)[]> JobsAsync(ApiHost host)
    {
        JsonElement plan = await GetAsync(host, "/v1/plan/visits");
        return
        [
            .. plan.GetProperty("rows").EnumerateArray().SelectMany(visit => visit.GetProperty("jobs").EnumerateArray()
                .Select(job => (job.GetProperty("unit").GetString()!, visit.GetProperty("date").GetString()!))),
        ];
    }

    private static object Unit(string unit) => new { unit, site = "quay", model = "T10", commissioned_on = "2015-01-01" };

    private static IEnumerable<object> Records(double[] agesDays)
    {
        DateTimeOffset began = new(2016, 1, 1, 0, 0, 0, TimeSpan.Zero);
        for (int i = 0; i < MillionRevolutions.Length; i++)
        {
            yield return Change($"in-{i}", "B-" + i, began, null, 0);
            yield return Change($"out-{i}", "B-" + i, began.AddDays(MillionRevolutions[i] * DaysPerMillionRevolutions), "failed", 0);
        }

        for (int i = 0; i < agesDays.Length; i++)
        {
            yield return Change($"now-{i}", "P-" + i, Now, null, agesDays[i]);
        }
    }

    private static object Change(string key, string unit, DateTimeOffset at, string? reason, double ageDays) => new
    {
        type = "part_change",
        key,
        unit,
        at = at.ToString("O", CultureInfo.InvariantCulture),
        position = "wash-pump",
        removed = reason is null ? null : new { reason },
        fitted = reason is null ? new { part_number = "P-1", age_days = ageDays } : null,
    };
}
