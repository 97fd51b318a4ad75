using System.Globalization;
using System.Net;
using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Tests.House;
using Washwear.Faults.FullDisk;

namespace Washwear.Api.Tests.Upkeep;

/// <summary>A database of the first released schema opens in this version, and nobody has to know how.</summary>
public sealed class UpgradeTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-upgrade-test-").FullName;

    [Fact]
    public async Task The_start_brings_it_up_to_date_and_reports_give_the_values_written_down_when_it_was_made()
    {
        string file = OldDatabase.In(_folder);
        await using (ApiHost host = await ApiHost.StartAsync(settings: ("database", file)))
        {
            HttpClient admin = host.Client(OldDatabase.AdminKey);
            JsonElement compliance = await GetAsync(admin, "/v1/cleaning/compliance?from=2026-01-01T00:00:00Z&to=2026-03-01T00:00:00Z&by=unit");
            JsonElement total = compliance.GetProperty("total");
            Assert.Equal((321, 250), (total.GetProperty("due").GetInt32(), total.GetProperty("on_time").GetInt32()));
            Assert.Equal(
                [("OVEN-1", 56), ("OVEN-2", 51), ("OVEN-3", 53), ("OVEN-4", 50), ("OVEN-5", 0), ("OVEN-6", 40)],
                compliance.GetProperty("rows").EnumerateArray().Select(row => (row.GetProperty("group").GetString()!, row.GetProperty("on_time").GetInt32())).Order());

            JsonElement life = await GetAsync(admin, "/v1/part-life/wash-pump?clock=days");
            Assert.Equal(10, life.GetProperty("counts").GetProperty("lives").GetInt32());
            JsonElement[] steps = [.. life.GetProperty("kaplan_meier").EnumerateArray()];
            Assert.Equal([(300.0, 10), (500.0, 7), (700.0, 4)], steps.Select(step => (step.GetProperty("age").GetDouble(), step.GetProperty("at_risk").GetInt32())));
            double[] survival = [0.9, 0.9 * 6 / 7, 0.9 * 6 / 7 * 3 / 4];
            Assert.All(steps.Zip(survival), pair => Assert.Equal(pair.Second, pair.First.GetProperty("survival").GetDouble(), 1e-12));

            Assert.Equal(2, (await GetAsync(admin, "/v1/records/refused")).GetProperty("items").GetArrayLength());
            Assert.Equal(HttpStatusCode.OK, (await admin.GetAsync("/units/OVEN-3")).StatusCode);
        }

        CommandRun check = await RunAsync("check");
        Assert.Equal((0, ""), (check.Code, check.Complaint));
        Assert.Equal(360, Count(file, "SELECT count(*) FROM record"));
    }

    [Fact]
    public async Task A_copy_of_the_old_file_stays_beside_it_and_what_was_done_is_told()
    {
        string file = OldDatabase.In(_folder);

        CommandRun migrate = await RunAsync("migrate");

        Assert.Equal((0, ""), (migrate.Code, migrate.Complaint));
        string copy = Assert.Single(Copies());
        Assert.Contains($"schema 0004, is kept as {copy}.", migrate.Out, StringComparison.Ordinal);
        Assert.Contains("What is derived of 6 units was derived anew", migrate.Out, StringComparison.Ordinal);
        Assert.Equal(4, Count(copy, "SELECT count(*) FROM SchemaVersions"));
        Assert.Equal(360, Count(copy, "SELECT count(*) FROM record"));
        Assert.Equal("The database is up to date.\n", (await RunAsync("migrate")).Out);
        Assert.Single(Copies());
        Assert.Equal(0, (await RunAsync("check", "--database", file)).Code);
    }

    [Fact]
    public async Task The_last_two_copies_are_kept()
    {
        OldDatabase.In(_folder);
        foreach ((string schema, int year) in new[] { ("0001", 2024), ("0002", 2025), ("0003", 2023) })
        {
            string older = Path.Combine(_folder, $"washwear.db.schema-{schema}-20250101T000000Z");
            await File.WriteAllTextAsync(older, "older");
            File.SetLastWriteTimeUtc(older, new DateTime(year, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        }

        Assert.Equal(0, (await RunAsync("migrate")).Code);

        Assert.Equal(["0002", "0004"], Copies().Select(copy => copy.Split('-')[^2]).Order());
    }

    [Fact]
    public async Task Without_the_setting_there_is_no_copy()
    {
        OldDatabase.In(_folder);

        Assert.Equal(0, (await RunAsync("migrate", "--migration-copy", "no")).Code);

        Assert.Empty(Copies());
    }

    [Fact]
    public async Task Without_room_for_the_copy_nothing_is_changed_and_it_says_how_much_is_needed()
    {
        string disk = Path.Combine(_folder, "disk");
        using var small = SmallDisk.Make(disk);
        if (!small.Way.Contains("tmpfs", StringComparison.Ordinal))
        {
            // No file system can be mounted here: there is no disk without room.
            return;
        }

        string file = OldDatabase.In(disk);
        byte[] before = await File.ReadAllBytesAsync(file);
        small.Leave(100_000, Environment.ProcessId);

        CommandRun migrate = await RunAsync("migrate", "--database", file);

        Assert.Equal(1, migrate.Code);
        Assert.Contains("it needs 1 MiB", migrate.Complaint, StringComparison.Ordinal);
        Assert.Contains("Nothing was changed", migrate.Complaint, StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllBytesAsync(file));
    }

    [Theory]
    [InlineData("serve")]
    [InlineData("migrate")]
    [InlineData("check")]
    [InlineData("rebuild")]
    public async Task A_database_of_a_newer_version_is_refused_and_left_as_it_is(string command)
    {
        string file = OldDatabase.In(_folder);
        Run(file, "INSERT INTO SchemaVersions (ScriptName, Applied) VALUES ('db/sqlite/9999_later.sql', '2031-01-01')");
        byte[] before = await File.ReadAllBytesAsync(file);

        CommandRun run = await RunAsync(command, "--urls", "http://127.0.0.1:0");

        Assert.Equal(1, run.Code);
        Assert.Contains("it has schema 9999, this program knows schemas up to", run.Complaint, StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllBytesAsync(file));
        Assert.Empty(Copies());
    }

    [Fact]
    public async Task What_is_derived_has_another_kind_once_the_same_records_give_other_rows()
    {
        await using ApiHost host = await ApiHost.StartAsync(settings: ("database", OldDatabase.In(_folder)));
        RegistrySnapshot registry = await host.Services.GetRequiredService<RegistryCache>().CurrentAsync(CancellationToken.None);
        string digest = await host.Database.WriteAsync(session => Task.FromResult(ProjectionDigests.OfAll(session, registry)), CancellationToken.None);
        string written = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "tests/Api.Tests/Data/upgrade/projections.txt"));

        string now = string.Create(CultureInfo.InvariantCulture, $"kind {ProjectionKind.Current}: {digest}\n");
        Assert.True(
            written == now,
            $"The same records give other rows than before. Raise ProjectionKind.Current if you have not since the last release, so that installations derive theirs anew, and write into projections.txt: {now}");
    }

    [Fact]
    public async Task What_was_derived_by_a_program_of_another_kind_is_derived_anew_when_it_starts()
    {
        string file = OldDatabase.In(_folder);
        Assert.Equal(0, (await RunAsync("migrate")).Code);
        Run(file, "UPDATE projection_kind SET kind = 0; UPDATE wash_month SET washes = washes + 1; DELETE FROM fault_span");

        CommandRun start = await RunAsync("migrate");

        Assert.Equal("What is derived of 6 units was derived anew from their records, as this version does it.\n", start.Out);
        Assert.Equal((0, ""), ((await RunAsync("check")).Code, (await RunAsync("check")).Complaint));
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    private static async Task<JsonElement> GetAsync(HttpClient client, string path) =>
        JsonDocument.Parse(await client.GetStringAsync(path)).RootElement;

    private static long Count(string file, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        return connection.ExecuteScalar<long>(sql);
    }

    private static void Run(string file, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Execute(sql);
    }

    private string[] Copies() => Directory.GetFiles(_folder, "washwear.db.schema-*");

    private Task<CommandRun> RunAsync(params string[] arguments) => CommandRun.OfAsync(
        _folder, arguments.Contains("--database") ? arguments : [.. arguments, "--database", "washwear.db"]);
}
