using System.Globalization;
using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Http;
using Washwear.Api.Registry;

namespace Washwear.Api.Tests.Registry;

public sealed class RegistryDocumentTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await ApiHost.StartAsync();

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task GoesOutAndComesBackUnchanged()
    {
        await Samples.PutAllAsync(_host.Admin);
        string document = await _host.Admin.GetStringAsync("/v1/registry");
        await using ApiHost other = await ApiHost.StartAsync();
        using HttpResponseMessage put = await Samples.PutAsync(other.Admin, "/v1/registry", document);
        Assert.Equal("""{"created":5,"changed":0,"unchanged":0}""", await put.Content.ReadAsStringAsync());
        Assert.Equal(document, await other.Admin.GetStringAsync("/v1/registry"));
        using HttpResponseMessage again = await Samples.PutAsync(other.Admin, "/v1/registry", document);
        Assert.Equal("""{"created":0,"changed":0,"unchanged":5}""", await again.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task StoresNothingWhenOnePartIsWrong()
    {
        const string document = """
            {"operators":[{"operator":"a","name":"A"},{"operator":"A","name":"again"}],
             "sites":[{"site":"s","operator":"b","name":"S","time_zone":"UTC"}],"models":[],
             "units":[{"unit":"u","site":"s","model":"m","commissioned_on":"2026-01-01"}],"rules":[]}
            """;
        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/registry", document);
        await ProblemAssert.ListsAsync(
            put, "operators[1].operator duplicate", "sites[0].operator unknown_operator", "units[0].model unknown_model");
        Assert.Equal("""{"operators":[],"sites":[],"models":[],"units":[],"rules":[]}""", await _host.Admin.GetStringAsync("/v1/registry"));
    }

    [Fact]
    public async Task HoldsTenThousandUnitsAndSeesEachChange()
    {
        await Samples.PutAllAsync(_host.Admin);
        RegistryCache cache = _host.Services.GetRequiredService<RegistryCache>();
        RegistrySnapshot before = await cache.CurrentAsync(CancellationToken.None);
        UnitResource sample = before.Units["oven-1"].Resource;
        RegistryDocument document = RegistryDocuments.Of(before) with
        {
            Units = [.. Enumerable.Range(0, 10_000).Select(i => sample with { Unit = string.Create(CultureInfo.InvariantCulture, $"U{i:00000}") })],
        };
        using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/registry", JsonSerializer.Serialize(document, Json.Options));
        Assert.Equal("""{"created":10000,"changed":0,"unchanged":4}""", await put.Content.ReadAsStringAsync());

        RegistrySnapshot after = await cache.CurrentAsync(CancellationToken.None);
        Assert.Equal(10_001, after.UnitList.Count);
        Assert.Same(after, await cache.CurrentAsync(CancellationToken.None));
        UnitEntry found = after.Units["u09999"];
        Assert.Same(found, after.UnitsById[found.Id]);
        Assert.Equal("Europe/Vienna", found.Site.Zone.Id);
        Assert.Equal("harbour", found.Site.Operator.Resource.Operator);
        Assert.True(found.Model.Faults["e21"].LocksOutWashing);
        Assert.True(after.Rules["DAILY"].AppliesTo(found));

        using HttpResponseMessage change = await Samples.PutAsync(_host.Admin, "/v1/units/U00001", Samples.Unit.Replace("48", "49", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.OK, change.StatusCode);
        Assert.NotSame(after, await cache.CurrentAsync(CancellationToken.None));
    }
}
