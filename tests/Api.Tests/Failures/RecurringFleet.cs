using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Failures;

/// <summary>A unit of a published data set of failures that recur.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Watched">For how long it was watched, days.</param>
/// <param name="Ages">Ages at which it failed, days.</param>
internal sealed record RecurringUnit(string Unit, double Watched, IReadOnlyList<double> Ages);

/// <summary>A host whose fleet is a published data set: each failure a wash pump that failed and was replaced.</summary>
internal static class RecurringFleet
{
    private static readonly DateTimeOffset Begin = new(2008, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Starts a host and sends everything over HTTP. A watch that is no whole number of days begins out of service.</summary>
    public static async Task<ApiHost> StartAsync(IReadOnlyList<RecurringUnit> units)
    {
        ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        using HttpResponseMessage site = await host.Admin.PutAsJsonAsync(
            "/v1/sites/harbour-1", new { site = "harbour-1", @operator = "harbour", name = "Invented harbour", time_zone = "UTC" });
        Assert.True(site.IsSuccessStatusCode, await site.Content.ReadAsStringAsync());
        using HttpResponseMessage registry = await host.Admin.PutAsJsonAsync("/v1/registry", new
        {
            operators = Array.Empty<object>(),
            sites = Array.Empty<object>(),
            models = Array.Empty<object>(),
            units = units.Select(Unit),
            rules = Array.Empty<object>(),
        });
        Assert.True(registry.StatusCode == HttpStatusCode.OK, await registry.Content.ReadAsStringAsync());
        object[] records = [.. units.SelectMany(Records)];
        using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", records);
        JsonElement answer = await sent.Content.ReadFromJsonAsync<JsonElement>();
        Assert.True(answer.GetProperty("accepted").GetInt32() == records.Length, answer.ToString());
        return host;
    }

    private static object Unit(RecurringUnit unit) => new
    {
        unit = unit.Unit,
        site = "harbour-1",
        model = "T10",
        commissioned_on = Date(0),
        decommissioned_on = Date(Math.Ceiling(unit.Watched)),
        out_of_service = unit.Watched == Math.Ceiling(unit.Watched)
            ? null
            : new[] { new { from = Begin, to = Begin.AddDays(Math.Ceiling(unit.Watched) - unit.Watched) } },
    };

    private static IEnumerable<object> Records(RecurringUnit unit) => unit.Ages.Select((age, i) => new
    {
        type = "part_change",
        key = unit.Unit + "-" + i.ToString(CultureInfo.InvariantCulture),
        unit = unit.Unit,
        at = Begin.AddMilliseconds(Math.Round(age * 86_400_000)),
        position = "wash-pump",
        removed = new { reason = "failed" },
        fitted = new { part_number = "P/100-2" },
    });

    private static string Date(double days) => Begin.AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
