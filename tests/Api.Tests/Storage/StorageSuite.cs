using System.Data.Common;
using System.Net;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Alerts;
using Washwear.Api.Ingest;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Tests.Demo;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Storage;

/// <summary>What storage must do on every engine, asked of the real program over real HTTP.</summary>
public abstract class StorageSuite : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("washwear-suite-");
    private readonly List<ApiHost> _hosts = [];
    private (string Name, string Value)[]? _settings;

    // Each type, the same again, another under its key, voids before and after, one for no unit, a replacement.
    private static string[] Rows =>
    [
        Sending.Wash("w1"), Sending.Wash("w2", "2026-02-21T22:00:00+01:00"), Sending.Wash("w1"), Sending.Wash("w1", outcome: "unknown"),
        """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-02-22T08:00:00Z","code":"E-11"}""",
        """{"type":"fault_cleared","key":"f2","unit":"OVEN-1","at":"2026-02-22T09:00:00Z","code":"E-11"}""",
        """{"type":"meter","key":"m1","unit":"OVEN-1","at":"2026-02-22T10:00:00Z","washes_total":812.5}""",
        """{"type":"heartbeat","key":"h1","unit":"OVEN-1","at":"2026-02-22T11:00:00Z"}""",
        """{"type":"visit","key":"v1","unit":"OVEN-1","at":"2026-02-22T12:00:00Z","arrived_at":"2026-02-22T12:00:00Z","technician":"N. N. ü €"}""",
        """{"type":"approval","key":"a1","unit":"OVEN-1","at":"2026-02-22T13:00:00Z","asked_at":"2026-02-22T13:00:00Z","what":"a pump","amount":120.25}""",
        """{"type":"void","key":"x1","at":"2026-02-22T14:00:00Z","voids":"w2","reason":"a slip"}""",
        """{"type":"void","key":"x2","at":"2026-02-22T14:00:00Z","voids":"later","reason":"a slip"}""",
        Sending.Wash("later", "2026-02-23T22:00:00+01:00"),
        Sending.Wash("w3", "2026-02-24T22:00:00+01:00", more: ",\"replaces\":\"w1\""),
        """{"type":"heartbeat","key":"h2","unit":"nobody","at":"2026-02-22T11:00:00Z"}""",
    ];

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        foreach (ApiHost host in _hosts)
        {
            await host.DisposeAsync();
        }

        if (_settings is not null)
        {
            await DropDatabaseAsync();
        }

        _folder.Delete(recursive: true);
    }

    [StorageFact]
    public async Task A_new_database_is_brought_up_to_date_and_answers()
    {
        ApiHost host = await HostAsync();

        Assert.True(Migrator.IsCurrent(host.Database));
        Assert.Empty(Migrator.Migrate(host.Database));
        Assert.Equal(HttpStatusCode.OK, (await host.Admin.GetAsync("/health/ready")).StatusCode);
    }

    [StorageFact]
    public async Task Records_of_every_type_are_taken_in_once_and_what_is_refused_is_kept()
    {
        ApiHost host = await HostAsync();
        await Samples.PutAllAsync(host.Admin);

        JsonElement first = await Sending.SendAsync(host.Admin, string.Join('\n', Rows), "application/x-ndjson");
        Sending.AssertCounts(first, accepted: 12, duplicate: 1, refused: 2);
        Sending.AssertCounts(await Sending.SendAsync(host.Admin, string.Join('\n', Rows), "application/x-ndjson"), duplicate: 13, refused: 2);

        JsonElement[] taken = await ItemsAsync(host, "/v1/records?limit=1000");
        Assert.Equal(["w2", "later", "w1"], VoidedOf(taken));
        Assert.Equal(["w1", "h2"], (await ItemsAsync(host, "/v1/records/refused")).Select(row => row.GetProperty("key").GetString()).Order().Reverse());

        JsonElement all = await Sending.SendAsync(
            host.Admin, Sending.Wash("n1", "2026-02-25T22:00:00+01:00") + "\n" + Rows[^1], "application/x-ndjson", "?all_or_nothing=true");
        Sending.AssertCounts(all, refused: 1);
        Assert.Equal(12, (await ItemsAsync(host, "/v1/records?limit=1000")).Length);

        static string[] VoidedOf(JsonElement[] rows) =>
            [.. rows.Where(row => row.GetProperty("voided").GetBoolean()).Select(row => row.GetProperty("key").GetString()!).Order(Comparer<string>.Create(Place))];
        static int Place(string one, string other) => Array.IndexOf(["w2", "later", "w1"], one) - Array.IndexOf(["w2", "later", "w1"], other);
    }

    [StorageFact]
    public async Task A_fleet_is_told_as_the_embedded_engine_tells_it_and_as_a_rebuild_does()
    {
        ApiHost here = await HostAsync();
        ApiHost embedded = await ApiHost.StartAsync(Fleets.AsOf);
        _hosts.Add(embedded);
        Api.Demo.SimulatedFleet fleet = Fleets.Of(5, units: 12, years: 1);
        foreach (ApiHost host in (ApiHost[])[here, embedded])
        {
            await host.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
            await host.Services.GetRequiredService<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
            await host.Services.GetRequiredService<AlertChecks>().RunAsync(CancellationToken.None);
        }

        string[] paths = await PathsAsync(here);
        var told = new Dictionary<string, string>();
        foreach (string path in paths)
        {
            told[path] = await TextAsync(here, path);
            Assert.Equal((path, await TextAsync(embedded, path)), (path, told[path]));
        }

        RegistrySnapshot registry = await here.Services.GetRequiredService<RegistryCache>().CurrentAsync(CancellationToken.None);
        await here.Database.WriteAsync(session => Task.FromResult(Projector.Rebuild(session, registry)), CancellationToken.None);
        foreach (string path in paths.Where(path => path.StartsWith("/v1/cleaning/", StringComparison.Ordinal)))
        {
            Assert.Equal((path, told[path]), (path, await TextAsync(here, path)));
        }

        Assert.True(paths.Length > 20, $"only {paths.Length} questions");
    }

    [StorageFact]
    public async Task Two_nodes_write_at_once_and_each_sees_what_the_other_did()
    {
        ApiHost one = await HostAsync();
        ApiHost other = await HostAsync();
        await Samples.PutAllAsync(one.Admin);

        await Task.WhenAll(Enumerable.Range(0, 40).Select(async number =>
        {
            ApiHost host = number % 2 == 0 ? one : other;
            string body = Sending.Wash($"k{number}", $"2026-02-{1 + (number % 20):00}T{number / 20:00}:00:00Z") + "\n" + Sending.Wash("same");
            JsonElement answer = await Sending.SendAsync(host.Admin, body, "application/x-ndjson");
            Assert.Equal(2, answer.GetProperty("accepted").GetInt32() + answer.GetProperty("duplicate").GetInt32());
        }));

        Assert.Equal(41, (await ItemsAsync(one, "/v1/records?limit=1000")).Length);
        Assert.Equal(41, (await ItemsAsync(other, "/v1/records?limit=1000")).Length);
    }

    [StorageFact]
    public async Task Who_waits_too_long_for_the_turn_to_write_is_told_to_come_again()
    {
        ApiHost slow = await HostAsync();
        ApiHost host = await HostAsync(("busy_timeout_seconds", "1"));
        await Samples.PutAllAsync(slow.Admin);
        var done = new TaskCompletionSource();
        Task<bool> writing = slow.Database.WriteAsync(
            async _ =>
            {
                await done.Task;
                return true;
            },
            CancellationToken.None);
        await Task.Delay(200);

        using HttpResponseMessage answer = await Sending.PostAsync(host.Admin, System.Text.Encoding.UTF8.GetBytes(Sending.Wash("late")), "application/json");
        done.SetResult();
        await writing;

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Sending.AssertCounts(await Sending.SendAsync(host.Admin, Sending.Wash("late")), accepted: 1);
    }

    /// <summary>Makes an empty database.</summary>
    /// <param name="folder">A folder that is deleted afterwards.</param>
    /// <returns>The settings that lead to it.</returns>
    protected abstract Task<(string Name, string Value)[]> MakeDatabaseAsync(string folder);

    /// <summary>Drops it.</summary>
    protected abstract Task DropDatabaseAsync();

    // Every question of the API that needs no more than its address; what differs by chance or by place is left out.
    private static async Task<string[]> PathsAsync(ApiHost host)
    {
        using JsonDocument contract = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        return
        [
            .. contract.RootElement.GetProperty("paths").EnumerateObject()
                .Where(path => path.Name.StartsWith("/v1/", StringComparison.Ordinal) && !path.Name.Contains('{', StringComparison.Ordinal))
                .Where(path => path.Value.TryGetProperty("get", out JsonElement get)
                    && get.GetProperty("responses").TryGetProperty("200", out JsonElement ok) && ok.ToString().Contains("application/json", StringComparison.Ordinal))
                .Select(path => path.Name)
                .Where(path => path is not ("/v1/ingest/load" or "/v1/plan/calendars"))
                .Order(StringComparer.Ordinal),
        ];
    }

    private static async Task<string> TextAsync(ApiHost host, string path)
    {
        using HttpResponseMessage answer = await host.Admin.GetAsync(path);
        string text = (await answer.Content.ReadAsStringAsync()).Replace(host.Address.ToString().TrimEnd('/'), "http://host", StringComparison.Ordinal);
        Assert.True((int)answer.StatusCode < 500, path + ": " + text);
        return answer.IsSuccessStatusCode ? text : answer.StatusCode.ToString();
    }

    private static async Task<JsonElement[]> ItemsAsync(ApiHost host, string path)
    {
        using JsonDocument page = JsonDocument.Parse(await host.Admin.GetStringAsync(path));
        return [.. page.RootElement.Clone().GetProperty("items").EnumerateArray()];
    }

    [StorageFact]
    public async Task Within_a_scope_there_are_only_its_own_rows()
    {
        ApiHost host = await HostAsync();
        await Samples.PutAllAsync(host.Admin);
        foreach ((string path, string body) in new[]
        {
            ("operators/hill", """{"name":"Hill Kitchens (invented)"}"""), ("sites/top", Samples.Site.Replace("harbour", "Hill", StringComparison.Ordinal)),
            ("units/OVEN-2", Samples.Unit.Replace("PIER-4", "top", StringComparison.Ordinal)),
            ("rules/hill", Samples.Rule.Replace("harbour", "HILL", StringComparison.Ordinal)),
        })
        {
            using HttpResponseMessage answer = await Samples.PutAsync(host.Admin, "/v1/" + path, body);
            Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        }

        string second = Sending.Wash("o2").Replace("OVEN-1", "OVEN-2", StringComparison.Ordinal);
        await Sending.SendAsync(host.Admin, string.Join('\n', [.. Rows, second]), "application/x-ndjson");
        await using DbConnection whole = await host.Database.OpenReadAsync(CancellationToken.None);
        long records = await whole.ExecuteScalarAsync<long>("SELECT count(*) FROM record r JOIN unit u ON u.id = r.unit_id WHERE u.code = 'OVEN-1'");
        long[] Ids(string table, string code) => [whole.ExecuteScalar<long>($"SELECT id FROM {table} WHERE code_key = @code", new { code })];
        foreach (DataScope scope in new[]
        {
            DataScope.OfOperators(Ids("operator", "harbour")), DataScope.OfSites(Ids("site", "pier-4")), DataScope.OfUnits(Ids("unit", "oven-1")),
        })
        {
            using Database database = host.Database.Within(scope);
            await using DbConnection connection = await database.OpenReadAsync(CancellationToken.None);
            async Task<long> CountAsync(string table) => await connection.ExecuteScalarAsync<long>($"SELECT count(*) FROM \"{table}\"");

            Assert.Equal(
                [1, 1, 1, 1, 1, records, 4, 3, 0, 0],
                [
                    await CountAsync("operator"), await CountAsync("site"), await CountAsync("unit"), await CountAsync("rule"), await CountAsync("rule_reach"),
                    await CountAsync("record"), await CountAsync("wash"), await CountAsync("voided"), await CountAsync("void"), await CountAsync("api_key"),
                ]);
            Assert.Equal("daily", await connection.ExecuteScalarAsync<string>("SELECT code FROM \"rule\""));
        }

        Assert.Equal(2, await whole.ExecuteScalarAsync<int>("SELECT count(*) FROM unit"));
    }

    private async Task<ApiHost> HostAsync(params (string Name, string Value)[] more)
    {
        _settings ??= await MakeDatabaseAsync(_folder.FullName);
        ApiHost host = await ApiHost.StartAsync(Fleets.AsOf, [.. _settings, .. more]);
        _hosts.Add(host);
        return host;
    }
}
