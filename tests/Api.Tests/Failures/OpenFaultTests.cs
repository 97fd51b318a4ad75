using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Failures;

/// <summary>A fault that two senders tell is one fault, as one clearing ends it.</summary>
public sealed class OpenFaultTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task One_fault_by_two_senders_is_listed_once_with_both_and_stays_two_records()
    {
        Sending.AssertCounts(
            await Sending.SendAsync(
                _host.Admin,
                """
                [{"type":"fault","key":"f1","source":"gateway","unit":"OVEN-1","at":"2026-02-20T08:00:00Z","code":"E21"},
                 {"type":"fault","key":"f2","source":"hotline","unit":"OVEN-1","at":"2026-02-20T08:03:00Z","code":"e21"}]
                """),
            accepted: 2);
        JsonElement fault = Assert.Single((await UnitAsync()).GetProperty("open_faults").EnumerateArray());
        Assert.Equal("2026-02-20T08:00:00Z", fault.GetProperty("raised_at").GetString());
        Assert.Equal(["gateway", "hotline"], fault.GetProperty("sources").EnumerateArray().Select(source => source.GetString()));
        Assert.Contains("told by gateway, hotline", await _host.Admin.GetStringAsync("/units/OVEN-1"), StringComparison.Ordinal);
        JsonElement records = await _host.Admin.GetFromJsonAsync<JsonElement>("/v1/records?unit=OVEN-1&type=fault");
        Assert.Equal(2, records.GetProperty("items").GetArrayLength());

        await Sending.SendAsync(_host.Admin, """{"type":"fault_cleared","key":"c1","source":"gateway","unit":"OVEN-1","at":"2026-02-20T09:00:00Z","code":"E21"}""");
        Assert.Empty((await UnitAsync()).GetProperty("open_faults").EnumerateArray());
    }

    [Fact]
    public async Task One_sender_is_not_named_on_the_page()
    {
        await Sending.SendAsync(_host.Admin, """{"type":"fault","key":"f1","source":"gateway","unit":"OVEN-1","at":"2026-02-20T08:00:00Z","code":"E21"}""");
        Assert.DoesNotContain("told by", await _host.Admin.GetStringAsync("/units/OVEN-1"), StringComparison.Ordinal);
    }

    private Task<JsonElement> UnitAsync() => _host.Admin.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
}
