using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Registry;

public sealed class RegistryPutTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task CreatesFirstAndThenChangesNothing()
    {
        using HttpResponseMessage created = await Samples.PutAsync(_host.Admin, "/v1/units/OVEN-2", Samples.Unit);
        Assert.Equal(HttpStatusCode.Created, created.StatusCode);
        Assert.Equal("/v1/units/OVEN-2", created.Headers.Location?.ToString());
        using HttpResponseMessage again = await Samples.PutAsync(_host.Admin, "/v1/units/OVEN-2", Samples.Unit);
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Equal(await created.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task GivesBackWhatWasPut()
    {
        JsonNode given = JsonNode.Parse(Samples.Model)!;
        JsonNode got = JsonNode.Parse(await _host.Admin.GetStringAsync("/v1/models/t10"))!;
        Assert.Equal("T10", (string?)got["model"]);
        Assert.Equal((double?)given["positions"]![0]!["part_cost"], (double?)got["positions"]![0]!["part_cost"]);
        Assert.Equal("intensive", (string?)got["programmes"]![1]!["grade"]);
        Assert.Equal(0.1, (double?)got["faults"]![0]!["checks"]![0]!["chance_of_missing"]);
        JsonNode site = JsonNode.Parse(await _host.Admin.GetStringAsync("/v1/sites/pier-4"))!;
        Assert.Equal(210.5, (double?)site["water_hardness_mg_per_l"]);
        Assert.Equal("2026-12-26", (string?)site["closures"]![0]!["to"]);
    }

    [Fact]
    public async Task TakesCodesThatDifferInCaseForTheSame()
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, "/v1/units/oven-1", Samples.Unit);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        JsonNode list = JsonNode.Parse(await _host.Admin.GetStringAsync("/v1/units"))!;
        Assert.Equal("oven-1", (string?)Assert.Single(list["items"]!.AsArray())!["unit"]);
    }

    [Theory]
    [InlineData("/v1/operators/x", """{"nam":"X","extra":1}""", "nam unknown_field", "extra unknown_field", "name required")]
    [InlineData("/v1/operators/x", """{"name":null}""", "name required")]
    [InlineData("/v1/operators/x", """{"name":"  "}""", "name text")]
    [InlineData("/v1/operators/x", """{"name":7}""", "name kind")]
    [InlineData("/v1/operators/x", """{"operator":"y","name":"X"}""", "operator same_as_address")]
    [InlineData("/v1/operators/x", """[]""", "(whole body) kind")]
    [InlineData("/v1/operators/x", """{"name":"\ud800"}""", "name kind")]
    [InlineData("/v1/operators/x", """{"name":"a\u0000b"}""", "name text")]
    [InlineData("/v1/operators/a%2Fb", """{"operator":"a%2Fb","name":"X"}""")]
    [InlineData("/v1/operators/%09x", """{"name":"X"}""", "operator code")]
    [InlineData("/v1/operators/%C3%BCber", """{"name":"X"}""")]
    public async Task NamesWhatIsWrongWithAnOperator(string path, string body, params string[] fieldsAndRules) =>
        await AssertAsync(path, body, fieldsAndRules);

    [Theory]
    [InlineData("""{"operator":"nobody","name":"S","time_zone":"Europe/Atlantis"}""", "operator unknown_operator", "time_zone time_zone")]
    [InlineData("""{"operator":"HARBOUR","name":"S","time_zone":"europe/vienna"}""", "time_zone time_zone")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","water_hardness_mg_per_l":-1}""", "water_hardness_mg_per_l range")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","water_hardness_mg_per_l":1e999}""", "water_hardness_mg_per_l kind")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","water_hardness_mg_per_l":"12"}""", "water_hardness_mg_per_l kind")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","trading_days":{"weekdays":[],"ends_at":"24:00"}}""",
        "trading_days.weekdays required", "trading_days.ends_at time")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","trading_days":{"weekdays":["mon","mon","Tue",null],"ends_at":"02:00"}}""",
        "trading_days.weekdays[3] kind")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","trading_days":{"weekdays":["mon","mon","Tue"],"ends_at":"02:00"}}""",
        "trading_days.weekdays[1] duplicate", "trading_days.weekdays[2] choice")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","closures":[{"from":"2026-02-02","to":"2026-02-01"},{"from":"2026-02-30"}]}""",
        "closures[1].from kind")]
    [InlineData("""{"operator":"harbour","name":"S","time_zone":"UTC","closures":[{"from":"2026-02-02","to":"2026-02-01"}]}""", "closures[0].to order")]
    public async Task NamesWhatIsWrongWithASite(string body, params string[] fieldsAndRules) => await AssertAsync("/v1/sites/s", body, fieldsAndRules);

    [Theory]
    [InlineData("""{"name":"M","kind":"k","positions":[],"programmes":[{"programme":"a","grade":2}],"faults":[]}""", "programmes[0].grade kind")]
    [InlineData("""{"name":"M","kind":"k","positions":[{"position":"p","name":"P"},{"position":"P","name":"P","companions":["q"],"replace_minutes":0,"part_cost":-1}],"programmes":[],"faults":[]}""",
        "positions[1].position duplicate", "positions[1].companions[0] unknown_position", "positions[1].replace_minutes range", "positions[1].part_cost range")]
    [InlineData("""{"name":"M","kind":"k","positions":[],"programmes":[],"faults":[{"code":"E1","text":"t","causes":[{"position":"p","prior_weight":0}],"checks":[{"check":"c","text":"t","minutes":-1,"positions":["p"],"chance_of_missing":1.5,"hazards":["fire"]}]}]}""",
        "faults[0].causes[0].position unknown_position", "faults[0].causes[0].prior_weight range", "faults[0].checks[0].minutes range",
        "faults[0].checks[0].positions[0] unknown_position", "faults[0].checks[0].chance_of_missing range", "faults[0].checks[0].hazards[0] choice")]
    [InlineData("""{"name":"M","kind":"k","positions":{},"programmes":null,"faults":[1]}""", "positions kind", "programmes required", "faults[0] kind")]
    public async Task NamesWhatIsWrongWithAModel(string body, params string[] fieldsAndRules) => await AssertAsync("/v1/models/m", body, fieldsAndRules);

    [Theory]
    [InlineData("""{"site":"nowhere","model":"none","commissioned_on":"2026-01-01"}""", "site unknown_site", "model unknown_model")]
    [InlineData("""{"site":"pier-4","model":"t10","commissioned_on":"0001-01-01","reporting_hours":0}""", "commissioned_on range", "reporting_hours range")]
    [InlineData("""{"site":"pier-4","model":"t10","commissioned_on":"2026-01-02","decommissioned_on":"2026-01-01"}""", "decommissioned_on order")]
    [InlineData("""{"site":"pier-4","model":"t10","commissioned_on":"2026-01-02","out_of_service":[{"from":"2026-02-01T00:00:00"}]}""", "out_of_service[0].from kind")]
    [InlineData("""{"site":"pier-4","model":"t10","commissioned_on":"2026-01-02","out_of_service":[{"from":"2026-02-01T00:00:00Z","to":"2026-02-01T00:30:00+01:00"}]}""",
        "out_of_service[0].to order")]
    [InlineData("""{"site":"pier-4","model":"t10","commissioned_on":"2026-01-02","out_of_service":[{"from":"0001-01-01T00:00:00+14:00"}]}""", "out_of_service[0].from kind")]
    public async Task NamesWhatIsWrongWithAUnit(string body, params string[] fieldsAndRules) => await AssertAsync("/v1/units/u", body, fieldsAndRules);

    [Theory]
    [InlineData("""{"scope":{},"grade":"light","grace_hours":0,"basis":"b"}""", "every_trading_days exactly_one")]
    [InlineData("""{"scope":{},"grade":"light","every_hours":24,"every_trading_days":1,"grace_hours":-1,"basis":""}""",
        "every_trading_days exactly_one", "grace_hours range", "basis text")]
    [InlineData("""{"scope":{"site":"x","unit":"OVEN-1"},"grade":"light","every_hours":0,"grace_hours":0,"basis":"b"}""",
        "scope.site unknown_site", "scope at_most_one", "every_hours range")]
    [InlineData("""{"scope":{},"grade":"light","every_trading_days":367,"grace_hours":0,"basis":"b","valid_from":"2026-02-01","valid_to":"2026-01-01"}""",
        "every_trading_days range", "valid_to order")]
    [InlineData("""{"scope":{},"grade":"light","every_hours":4,"grace_hours":4,"basis":"b"}""", "grace_hours shorter_than_interval")]
    [InlineData("""{"scope":{},"grade":"light","every_trading_days":1.5,"grace_hours":0,"basis":"b"}""", "every_trading_days kind")]
    public async Task NamesWhatIsWrongWithARule(string body, params string[] fieldsAndRules) => await AssertAsync("/v1/rules/r", body, fieldsAndRules);

    [Fact]
    public async Task SaysWhichFieldsAnObjectHasWhereSomethingElseWasGiven()
    {
        using HttpResponseMessage answer = await Samples.PutAsync(
            _host.Admin, "/v1/sites/s", """{"operator":"harbour","name":"S","time_zone":"UTC","closures":["2026-12-24"]}""");
        JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
        Assert.Equal("Give an object with the fields from, to, reason.", problem.GetProperty("errors")[0].GetProperty("mend").GetString());
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("nonsense")]
    [InlineData("""{"name":"a","name":"b"}""")]
    public async Task SaysWhereABodyStopsBeingJson(string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, "/v1/operators/x", body);
        JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
        Assert.Contains("line 1", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task RefusesBodiesOfAnotherKind()
    {
        using HttpResponseMessage answer = await _host.Admin.PutAsync("/v1/operators/x", new StringContent("name: x"));
        await ProblemAssert.IsAsync(HttpStatusCode.UnsupportedMediaType, answer);
    }

    [Fact]
    public async Task RefusesBytesThatAreNotText()
    {
        var content = new ByteArrayContent([.. "{\"name\":\""u8, 0xFF, 0xFE, .. "\"}"u8]);
        content.Headers.ContentType = new("application/json");
        using HttpResponseMessage answer = await _host.Admin.PutAsync("/v1/operators/x", content);
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
        using HttpResponseMessage half = await Samples.PutAsync(_host.Admin, "/v1/operators/x", """{"\ud800":1,"name":"X"}""");
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, half);
    }

    private async Task AssertAsync(string path, string body, string[] fieldsAndRules)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, path, body);
        if (fieldsAndRules.Length > 0)
        {
            await ProblemAssert.ListsAsync(answer, fieldsAndRules);
            return;
        }

        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }
}
