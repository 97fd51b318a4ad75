using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Visits, approvals and conditions: what is taken in, doubted, refused, and how it reads in the timeline.</summary>
public sealed class VisitRecordTests
{
    private const string Full = """
        {"type":"visit","key":"v1","unit":"OVEN-1","asked_at":"2026-02-20T08:00:00+01:00","arrived_at":"2026-02-21T09:00:00+01:00",
         "left_at":"2026-02-21T10:30:00+01:00","outcome":"proven","technician":"tech 4","faults":["E21"],
         "checks":[{"check":"turn-impeller","result":"fail"},{"check":"TURN-impeller","result":"pass","reading":1.50,"unit_of_measure":"A"}],
         "findings":[{"position":"wash-pump","failure_mode":"seized","cause":"scale"}],"proofs":[{"proof":"full-wash","result":"pass"},{"proof":"heating-circuits","result":"pass"}],
         "conditions":[{"position":"suction-hose","grade":"worn","note":"ends hard"}],"note":"Pump replaced.\nHose next time."}
        """;

    private const string SameInOtherWords = """
        {"note":"Pump replaced.\nHose next time.","key":"v1","at":"2026-02-20T07:00:00Z","unit":"oven-1","type":"visit","technician":"tech 4",
         "conditions":[{"grade":"worn","position":"SUCTION-HOSE","note":"ends hard"}],"proofs":[{"result":"pass","proof":"full-wash"},{"result":"pass","proof":"heating-circuits"}],
         "findings":[{"cause":"scale","failure_mode":"seized","position":"wash-pump","note":null}],"outcome":"proven","faults":["e21"],
         "checks":[{"result":"fail","check":"turn-impeller"},{"check":"turn-impeller","result":"pass","reading":1.5,"unit_of_measure":"A"}],
         "left_at":"2026-02-21T09:30:00Z","arrived_at":"2026-02-21T08:00:00Z","asked_at":"2026-02-20T07:00:00Z"}
        """;

    [Fact]
    public async Task A_full_visit_is_taken_in_without_doubts_and_the_same_in_other_words_is_a_duplicate()
    {
        await using ApiHost host = await StartAsync();
        JsonElement first = await SendAsync(host, Full);
        Assert.True(first.GetProperty("accepted").GetInt32() == 1 && first.GetProperty("doubted").GetInt32() == 0, first.ToString());

        JsonElement again = await SendAsync(host, SameInOtherWords);
        Assert.True(again.GetProperty("duplicate").GetInt32() == 1, again.ToString());

        JsonElement other = await SendAsync(host, Full.Replace("1.50", "1.51", StringComparison.Ordinal));
        AssertRefused(other, "key", "key_conflict");
    }

    [Fact]
    public async Task The_timeline_says_each_in_a_sentence()
    {
        await using ApiHost host = await StartAsync();
        await SendAsync(host, Full);
        await SendAsync(host, """
            {"type":"approval","key":"a1","unit":"OVEN-1","what":"New wash pump","amount":420,"fault_code":"E21",
             "asked_at":"2026-02-10T08:00:00Z","decision":"granted","decided_at":"2026-02-11T08:00:00Z","decided_by":"area manager"}
            """);
        await SendAsync(host, """{"type":"condition","key":"c1","unit":"OVEN-1","at":"2026-02-09T08:00:00Z","position":"suction-hose","grade":"poor"}""");
        await SendAsync(host, """{"type":"visit","key":"v0","unit":"OVEN-1","asked_at":"2026-02-08T08:00:00Z"}""");
        JsonElement history = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1/history");

        Assert.Equal(
            [
                "Visit by tech 4, 1 day 1 h after it was asked for: repaired and proven after 1 h 30 min; found: Wash pump (seized).",
                "Approval granted by area manager after 1 day: New wash pump (cost 420).",
                "Pump suction hose looked at: poor.",
                "Visit asked for.",
            ],
            history.GetProperty("items").EnumerateArray().Select(item => item.GetProperty("text").GetString()));
    }

    [Fact]
    public async Task People_at_the_oven_are_no_sign_of_life_of_the_oven()
    {
        await using ApiHost host = await StartAsync();
        await SendAsync(host, """{"type":"heartbeat","key":"h","unit":"OVEN-1","at":"2026-02-01T08:00:00Z"}""");
        await SendAsync(host, Full);
        await SendAsync(host, """{"type":"void","key":"x","at":"2026-02-22T08:00:00Z","voids":"v1","reason":"wrong oven"}""");
        await SendAsync(host, Full.Replace("\"v1\"", "\"v2\"", StringComparison.Ordinal));
        JsonElement unit = await host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");

        Assert.Equal(new DateTimeOffset(2026, 2, 1, 8, 0, 0, TimeSpan.Zero), unit.GetProperty("last_heard_at").GetDateTimeOffset());
    }

    [Fact]
    public async Task A_csv_of_visits_holds_its_lists_as_json_in_their_cells()
    {
        await using ApiHost host = await StartAsync();
        await SendAsync(host, Full);
        const string csv = "key,unit,asked_at,arrived_at,left_at,outcome,technician,note,faults,checks,findings,proofs,conditions\r\n"
            + "v1,OVEN-1,2026-02-20T08:00:00+01:00,2026-02-21T09:00:00+01:00,2026-02-21T10:30:00+01:00,proven,tech 4,\"Pump replaced.\nHose next time.\","
            + "\"[\"\"E21\"\"]\","
            + "\"[{\"\"check\"\":\"\"turn-impeller\"\",\"\"result\"\":\"\"fail\"\"},"
            + "{\"\"check\"\":\"\"turn-impeller\"\",\"\"result\"\":\"\"pass\"\",\"\"reading\"\":1.5,\"\"unit_of_measure\"\":\"\"A\"\"}]\","
            + "\"[{\"\"position\"\":\"\"wash-pump\"\",\"\"failure_mode\"\":\"\"seized\"\",\"\"cause\"\":\"\"scale\"\"}]\","
            + "\"[{\"\"proof\"\":\"\"full-wash\"\",\"\"result\"\":\"\"pass\"\"},{\"\"proof\"\":\"\"heating-circuits\"\",\"\"result\"\":\"\"pass\"\"}]\","
            + "\"[{\"\"position\"\":\"\"suction-hose\"\",\"\"grade\"\":\"\"worn\"\",\"\"note\"\":\"\"ends hard\"\"}]\"\r\n"
            + "v2,OVEN-1,2026-02-20T08:00:00+01:00,,,,,,E21,,,,\r\n";
        JsonElement answer = await SendAsync(host, csv, "text/csv", "?type=visit");

        Assert.True(answer.GetProperty("duplicate").GetInt32() == 1, answer.ToString());
        AssertRefused(answer, "faults", "list");
    }

    [Theory]
    [InlineData("visit", "\"at\":\"2026-02-20T08:00:00Z\"", "asked_at", "missing")]
    [InlineData("visit", "\"asked_at\":\"2026-02-20T08:00:00Z\",\"at\":\"2026-02-20T09:00:00Z\"", "at", "two_instants")]
    [InlineData("visit", "\"asked_at\":\"2026-02-20T08:00:00Z\",\"arrived_at\":\"2026-02-19T08:00:00Z\"", "arrived_at", "out_of_order")]
    [InlineData("visit", "\"arrived_at\":\"2026-02-20T08:00:00Z\",\"left_at\":\"2026-02-19T08:00:00Z\"", "left_at", "out_of_order")]
    [InlineData("visit", "\"asked_at\":\"2026-02-20T08:00:00Z\",\"left_at\":\"2026-02-19T08:00:00Z\"", "left_at", "out_of_order")]
    [InlineData("visit", "\"asked_at\":\"2026-02-20T08:00:00Z\",\"left_at\":\"2027-02-19T08:00:00Z\"", "left_at", "in_the_future")]
    [InlineData("visit", "\"asked_at\":\"2026-02-20 08:00\"", "asked_at", "instant")]
    [InlineData("visit", "\"left_at\":\"2026-02-20T08:00:00Z\",\"outcome\":\"mended\"", "outcome", "unknown_word")]
    [InlineData("visit", "\"arrived_at\":\"2026-02-20T08:00:00Z\",\"outcome\":\"proven\"", "outcome", "outcome_before_end")]
    [InlineData("visit", Arrived + "\"part_changes\":[{\"position\":\"wash-pump\"}]", "part_changes", "unknown_field")]
    [InlineData("visit", Arrived + "\"position\":\"wash-pump\"", "position", "unknown_field")]
    [InlineData("visit", Arrived + "\"faults\":\"E21\"", "faults", "list")]
    [InlineData("visit", Arrived + "\"faults\":[7]", "faults[0]", "kind")]
    [InlineData("visit", Arrived + "\"faults\":[null]", "faults[0]", "kind")]
    [InlineData("visit", Arrived + "\"faults\":[\" E21\"]", "faults[0]", "code")]
    [InlineData("visit", Arrived + "\"faults\":[\"\\ud800\"]", "faults[0]", "kind")]
    [InlineData("visit", Arrived + "\"faults\":[[[[[[[[[[]]]]]]]]]]", null, "too_deep")]
    [InlineData("visit", Arrived + "\"checks\":[{\"check\":\"a\"}]", "checks[0].result", "required")]
    [InlineData("visit", Arrived + "\"checks\":[{\"check\":\"a\",\"result\":\"maybe\"}]", "checks[0].result", "kind")]
    [InlineData("visit", Arrived + "\"checks\":[{\"check\":\"a\",\"result\":\"pass\",\"reading\":1e999}]", "checks[0].reading", "kind")]
    [InlineData("visit", Arrived + "\"checks\":[{\"check\":\"a\",\"result\":\"pass\",\"check\":\"b\"}]", "checks", "list")]
    [InlineData("visit", Arrived + "\"checks\":[{\"check\":\"a\",\"result\":\"pass\",\"colour\":\"red\"}]", "checks[0].colour", "unknown_field")]
    [InlineData("visit", Arrived + "\"findings\":[{\"position\":\"wash-pmp\"}]", "findings[0].position", "unknown_position")]
    [InlineData("visit", Arrived + "\"findings\":[{\"position\":\"wash-pump\",\"cause\":\" \"}]", "findings[0].cause", "text")]
    [InlineData("visit", Arrived + "\"conditions\":[{\"position\":\"wash-pump\",\"grade\":\"standard\"}]", "conditions[0].grade", "kind")]
    [InlineData("visit", Arrived + "\"conditions\":[{\"position\":\"roof\",\"grade\":\"good\"}]", "conditions[0].position", "unknown_position")]
    [InlineData("visit", Arrived + "\"proofs\":{}", "proofs", "list")]
    [InlineData("visit", Arrived + "\"note\":\"\\u0007\"", "note", "printable")]
    [InlineData("visit", Arrived + "\"technician\":\"a\\nb\"", "technician", "printable")]
    [InlineData("approval", "\"at\":\"2026-02-20T08:00:00Z\"", "asked_at", "missing")]
    [InlineData("approval", Asked + "\"decided_at\":\"2026-02-19T08:00:00Z\",\"decision\":\"granted\"", "decided_at", "out_of_order")]
    [InlineData("approval", Asked + "\"decided_at\":\"2026-02-21T08:00:00Z\"", "decision", "decision_incomplete")]
    [InlineData("approval", Asked + "\"decision\":\"refused\"", "decided_at", "decision_incomplete")]
    [InlineData("approval", Asked + "\"decision\":\"perhaps\",\"decided_at\":\"2026-02-21T08:00:00Z\"", "decision", "unknown_word")]
    [InlineData("approval", Asked + "\"amount\":-1", "amount", "not_negative")]
    [InlineData("approval", Asked + "\"amount\":\"1\"", "amount", "number")]
    [InlineData("condition", "\"at\":\"2026-02-20T08:00:00Z\",\"position\":\"wash-pump\"", "grade", "missing")]
    [InlineData("condition", "\"at\":\"2026-02-20T08:00:00Z\",\"position\":\"wash-pump\",\"grade\":\"standard\"", "grade", "unknown_word")]
    [InlineData("condition", "\"at\":\"2026-02-20T08:00:00Z\",\"position\":\"roof\",\"grade\":\"good\"", "position", "unknown_position")]
    [InlineData("condition", "\"position\":\"wash-pump\",\"grade\":\"good\"", "at", "missing")]
    public async Task Each_refusal_names_field_and_rule_and_says_what_to_do(string type, string fields, string? field, string rule)
    {
        await using ApiHost host = await StartAsync();
        JsonElement answer = await SendAsync(host, $$"""{"type":"{{type}}","key":"k","unit":"OVEN-1",{{fields}}}""");

        AssertRefused(answer, field, rule);
    }

    [Theory]
    [InlineData("\"left_at\":\"2026-02-20T08:00:00Z\"", "no_outcome", "no_arrival")]
    [InlineData(Arrived + "\"left_at\":\"2026-02-22T08:00:00Z\",\"outcome\":\"no_fault_found\"", "long_visit")]
    [InlineData(Arrived + "\"left_at\":\"2026-02-20T09:00:00Z\",\"outcome\":\"proven\",\"proofs\":[{\"proof\":\"w\",\"result\":\"fail\"}]", "proven_without_proof")]
    [InlineData(Arrived + "\"left_at\":\"2026-02-20T09:00:00Z\",\"outcome\":\"proven\"", "proven_without_proof")]
    [InlineData(Arrived + "\"left_at\":\"2026-02-20T09:00:00Z\",\"outcome\":\"proven\",\"proofs\":[{\"proof\":\"full-wash\",\"result\":\"pass\"}]", "proven_without_heating")]
    [InlineData(Arrived + "\"checks\":[{\"check\":\"turn-impellor\",\"result\":\"pass\"}]", "check_not_listed")]
    [InlineData(Arrived + "\"faults\":[\"E99\"]", "uncatalogued_fault")]
    public async Task What_is_unlikely_is_taken_in_and_doubted(string fields, params string[] rules)
    {
        await using ApiHost host = await StartAsync();
        JsonElement answer = await SendAsync(host, $$"""{"type":"visit","key":"k","unit":"OVEN-1",{{fields}}}""");

        Assert.True(answer.GetProperty("accepted").GetInt32() == 1, answer.ToString());
        Assert.Equal(rules, answer.GetProperty("rows")[0].GetProperty("doubts").EnumerateArray().Select(doubt => doubt.GetProperty("rule").GetString()!));
    }

    private const string Arrived = "\"arrived_at\":\"2026-02-20T08:00:00Z\",";

    private const string Asked = "\"asked_at\":\"2026-02-20T08:00:00Z\",";

    private static async Task<ApiHost> StartAsync()
    {
        ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        return host;
    }

    private static async Task<JsonElement> SendAsync(ApiHost host, string body, string mediaType = "application/json", string query = "")
    {
        using HttpResponseMessage answer = await host.Admin.PostAsync("/v1/records" + query, new StringContent(body, Encoding.UTF8, mediaType));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonDocument.Parse(text).RootElement;
    }

    private static void AssertRefused(JsonElement answer, string? field, string rule)
    {
        Assert.True(answer.GetProperty("refused").GetInt32() == 1, answer.ToString());
        JsonElement problem = answer.GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("outcome").GetString() == "refused")
            .GetProperty("problem");
        Assert.True(problem.GetProperty("field").GetString() == field && problem.GetProperty("rule").GetString() == rule, answer.ToString());
        Assert.NotEmpty(problem.GetProperty("detail").GetString()!);
        Assert.NotEmpty(problem.GetProperty("mend").GetString()!);
    }
}
