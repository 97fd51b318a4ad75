using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Security;
using Washwear.Api.Tests.Registry;
using static Washwear.Api.Tests.Ingest.Sending;

namespace Washwear.Api.Tests.Ingest;

/// <summary>What becomes of records that are sent, once and again, right and mended.</summary>
public sealed class IngestOutcomeTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public async Task DisposeAsync() => await _host.DisposeAsync();

    [Fact]
    public async Task One_object_an_array_lines_and_csv_are_taken_in_alike()
    {
        AssertCounts(await SendAsync(_host.Admin, Wash("a")), accepted: 1);
        AssertCounts(await SendAsync(_host.Admin, "[" + Wash("b") + "," + Wash("c") + "]"), accepted: 2);
        AssertCounts(await SendAsync(_host.Admin, Wash("d") + "\n" + Wash("e") + "\r\n\n", "application/x-ndjson"), accepted: 2);
        AssertCounts(
            await SendAsync(_host.Admin, "key,unit,at,grade,outcome\r\nf,oven-1,2026-02-20T22:00:00+01:00,standard,completed\r\n", "text/csv", "?type=wash"),
            accepted: 1);

        JsonElement taken = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records?unit=OVEN-1&type=wash");
        Assert.Equal(["a", "b", "c", "d", "e", "f"], taken.GetProperty("items").EnumerateArray().Select(row => row.GetProperty("key").GetString()));
    }

    [Fact]
    public async Task The_same_again_is_a_duplicate_however_it_is_spelled_and_another_content_is_a_conflict_that_is_kept()
    {
        AssertCounts(await SendAsync(_host.Admin, Wash("a")), accepted: 1);
        AssertCounts(await SendAsync(_host.Admin, Wash("a")), duplicate: 1);
        AssertCounts(
            await SendAsync(_host.Admin, """{"outcome":"completed","grade":"standard","at":"2026-02-20T21:00:00Z","unit":"oven-1","key":"a","type":"wash"}"""),
            duplicate: 1);

        AssertRefused(await SendAsync(_host.Admin, Wash("a", outcome: "stopped_by_person")), "key", "key_conflict");
        JsonElement refused = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Contains("stopped_by_person", refused.GetProperty("items")[0].GetProperty("body").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_sources_may_use_the_same_key()
    {
        HttpClient gateway = await _host.ClientAsync(Abilities.Ingest, "gateway");
        AssertCounts(await SendAsync(_host.Admin, Wash("a")), accepted: 1);
        AssertCounts(await SendAsync(gateway, Wash("a", outcome: "refused")), accepted: 1);
        AssertCounts(await SendAsync(_host.Admin, Wash("a", outcome: "unknown"), query: "?source=sheet"), accepted: 1);
    }

    [Fact]
    public async Task A_refused_row_is_listed_until_it_comes_right_or_is_discarded()
    {
        AssertRefused(await SendAsync(_host.Admin, Wash("a").Replace("OVEN-1", "OVEN-2", StringComparison.Ordinal)), "unit", "unknown_unit");
        AssertRefused(await SendAsync(_host.Admin, Wash("b").Replace("OVEN-1", "OVEN-2", StringComparison.Ordinal)), "unit", "unknown_unit");
        JsonElement refused = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Equal(2, refused.GetProperty("items").GetArrayLength());

        AssertCounts(await SendAsync(_host.Admin, Wash("a")), accepted: 1);
        refused = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        JsonElement left = Assert.Single(refused.GetProperty("items").EnumerateArray());
        using HttpResponseMessage gone = await _host.Admin.PostAsync($"/v1/records/refused/{left.GetProperty("id")}/discard", null);
        Assert.Equal(HttpStatusCode.NoContent, gone.StatusCode);
        refused = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records/refused");
        Assert.Empty(refused.GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task All_or_nothing_takes_no_row_when_one_is_refused()
    {
        JsonElement answer = await SendAsync(
            _host.Admin, "[" + Wash("a") + "," + Wash("b", outcome: "splendid") + "]", query: "?all_or_nothing=true&rows=all");
        AssertCounts(answer, refused: 1);
        Assert.Equal(1, answer.GetProperty("held_back").GetInt32());
        Assert.Equal(2, answer.GetProperty("rows").GetArrayLength());
        JsonElement taken = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records");
        Assert.Empty(taken.GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_void_takes_a_record_back_whether_it_comes_before_or_after_it(bool voidFirst)
    {
        const string Void = """{"type":"void","key":"v","at":"2026-02-21T08:00:00Z","voids":"a","reason":"entered for the wrong oven"}""";
        foreach (string body in voidFirst ? new[] { Void, Wash("a") } : [Wash("a"), Void])
        {
            AssertCounts(await SendAsync(_host.Admin, body), accepted: 1);
        }

        JsonElement history = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1/history");
        Assert.True(Assert.Single(history.GetProperty("items").EnumerateArray()).GetProperty("voided").GetBoolean());
        JsonElement status = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status");
        Assert.Equal(JsonValueKind.Null, status.GetProperty("rows")[0].GetProperty("last_counted_wash_at").ValueKind);
    }

    [Fact]
    public async Task A_replacement_stands_for_the_record_that_it_replaces()
    {
        AssertCounts(await SendAsync(_host.Admin, Wash("a", more: ""","ended_at":"2026-02-20T23:00:00+01:00" """)), accepted: 1);
        AssertCounts(
            await SendAsync(_host.Admin, Wash("b", more: ""","ended_at":"2026-02-20T23:30:00+01:00","replaces":"a" """)), accepted: 1);

        JsonElement status = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status");
        Assert.Equal(
            DateTimeOffset.Parse("2026-02-20T22:30:00Z", System.Globalization.CultureInfo.InvariantCulture),
            status.GetProperty("rows")[0].GetProperty("last_counted_wash_at").GetDateTimeOffset());
    }

    [Fact]
    public async Task Formula_like_cells_leave_disarmed()
    {
        AssertCounts(await SendAsync(_host.Admin, Wash("=1+1")), accepted: 1);
        string csv = await _host.Admin.GetStringAsync("/v1/records?format=csv");
        Assert.Contains(",'=1+1,", csv, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_that_may_only_read_sends_nothing()
    {
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage answer = await PostAsync(reader, "{}"u8.ToArray(), "application/json");
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, answer);
    }
}
