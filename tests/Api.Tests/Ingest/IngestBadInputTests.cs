using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Washwear.Api.Tests.Registry;
using static Washwear.Api.Tests.Ingest.Sending;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Bad input gets a clear answer and loses nothing; none gives a 500.</summary>
public sealed class IngestBadInputTests : IAsyncLifetime
{
    private const string VisitRow = """
        {"type":"visit","key":"v","unit":"OVEN-1","arrived_at":"2026-02-20T22:00:00Z","left_at":"2026-02-20T23:00:00Z","outcome":"proven","faults":["E21"],"checks":[{"check":"turn-impeller","result":"pass","reading":1.5,"unit_of_measure":"bar"}],"findings":[{"position":"wash-pump","note":"worn"}],"proofs":[{"proof":"full-wash","result":"pass"}],"conditions":[{"position":"suction-hose","grade":"worn"}]}
        """;

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"0000-01-01T00:00:00Z","grade":"light","outcome":"completed"}""", "at")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"2026-03-09T00:00:00Z","grade":"light","outcome":"completed"}""", "at")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00","grade":"light","outcome":"completed"}""", "at")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-9","at":"2026-02-20T22:00:00Z","grade":"light","outcome":"completed"}""", "unit")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","grade":"sparkling","outcome":"completed"}""", "grade")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","grade":"light","outcome":"completed","ended_at":"2026-02-20T21:00:00Z"}""", "ended_at")]
    [InlineData("""{"type":"wash","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","grade":"light","outcome":"completed","colour":"blue"}""", "colour")]
    [InlineData("""{"type":"wash","key":"","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","grade":"light","outcome":"completed"}""", "key")]
    [InlineData("""{"type":"bath","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z"}""", "type")]
    [InlineData("""{"type":"part_change","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","position":"wash-pump","fitted":{"age_days":-3}}""", "fitted.age_days")]
    [InlineData("""{"type":"part_change","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","position":"wheel","fitted":{}}""", "position")]
    [InlineData("""{"type":"meter","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","washes_total":1e999}""", "washes_total")]
    [InlineData("""{"type":"meter","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","washes_total":"NaN"}""", "washes_total")]
    [InlineData("""{"type":"meter","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","washes_total":1000001}""", "washes_total")]
    [InlineData("""{"type":"meter","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","operating_hours_total":1e30}""", "operating_hours_total")]
    [InlineData("""{"type":"part_change","key":"k","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","position":"wash-pump","fitted":{"age_days":36526}}""", "fitted.age_days")]
    public async Task A_bad_row_names_its_field_its_rule_and_its_mend_and_is_kept(string row, string field)
    {
        JsonElement answer = await SendAsync(_host.Admin, row);
        AssertCounts(answer, refused: 1);
        JsonElement problem = answer.GetProperty("rows")[0].GetProperty("problem");
        Assert.Equal(field, problem.GetProperty("field").GetString());
        Assert.NotEmpty(problem.GetProperty("rule").GetString()!);
        Assert.NotEmpty(problem.GetProperty("mend").GetString()!);
        JsonElement kept = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Equal(row, kept.GetProperty("items")[0].GetProperty("body").GetString());
    }

    [Theory]
    [InlineData("")]
    [InlineData(" \r\n ")]
    [InlineData("not json")]
    [InlineData("[1,2")]
    [InlineData("\"text\"")]
    public async Task A_body_of_which_nothing_can_be_read_is_a_bad_request(string body)
    {
        using HttpResponseMessage answer = await PostAsync(_host.Admin, Encoding.UTF8.GetBytes(body), "application/json");
        Assert.True(
            answer.StatusCode == HttpStatusCode.BadRequest || (await answer.Content.ReadAsStringAsync()).Contains("\"refused\":", StringComparison.Ordinal),
            await answer.Content.ReadAsStringAsync());
        Assert.False((int)answer.StatusCode >= 500);
    }

    [Fact]
    public async Task A_line_of_20_MB_is_one_refused_row_and_the_lines_around_it_are_taken_in()
    {
        string body = Wash("a") + "\n{\"type\":\"wash\",\"key\":\"" + new string('x', 20 * 1024 * 1024) + "\"}\n" + Wash("b") + "\n";
        JsonElement answer = await SendAsync(_host.Admin, body, "application/x-ndjson");
        AssertCounts(answer, accepted: 2, refused: 1);
        JsonElement refused = answer.GetProperty("rows").EnumerateArray().Single(row => row.GetProperty("outcome").GetString() == "refused");
        Assert.Equal(2, refused.GetProperty("row").GetInt32());
    }

    [Fact]
    public async Task A_request_larger_than_the_limit_is_refused_whole()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records")
        {
            Content = new StringContent(new string(' ', 33 * 1024 * 1024), Encoding.UTF8, "application/json"),
        };
        request.Headers.ExpectContinue = true;
        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task Deep_nesting_is_a_refused_row()
    {
        string deep = string.Concat(Enumerable.Repeat("{\"a\":", 5000)) + "1" + new string('}', 5000);
        JsonElement answer = await SendAsync(_host.Admin, Wash("a") + "\n" + deep + "\n", "application/x-ndjson");
        AssertCounts(answer, accepted: 1, refused: 1);
    }

    [Fact]
    public async Task Other_encodings_are_named_and_never_guessed()
    {
        using HttpResponseMessage utf16 = await PostAsync(_host.Admin, Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Wash("a"))).ToArray(), "application/json");
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, utf16);
        using HttpResponseMessage declared = await PostAsync(_host.Admin, Encoding.Latin1.GetBytes(Wash("a")), "application/json; charset=iso-8859-1");
        await ProblemAssert.IsAsync(HttpStatusCode.UnsupportedMediaType, declared);

        byte[] latin1 = Encoding.Latin1.GetBytes(Wash("caf\u00e9") + "\n");
        using HttpResponseMessage silent = await PostAsync(_host.Admin, latin1, "application/x-ndjson");
        JsonElement answer = JsonDocument.Parse(await silent.Content.ReadAsStringAsync()).RootElement;
        AssertCounts(answer, refused: 1);

        AssertCounts(await SendAsync(_host.Admin, "\uFEFF" + Wash("with a mark")), accepted: 1);
    }

    [Fact]
    public async Task Csv_columns_that_are_missing_or_unknown_are_named()
    {
        using HttpResponseMessage unknown = await PostAsync(
            _host.Admin, "key,unit,at,colour\r\na,OVEN-1,2026-02-20T22:00:00Z,blue\r\n"u8.ToArray(), "text/csv", "?type=heartbeat");
        Assert.Equal(HttpStatusCode.BadRequest, unknown.StatusCode);
        Assert.Contains("colour", await unknown.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        using HttpResponseMessage missing = await PostAsync(_host.Admin, "unit,at\r\nOVEN-1,2026-02-20T22:00:00Z\r\n"u8.ToArray(), "text/csv", "?type=heartbeat");
        Assert.Contains("key", await missing.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.False((int)missing.StatusCode >= 500);

        JsonElement ragged = await SendAsync(
            _host.Admin, "key,unit,at\r\na,OVEN-1,2026-02-20T22:00:00Z,one too many\r\nb,OVEN-1,2026-02-20T22:00:00Z\r\n", "text/csv", "?type=heartbeat");
        AssertCounts(ragged, accepted: 1, refused: 1);
    }

    [Theory]
    [InlineData("?type=bath", "type")]
    [InlineData("?rows=some", "rows")]
    [InlineData("?all_or_nothing=perhaps", "all_or_nothing")]
    [InlineData("?source=%00", "source")]
    public async Task A_parameter_that_is_not_known_is_named_in_every_form(string query, string field)
    {
        foreach (string type in new[] { "application/json", "application/x-ndjson", "text/csv" })
        {
            using HttpResponseMessage answer = await PostAsync(_host.Admin, Encoding.UTF8.GetBytes(Wash("a")), type, query);
            JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
            Assert.Equal(field, problem.GetProperty("errors")[0].GetProperty("field").GetString());
        }
    }

    [Theory]
    [InlineData("/v1/records?type=bath")]
    [InlineData("/v1/records?after=OTk5OTk5OTk5OTk5OTk5OTk5OTk5OTk5")]
    [InlineData("/v1/records/refused?after=LTE")]
    [InlineData("/v1/records/refused?limit=0")]
    public async Task A_list_that_is_asked_for_wrongly_does_not_begin_anew(string path)
    {
        using HttpResponseMessage answer = await _host.Admin.GetAsync(path);
        await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
    }

    [Fact]
    public async Task A_comma_too_many_leaves_nothing_behind_to_be_mended()
    {
        AssertCounts(await SendAsync(_host.Admin, "[" + Wash("a") + ",]"), accepted: 1, refused: 1);
        JsonElement kept = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Empty(kept.GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData("2026-02-20T22:00:00.123456789Z")]
    [InlineData("2026-02-20t23:00:00.1234567890123456789+01:00")]
    public async Task Finer_fractions_than_a_tick_are_cut(string at)
    {
        AssertCounts(await SendAsync(_host.Admin, Wash("a", at)), accepted: 1);
        JsonElement taken = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records");
        Assert.Equal("2026-02-20T22:00:00.123Z", taken.GetProperty("items")[0].GetProperty("at").GetString());
    }

    [Fact]
    public async Task Column_names_are_read_as_a_spreadsheet_writes_them() => AssertCounts(
        await SendAsync(_host.Admin, "Key;Unit;AT\r\nh;OVEN-1;2026-02-20T22:00:00Z\r\n", "text/csv", "?type=heartbeat"), accepted: 1);

    [Fact]
    public async Task Bodies_that_were_broken_at_random_never_break_the_service()
    {
        const int Bodies = 3000;
        var random = new Random(41);
        (string Body, string Type, string Query)[] seeds =
        [
            (Wash("a"), "application/json", string.Empty),
            ("[" + Wash("a") + "," + Wash("b") + "]", "application/json", "?all_or_nothing=true"),
            (Wash("a") + "\n" + Wash("b") + "\n", "application/x-ndjson", "?rows=all"),
            ("key,unit,at,grade,outcome\r\nf,OVEN-1,2026-02-20T22:00:00+01:00,standard,completed\r\n", "text/csv", "?type=wash"),
            ("""{"type":"part_change","key":"p","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","position":"wash-pump","fitted":{"age_days":3},"removed":{"reason":"failed"}}""", "application/json", string.Empty),
            (VisitRow, "application/json", "?all_or_nothing=false"),
            ("key,unit,arrived_at,left_at,faults\r\nv,OVEN-1,2026-02-20T22:00:00Z,2026-02-20T23:00:00Z,\"[\"\"E21\"\"]\"\r\n", "text/csv", "?type=visit"),
            ("""{"type":"approval","key":"p","unit":"OVEN-1","asked_at":"2026-02-20T22:00:00Z","what":"pump","amount":400.5,"decision":"granted","decided_at":"2026-02-21T22:00:00Z"}""", "application/json", string.Empty),
        ];
        for (int i = 0; i < Bodies; i++)
        {
            (string body, string type, string query) = seeds[random.Next(seeds.Length)];
            byte[] broken = Break(Encoding.UTF8.GetBytes(body), random);
            using HttpResponseMessage answer = await PostAsync(_host.Admin, broken, type, query);
            Assert.True((int)answer.StatusCode < 500, $"body {i}, seed 41: {Convert.ToHexString(broken)}");
        }
    }

    private static byte[] Break(byte[] body, Random random)
    {
        List<byte> bytes = [.. body];
        for (int change = random.Next(1, 5); change > 0 && bytes.Count > 0; change--)
        {
            int at = random.Next(bytes.Count);
            switch (random.Next(5))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 20), bytes.Count - at));
                    break;
                case 2:
                    bytes.InsertRange(at, bytes.GetRange(at, Math.Min(random.Next(1, 30), bytes.Count - at)));
                    break;
                case 3:
                    bytes.Insert(at, "\"{}[],:\\\r\n0-e\0"u8[random.Next(14)]);
                    break;
                default:
                    (bytes[at], bytes[random.Next(bytes.Count)]) = (bytes[random.Next(bytes.Count)], bytes[at]);
                    break;
            }
        }

        return [.. bytes];
    }
}
