using System.IO.Compression;
using System.Text;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage.Archive;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Tests.Demo;

namespace Washwear.Api.Tests.Storage;

/// <summary>A whole database out and in again: what arrives is what left, or nothing is taken in and it is said why.</summary>
public sealed class ArchiveTests : IAsyncLifetime
{
    private const string Archive = "all.zip";
    private ApiHost? _host;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(Fleets.AsOf);
        Api.Demo.SimulatedFleet fleet = Fleets.Of(3, units: 7, years: 1);
        await _host.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
        await _host.Services.GetRequiredService<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
        // Kinds of values that the fleet has none of: bytes, what breaks lines and quotes, numbers at the edges.
        await using var raw = new SqliteConnection($"Data Source={_host.Database.File};Pooling=False");
        await raw.ExecuteAsync("""
            INSERT INTO visit_photo (source, visit_key, unit_id, received_ms, kind, sha256, bytes, body)
            SELECT 'a "quoted" source' || char(10) || 'ü' || char(0x1F9FD), 'v', min(id), -9007199254740993, 'image/png', x'00FF', 9223372036854775807, x'' FROM unit
            """);
        await raw.ExecuteAsync("INSERT INTO condition (seq, position, grade, note) SELECT max(seq), '', 'good', NULL FROM record");
        await raw.ExecuteAsync("INSERT INTO approval (seq, amount) SELECT min(seq), 0.1 + 0.2 FROM record WHERE seq NOT IN (SELECT seq FROM approval)");
    }

    public async Task DisposeAsync() => await _host!.DisposeAsync();

    [Fact]
    public async Task What_arrives_is_what_left_and_can_be_worked_with()
    {
        Assert.Equal(0, (await RunAsync("export", Archive, "--all", "--database", "washwear.db")).Code);

        CommandRun taken = await RunAsync("import", Archive, "--database", "there.db");
        Assert.Equal((0, string.Empty), (taken.Code, taken.Complaint));
        Assert.Equal(0, (await RunAsync("export", "again.zip", "--all", "--database", "there.db")).Code);

        ArchiveManifest first = await ManifestAsync(Archive);
        ArchiveManifest second = await ManifestAsync("again.zip");
        // The audit over there knows one thing more: that all this was taken in.
        Assert.Equal(
            first.Tables.Where(IsNoAudit).Select(table => (table.Table, table.Rows, table.Digest)),
            second.Tables.Where(IsNoAudit).Select(table => (table.Table, table.Rows, table.Digest)));
        Assert.True(first.Tables.Single(table => table.Table == "record").Rows > 1_000);
        // What was put in raw is not what any record's hash was taken of.
        Assert.Equal(0, (await RunAsync("check", "--quick", "--database", "there.db")).Code);
        Assert.Equal(0, (await RunAsync("rebuild", "--database", "there.db")).Code);
    }

    private static bool IsNoAudit(TableManifest table) => !table.Table.StartsWith("audit_", StringComparison.Ordinal);

    [Theory]
    [InlineData("wash.ndjson", "washes lost", "did not arrive as it was")]
    [InlineData("part_change.ndjson", "figure changed", "did not arrive as it was")]
    [InlineData("unit.ndjson", "line cut", "cut")]
    [InlineData("unit.ndjson", "value of another kind", "another kind")]
    [InlineData("meter.ndjson", "table gone", "has no meter.ndjson")]
    public async Task What_was_changed_on_the_way_is_not_taken_in(string entry, string harm, string complaint)
    {
        await RunAsync("export", Archive, "--all", "--database", "washwear.db");
        Harm(entry, harm);

        CommandRun taken = await RunAsync("import", Archive, "--database", "there.db");

        Assert.Equal(1, taken.Code);
        Assert.Contains(complaint, taken.Complaint, StringComparison.Ordinal);
        await using var there = new SqliteConnection($"Data Source={At("there.db")};Pooling=False");
        Assert.Equal((0, 0, 1), await there.QuerySingleAsync<(int, int, int)>(
            "SELECT (SELECT count(*) FROM unit), (SELECT count(*) FROM record), (SELECT count(*) FROM registry_version)"));
    }

    [Fact]
    public async Task An_archive_goes_into_an_empty_database_only_and_overwrites_nothing()
    {
        Assert.Equal(0, (await RunAsync("export", Archive, "--all", "--database", "washwear.db")).Code);
        CommandRun again = await RunAsync("export", Archive, "--all", "--database", "washwear.db");
        CommandRun full = await RunAsync("import", Archive, "--database", "washwear.db");

        Assert.Equal(1, again.Code);
        Assert.Contains("overwrites nothing", again.Complaint, StringComparison.Ordinal);
        Assert.Equal(1, full.Code);
        Assert.Contains("empty database only", full.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_table_is_forgotten_and_each_stands_after_those_it_refers_to()
    {
        await using var connection = new SqliteConnection($"Data Source={_host!.Database.File};Pooling=False");
        string[] tables = [.. await connection.QueryAsync<string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")];
        (string Table, string Parent)[] references = [.. await connection.QueryAsync<(string, string)>(
            "SELECT t.name, f.\"table\" FROM sqlite_schema t JOIN pragma_foreign_key_list(t.name) f WHERE t.type = 'table' AND f.\"table\" <> t.name")];
        List<string> order = [.. ArchivedTables.All.Select(table => table.Name)];

        Assert.Equal(tables.Except(["SchemaVersions", "cookie_key", "write_mark", "upkeep_run"]).Order(StringComparer.Ordinal), order.Order(StringComparer.Ordinal));
        Assert.All(references, one => Assert.True(order.IndexOf(one.Parent) < order.IndexOf(one.Table), $"{one.Table} stands before {one.Parent}."));
    }

    private void Harm(string name, string harm)
    {
        using ZipArchive zip = ZipFile.Open(At(Archive), ZipArchiveMode.Update);
        ZipArchiveEntry entry = zip.GetEntry(name)!;
        List<string> lines;
        using (var reader = new StreamReader(entry.Open(), Encoding.UTF8))
        {
            lines = [.. reader.ReadToEnd().Split('\n')];
        }

        entry.Delete();
        switch (harm)
        {
            case "table gone":
                return;
            case "washes lost":
                lines.RemoveRange(10, 3);
                break;
            case "figure changed":
                lines[5] = lines[5].Replace(",1,", ",0,", StringComparison.Ordinal);
                break;
            case "line cut":
                lines[^2] = lines[^2][..^1];
                lines.RemoveAt(lines.Count - 1);
                break;
            default:
                lines[0] = lines[0].Replace("[1,", "[\"one\",", StringComparison.Ordinal);
                break;
        }

        using var writer = new StreamWriter(zip.CreateEntry(name).Open(), new UTF8Encoding(false));
        writer.Write(string.Join('\n', lines));
    }

    private async Task<ArchiveManifest> ManifestAsync(string archive)
    {
        using ZipArchive zip = ZipFile.OpenRead(At(archive));
        await using Stream entry = zip.GetEntry(ArchiveManifest.Entry)!.Open();
        return (await System.Text.Json.JsonSerializer.DeserializeAsync<ArchiveManifest>(entry, Api.Http.Json.Options))!;
    }

    private string At(string name) => Path.Combine(_host!.Folder, name);

    private Task<CommandRun> RunAsync(params string[] arguments) => CommandRun.OfAsync(_host!.Folder, arguments);
}
