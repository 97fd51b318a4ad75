using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Registry;

namespace Washwear.Api.Tests.Security;

/// <summary>Callers who see a part of the fleet change nothing outside of it, and are told of it as of what was never there.</summary>
/// <param name="fleet">The fleet and the callers.</param>
public sealed class ScopedWorkTests(TwoOperators fleet) : IClassFixture<TwoOperators>
{
    private readonly ApiHost _host = fleet.Host;

    [Fact]
    public async Task A_record_of_a_unit_outside_is_refused_like_one_of_an_unknown_unit_and_one_of_the_own_units_is_taken()
    {
        foreach (TwoOperators.Bound caller in fleet.Callers)
        {
            (string outcome, string? rule, string? detail) = await SendAsync(caller.Client, Fault(caller.Hidden[0], caller.Name + "-1", null));
            (string _, string? unknown, string? told) = await SendAsync(caller.Client, Fault(caller.Hidden[0], caller.Name + "-2", null, "NO-SUCH-OVEN"));
            Assert.Equal(("refused", unknown), (outcome, rule));
            Assert.Equal(told!.Replace("NO-SUCH-OVEN", "X", StringComparison.Ordinal), detail!.Replace(caller.Hidden[0].Resource.Unit, "X", StringComparison.Ordinal));
            Assert.DoesNotContain(caller.HiddenWords.Where(word => word != caller.Hidden[0].Resource.Unit), word => detail.Contains(word, StringComparison.Ordinal));
            Assert.Equal("accepted", (await SendAsync(caller.Client, Fault(caller.Seen[0], caller.Name + "-3", null))).Outcome);
        }
    }

    [Fact]
    public async Task Under_the_name_of_another_sender_nothing_is_taken_so_that_nobody_voids_what_they_cannot_see()
    {
        TwoOperators.Bound caller = fleet.Callers[0];
        using JsonDocument theirs = JsonDocument.Parse(
            await _host.Admin.GetStringAsync($"/v1/records?type=wash&limit=1&unit={Uri.EscapeDataString(caller.Hidden[0].Resource.Unit)}"));
        JsonElement record = theirs.RootElement.GetProperty("items")[0];
        string source = record.GetProperty("source").GetString()!;
        string key = record.GetProperty("key").GetString()!;
        object voids = new { type = "void", key = "take-away", source, voids = key, at = _host.Clock.Now, reason = "not mine" };
        Assert.Equal(("refused", "source_of_another"), await OutcomeAsync(caller.Client, voids));
        Assert.Equal("refused", (await SendAsync(caller.Client, Fault(caller.Seen[0], "of-another", source))).Outcome);
    }

    [Fact]
    public async Task An_approval_an_alert_and_a_refused_row_outside_are_not_found_and_stay_as_they_are()
    {
        TwoOperators.Bound caller = fleet.Callers[0];
        string unit = caller.Hidden[0].Resource.Unit;
        object asks = new { type = "approval", key = "ask-" + unit, unit, what = "New pump", amount = 300, asked_at = _host.Clock.Now.AddDays(-1), at = _host.Clock.Now.AddDays(-1) };
        Assert.Equal("accepted", (await OutcomeAsync(_host.Admin, asks)).Outcome);
        long approval = await NumberAsync($"/v1/approvals?state=open&unit={Uri.EscapeDataString(unit)}", "rows", "id");
        await SameAsNeverThereAsync(caller.Client, $"/v1/approvals/{approval}/decision", "/v1/approvals/99999999/decision", new { decision = "granted", by = "me" });
        Assert.Equal(approval, await NumberAsync($"/v1/approvals?state=open&unit={Uri.EscapeDataString(unit)}", "rows", "id"));

        using JsonDocument alerts = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/alerts?state=open&limit=1000"));
        JsonElement alert = alerts.RootElement.GetProperty("rows").EnumerateArray().First(row => caller.HiddenWords.Contains(row.GetProperty("unit").GetString()!));
        long number = alert.GetProperty("id").GetInt64();
        await SameAsNeverThereAsync(caller.Client, $"/v1/alerts/{number}/seen", "/v1/alerts/99999999/seen", null);
        using JsonDocument after = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/alerts?state=open&limit=1000"));
        Assert.Contains(after.RootElement.GetProperty("rows").EnumerateArray(), row => row.GetProperty("id").GetInt64() == number);

        Assert.Equal("refused", (await SendAsync(_host.Admin, Fault(caller.Hidden[0], "bad-" + unit, null, fault: "NO-SUCH-CODE", at: DateTimeOffset.UnixEpoch))).Outcome);
        long refused = await NumberAsync("/v1/records/refused?limit=1000", "items", "id");
        await SameAsNeverThereAsync(caller.Client, $"/v1/records/refused/{refused}/discard", "/v1/records/refused/99999999/discard", null);
        Assert.Equal(refused, await NumberAsync("/v1/records/refused?limit=1000", "items", "id"));
    }

    [Fact]
    public async Task A_plan_decision_about_a_unit_outside_is_refused_as_about_an_unknown_one()
    {
        TwoOperators.Bound caller = fleet.Callers[0];
        UnitEntry unit = caller.Hidden[0];
        string position = unit.Model.Positions.Keys.First();
        using HttpResponseMessage outside = await caller.Client.PostAsJsonAsync(
            "/v1/plan/decisions", new { unit = unit.Resource.Unit, position, decision = "rejected", reason = "no", by = "me" });
        using HttpResponseMessage never = await caller.Client.PostAsJsonAsync(
            "/v1/plan/decisions", new { unit = "NO-SUCH-OVEN", position, decision = "rejected", reason = "no", by = "me" });
        Assert.Equal((HttpStatusCode.BadRequest, HttpStatusCode.BadRequest), (outside.StatusCode, never.StatusCode));
        Assert.Contains("unknown_unit", await outside.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using JsonDocument decided = JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/plan/decisions"));
        Assert.Equal(0, decided.RootElement.GetProperty("rows").GetArrayLength());
    }

    [Fact]
    public async Task A_unit_that_moves_to_another_operator_takes_its_history_along_at_once()
    {
        TwoOperators.Bound caller = fleet.Callers[0];
        UnitEntry unit = caller.Hidden[^1];
        string address = $"/v1/units/{Uri.EscapeDataString(unit.Resource.Unit)}";
        using HttpResponseMessage before = await caller.Client.GetAsync(address);
        Assert.Equal(HttpStatusCode.NotFound, before.StatusCode);
        using HttpResponseMessage moved = await _host.Admin.PutAsJsonAsync(
            address, unit.Resource with { Site = caller.Seen[0].Site.Resource.Site }, Washwear.Api.Http.Json.Options);
        Assert.True(moved.IsSuccessStatusCode, await moved.Content.ReadAsStringAsync());
        using JsonDocument history = JsonDocument.Parse(await caller.Client.GetStringAsync(address + "/history"));
        Assert.True(history.RootElement.GetProperty("items").GetArrayLength() > 10);
        using HttpResponseMessage back = await _host.Admin.PutAsJsonAsync(address, unit.Resource, Washwear.Api.Http.Json.Options);
        Assert.True(back.IsSuccessStatusCode);
        using HttpResponseMessage gone = await caller.Client.GetAsync(address);
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
    }

    private static object Fault(UnitEntry unit, string key, string? source, string? code = null, string? fault = null, DateTimeOffset? at = null) => new
    {
        type = "fault",
        key,
        source,
        unit = code ?? unit.Resource.Unit,
        code = fault ?? unit.Model.Faults.Keys.First(),
        at = at ?? ApiHost.StartsAt.AddMinutes(-5),
    };

    private static async Task<(string Outcome, string? Rule)> OutcomeAsync(HttpClient caller, object record)
    {
        (string outcome, string? rule, string? _) = await SendAsync(caller, record);
        return (outcome, rule);
    }

    private static async Task<(string Outcome, string? Rule, string? Detail)> SendAsync(HttpClient caller, object record)
    {
        using HttpResponseMessage answer = await caller.PostAsJsonAsync("/v1/records?rows=all", record, new JsonSerializerOptions { DefaultIgnoreCondition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull });
        string body = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, body);
        using JsonDocument json = JsonDocument.Parse(body);
        JsonElement row = json.RootElement.GetProperty("rows")[0];
        bool isRefused = row.TryGetProperty("problem", out JsonElement problem) && problem.ValueKind == JsonValueKind.Object;
        return (
            row.GetProperty("outcome").GetString()!,
            isRefused ? problem.GetProperty("rule").GetString() : null,
            isRefused ? problem.GetProperty("detail").GetString() : null);
    }

    private async Task<long> NumberAsync(string address, string list, string field)
    {
        using JsonDocument json = JsonDocument.Parse(await _host.Admin.GetStringAsync(address));
        JsonElement value = json.RootElement.GetProperty(list).EnumerateArray().Last().GetProperty(field);
        return value.ValueKind == JsonValueKind.String ? long.Parse(value.GetString()!, System.Globalization.CultureInfo.InvariantCulture) : value.GetInt64();
    }

    private static async Task SameAsNeverThereAsync(HttpClient caller, string outside, string never, object? body)
    {
        using HttpResponseMessage one = body is null ? await caller.PostAsync(outside, null) : await caller.PostAsJsonAsync(outside, body);
        using HttpResponseMessage other = body is null ? await caller.PostAsync(never, null) : await caller.PostAsJsonAsync(never, body);
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (one.StatusCode, other.StatusCode));
    }
}
