using System.Net;
using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Registry;

/// <summary>Suppliers, parts, stock points and plan terms: the habits of every other kind, and rules of their own.</summary>
public sealed class PlanResourcesTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
        await AssertAsync("/v1/suppliers/quick", """{"name":"Quick (invented)","lead_time_days":5,"lead_time_days_longest":12}""");
        await AssertAsync("/v1/parts/P-1", """{"name":"Pump","supplier":"QUICK","price":99.5}""");
        await AssertAsync(
            "/v1/stock-points/van%202", """{"name":"Van two","crew_minutes_per_week":300,"on_hand":[{"part_number":"P-1","quantity":2}]}""");
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Theory]
    [InlineData("/v1/suppliers/Quick", "lead_time_days", 5)]
    [InlineData("/v1/parts/p-1", "price", 99.5)]
    [InlineData("/v1/stock-points/VAN%202", "crew_minutes_per_week", 300)]
    public async Task Are_given_back_by_code_in_any_case(string path, string field, double expected)
    {
        JsonNode one = JsonNode.Parse(await _host.Admin.GetStringAsync(path))!;
        Assert.Equal(expected, (double?)one[field]);
        JsonNode list = JsonNode.Parse(await _host.Admin.GetStringAsync(path[..path.LastIndexOf('/')]))!;
        Assert.Equal(expected, (double?)Assert.Single(list["items"]!.AsArray())![field]);
    }

    [Fact]
    public async Task Lists_come_as_csv_too()
    {
        string text = await _host.Admin.GetStringAsync("/v1/stock-points?format=csv");
        Assert.Equal("stock_point,name,crew_minutes_per_week,service_level,on_hand\r\nvan 2,Van two,300,,P-1:2\r\n", text);
    }

    [Fact]
    public async Task Travel_in_the_registry_document()
    {
        await AssertAsync("/v1/plan/terms", """{"currency":"EUR","lockout_hour_cost":4,"planned_visit_cost":80,"failure_cost":300}""");
        string document = await _host.Admin.GetStringAsync("/v1/registry");
        await using ApiHost other = await ApiHost.StartAsync();
        using HttpResponseMessage put = await Samples.PutAsync(other.Admin, "/v1/registry", document);
        Assert.Equal("""{"created":9,"changed":0,"unchanged":0}""", await put.Content.ReadAsStringAsync());
        Assert.Equal(document, await other.Admin.GetStringAsync("/v1/registry"));
        using HttpResponseMessage again = await Samples.PutAsync(other.Admin, "/v1/registry", document);
        Assert.Equal("""{"created":0,"changed":0,"unchanged":9}""", await again.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task Terms_are_the_usual_ones_until_somebody_puts_others()
    {
        JsonNode usual = JsonNode.Parse(await _host.Admin.GetStringAsync("/v1/plan/terms"))!;
        Assert.Equal(0, (double?)usual["lockout_hour_cost"]);
        Assert.Equal(26, (int?)usual["horizon_weeks"]);
        Assert.Equal(0.95, (double?)usual["service_level"]);
        await AssertAsync("/v1/plan/terms", """{"horizon_weeks":13}""");
        JsonNode put = JsonNode.Parse(await _host.Admin.GetStringAsync("/v1/plan/terms"))!;
        Assert.Equal(13, (int?)put["horizon_weeks"]);
        Assert.Equal(0.01, (double?)put["tolerance_share"]);
    }

    [Theory]
    [InlineData("/v1/suppliers/s", """{"name":"S","lead_time_days":-1}""", "lead_time_days range")]
    [InlineData("/v1/suppliers/s", """{"name":"S","lead_time_days":366}""", "lead_time_days range")]
    [InlineData("/v1/suppliers/s", """{"name":"S","lead_time_days":9,"lead_time_days_longest":8}""", "lead_time_days_longest order")]
    [InlineData("/v1/suppliers/s", """{"name":"S","lead_time_days":183}""", "lead_time_days within_horizon")]
    [InlineData("/v1/suppliers/s", """{"name":"S"}""", "lead_time_days required")]
    [InlineData("/v1/parts/p", """{"name":"P","price":0}""", "price range")]
    [InlineData("/v1/parts/p", """{"name":"P","price":-3,"supplier":"nobody"}""", "price range", "supplier unknown_supplier")]
    [InlineData("/v1/stock-points/x", """{"name":"X","crew_minutes_per_week":0,"service_level":1}""", "crew_minutes_per_week range", "service_level range")]
    [InlineData("/v1/stock-points/x", """{"name":"X","on_hand":[{"part_number":"a","quantity":-1},{"part_number":"A","quantity":1}]}""",
        "on_hand[0].quantity range", "on_hand[1].part_number duplicate")]
    [InlineData("/v1/plan/terms", """{"planned_visit_cost":0}""", "planned_visit_cost range")]
    [InlineData("/v1/plan/terms", """{"failure_cost":-5}""", "failure_cost range")]
    [InlineData("/v1/plan/terms", """{"planned_visit_cost":300,"failure_cost":300}""", "planned_visit_cost cheaper_than_failure")]
    [InlineData("/v1/plan/terms", """{"lockout_hour_cost":-1}""", "lockout_hour_cost range")]
    [InlineData("/v1/plan/terms", """{"tolerance_share":0}""", "tolerance_share range")]
    [InlineData("/v1/plan/terms", """{"horizon_weeks":3}""", "horizon_weeks range")]
    [InlineData("/v1/plan/terms", """{"horizon_weeks":26.5}""", "horizon_weeks kind")]
    [InlineData("/v1/plan/terms", """{"service_level":1}""", "service_level range")]
    [InlineData("/v1/plan/terms", """{"lockout_cost":1}""", "lockout_cost unknown_field")]
    [InlineData("/v1/models/m", """{"name":"M","kind":"k","positions":[{"position":"p","name":"P","planned_visit_cost":90,"failure_cost":80}],"programmes":[],"faults":[]}""",
        "positions[0].planned_visit_cost cheaper_than_failure")]
    public async Task Bad_input_is_named_field_by_field(string path, string body, params string[] fieldsAndRules)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, path, body);
        await ProblemAssert.ListsAsync(answer, fieldsAndRules);
    }

    [Fact]
    public async Task A_horizon_shorter_than_a_stored_lead_time_is_refused_and_a_longer_one_lets_a_slow_supplier_in()
    {
        await AssertAsync("/v1/plan/terms", """{"horizon_weeks":104}""");
        await AssertAsync("/v1/suppliers/slow", """{"name":"Slow (invented)","lead_time_days":300}""");
        using HttpResponseMessage shorter = await Samples.PutAsync(_host.Admin, "/v1/plan/terms", """{"horizon_weeks":42}""");
        await ProblemAssert.ListsAsync(shorter, "horizon_weeks within_horizon");
        await AssertAsync("/v1/plan/terms", """{"horizon_weeks":43}""");
    }

    private async Task AssertAsync(string path, string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, path, body);
        Assert.True(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.Created, await answer.Content.ReadAsStringAsync());
    }
}
