using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.Http;
using CloudNative.CloudEvents.SystemTextJson;
using Washwear.Api.Tests.Registry;
using static Washwear.Api.Tests.Ingest.Sending;

namespace Washwear.Api.Tests.Ingest;

/// <summary>Records in CloudEvents 1.0; what the CNCF's own library sends is taken in, in all three modes of the HTTP binding.</summary>
public sealed class CloudEventTests : IAsyncLifetime
{
    private const string Structured = "application/cloudevents+json";
    private const string Batched = "application/cloudevents-batch+json";
    private const string WashData = """{"unit":"OVEN-1","grade":"standard","outcome":"completed"}""";

    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Theory]
    [InlineData(ContentMode.Structured)]
    [InlineData(ContentMode.Binary)]
    public async Task An_event_that_the_cncf_library_sends_is_a_record(ContentMode mode)
    {
        using HttpContent content = LibraryEvent("17").ToHttpContent(mode, new JsonEventFormatter());
        AssertCounts(await TakeInAsync(content), accepted: 1);
        await AssertTakenAsync("wash", "/kitchens/12/gateway", "17", "2026-02-20T22:00:00.5Z");
    }

    [Fact]
    public async Task A_batch_that_the_cncf_library_sends_is_taken_in_event_by_event()
    {
        CloudEvent[] events = [LibraryEvent("a"), LibraryEvent("b"), LibraryEvent("a")];
        using HttpContent content = events.ToHttpContent(new JsonEventFormatter());
        Assert.Equal(Batched, content.Headers.ContentType!.MediaType);
        AssertCounts(await TakeInAsync(content), accepted: 2, duplicate: 1);
        AssertCounts(await SendAsync(_host.Admin, "[]", Batched));
    }

    [Fact]
    public async Task What_the_data_says_goes_before_the_address_and_the_address_before_the_event()
    {
        string data = """{"type":"wash","key":"own-key","source":"own-source","unit":"OVEN-1","at":"2026-02-20T20:00:00Z","grade":"standard","outcome":"completed"}""";
        AssertCounts(await SendAsync(_host.Admin, Event(data, type: "com.example.fault"), Structured, "?source=address&type=meter"), accepted: 1);
        await AssertTakenAsync("wash", "own-source", "own-key", "2026-02-20T20:00:00Z");
        AssertCounts(await SendAsync(_host.Admin, Event(WashData, id: "18", type: "com.example.something"), Structured, "?source=address&type=wash"), accepted: 1);
        await AssertTakenAsync("wash", "address", "18", "2026-02-20T22:00:00Z");
    }

    [Theory]
    [InlineData("wash")]
    [InlineData("com.example.wash")]
    [InlineData("com.example.wash.v2")]
    public async Task The_last_segment_of_the_type_names_the_record(string type) =>
        AssertCounts(await SendAsync(_host.Admin, Event(WashData, type: type), Structured), accepted: 1);

    [Fact]
    public async Task An_instant_of_the_record_stands_against_the_events_time()
    {
        string visit = """{"unit":"OVEN-1","arrived_at":"2026-02-20T10:00:00Z","left_at":"2026-02-20T11:00:00Z","outcome":"no_fault_found"}""";
        AssertCounts(await SendAsync(_host.Admin, Event(visit, type: "com.example.visit"), Structured), accepted: 1);
        await AssertTakenAsync("visit", "/gateway", "17", "2026-02-20T10:00:00Z");
        string cleared = """{"unit":"OVEN-1","code":"E21","cleared_at":"2026-02-20T10:30:00Z"}""";
        AssertCounts(await SendAsync(_host.Admin, Event(cleared, id: "18", type: "com.example.fault_cleared"), Structured), accepted: 1);
        await AssertTakenAsync("fault_cleared", "/gateway", "18", "2026-02-20T10:30:00Z");
    }

    [Theory]
    [InlineData("""{"id":"1","source":"/g","type":"wash","data":{}}""", "specversion", "missing")]
    [InlineData("""{"specversion":"0.3","id":"1","source":"/g","type":"wash","data":{}}""", "specversion", "specversion")]
    [InlineData("""{"specversion":1.0,"id":"1","source":"/g","type":"wash","data":{}}""", "specversion", "text")]
    [InlineData("""{"specversion":"1.0","source":"/g","type":"wash","data":{}}""", "id", "missing")]
    [InlineData("""{"specversion":"1.0","id":" ","source":"/g","type":"wash","data":{}}""", "id", "missing")]
    [InlineData("""{"specversion":"1.0","id":"1","id":"2","source":"/g","type":"wash","data":{}}""", "id", "given_twice")]
    [InlineData("""{"specversion":"1.0","id":"1","source":null,"type":"wash","data":{}}""", "source", "missing")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"https://gateway.example.com/kitchens/of/a/very/long/path/that/does/not/fit","type":"wash","data":{}}""", "source", "source")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","data":{}}""", "type", "missing")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"com.example.bath","data":{}}""", "type", "unknown_type")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","time":"yesterday","data":{}}""", "time", "instant")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","datacontenttype":"text/csv","data":"unit"}""", "datacontenttype", "data_not_json")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","data_base64":"e30="}""", "data_base64", "data_not_json")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash"}""", "data", "missing")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","data":"{}"}""", "data", "not_an_object")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","data":{},"data":{}}""", "data", "given_twice")]
    [InlineData("""{"specversion":"1.0","id":"1","source":"/g","type":"wash","time":"2026-02-20T22:00:00Z","data":{"unit":"OVEN-1","outcome":"completed","colour":"red"}}""", "colour", "unknown_field")]
    [InlineData("""{"specversion":"1.0","id":"\ud800","source":"/g","type":"wash","data":{}}""", "id", "text")]
    public async Task An_event_that_is_no_record_names_its_attribute_and_is_kept_as_it_came(string body, string field, string rule)
    {
        AssertRefused(await SendAsync(_host.Admin, "[" + body + "]", Batched), field, rule);
        JsonElement kept = (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused")).GetProperty("items")[0];
        Assert.Equal(body, kept.GetProperty("body").GetString());
        Assert.Equal("cloudevent", kept.GetProperty("format").GetString());
    }

    [Fact]
    public async Task A_refused_event_is_kept_under_its_source_and_id_and_goes_when_it_came_right()
    {
        AssertRefused(await SendAsync(_host.Admin, Event("""{"unit":"OVEN-1","grade":"standard"}"""), Structured), "outcome", "missing");
        JsonElement kept = (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused?source=%2Fgateway")).GetProperty("items")[0];
        Assert.Equal("17", kept.GetProperty("key").GetString());
        AssertCounts(await SendAsync(_host.Admin, Event(WashData), Structured), accepted: 1);
        Assert.Empty((await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused")).GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task A_batch_is_taken_in_up_to_where_it_breaks_off()
    {
        JsonElement answer = await SendAsync(_host.Admin, "[" + Event(WashData, id: "a") + "," + Event(WashData, id: "b") + ",{\"specversion\":", Batched);
        AssertCounts(answer, accepted: 2, refused: 1);
        Assert.Equal(3, answer.GetProperty("unread_from_row").GetInt32());
    }

    [Fact]
    public async Task Binary_mode_reads_percents_and_keeps_a_refused_body_with_its_headers()
    {
        using HttpRequestMessage good = Binary(WashData, ("ce-specversion", "1.0"), ("ce-id", "caf%C3%A9"), ("ce-source", "/gateway"), ("ce-type", "com.example.wash"), ("ce-time", "2026-02-20T22:00:00Z"));
        AssertCounts(await AnswerAsync(good), accepted: 1);
        await AssertTakenAsync("wash", "/gateway", "caf\u00e9", "2026-02-20T22:00:00Z");

        using HttpRequestMessage bad = Binary(WashData, ("ce-specversion", "1.0"), ("ce-id", "1"), ("ce-source", "/gateway"), ("ce-time", "2026-02-20T22:00:00Z"));
        AssertRefused(await AnswerAsync(bad), "ce-type", "missing");
        JsonElement kept = (await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused")).GetProperty("items")[0];
        string body = kept.GetProperty("body").GetString()!;
        Assert.EndsWith("\n\n" + WashData, body, StringComparison.Ordinal);
        Assert.Contains("ce-source: /gateway\n", body, StringComparison.Ordinal);
        Assert.Contains("content-type: application/json\n", body, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Binary_mode_carries_json_alone_and_no_other_form_of_events_is_read()
    {
        foreach (string type in (string[])["text/csv", "application/x-ndjson", "image/png", "application/cloudevents+avro", "application/cloudevents"])
        {
            using HttpRequestMessage request = Binary(WashData, ("ce-specversion", "1.0"), ("ce-id", "1"), ("ce-source", "/g"), ("ce-type", "wash"));
            request.Content!.Headers.Remove("Content-Type");
            request.Content.Headers.TryAddWithoutValidation("Content-Type", type);
            using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
            await ProblemAssert.IsAsync(HttpStatusCode.UnsupportedMediaType, answer);
        }
    }

    private static CloudEvent LibraryEvent(string id) => new()
    {
        Id = id,
        Source = new Uri("/kitchens/12/gateway", UriKind.Relative),
        Type = "com.example.wash",
        Time = new DateTimeOffset(2026, 2, 20, 23, 0, 0, 500, TimeSpan.FromHours(1)),
        DataContentType = "application/json",
        Subject = "OVEN-1",
        Data = JsonDocument.Parse(WashData).RootElement,
        ["traceparent"] = "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01",
    };

    private static string Event(string data, string id = "17", string type = "com.example.wash") =>
        $$"""{"specversion":"1.0","id":"{{id}}","source":"/gateway","type":"{{type}}","time":"2026-02-20T23:00:00+01:00","data":{{data}}}""";

    private static HttpRequestMessage Binary(string data, params (string Name, string Value)[] headers)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = new ByteArrayContent(Encoding.UTF8.GetBytes(data)) };
        request.Content.Headers.TryAddWithoutValidation("Content-Type", "application/json");
        foreach ((string name, string value) in headers)
        {
            request.Headers.TryAddWithoutValidation(name, value);
        }

        return request;
    }

    private async Task<JsonElement> AnswerAsync(HttpRequestMessage request)
    {
        using HttpResponseMessage answer = await _host.Admin.SendAsync(request);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, text);
        return JsonDocument.Parse(text).RootElement;
    }

    private async Task<JsonElement> TakeInAsync(HttpContent content)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/records") { Content = content };
        return await AnswerAsync(request);
    }

    private async Task AssertTakenAsync(string type, string source, string key, string at)
    {
        JsonElement taken = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records");
        JsonElement last = taken.GetProperty("items").EnumerateArray().Last();
        Assert.Equal(
            (type, source, key, at),
            (last.GetProperty("type").GetString(), last.GetProperty("source").GetString(), last.GetProperty("key").GetString(), last.GetProperty("at").GetString()));
    }
}
