using System.Data.Common;
using System.Globalization;
using System.Text.Json.Nodes;
using Dapper;
using Microsoft.Data.Sqlite;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Storage.Scopes;
using Washwear.Api.Tests.Demo;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Storage;

/// <summary>Within a scope a row of somebody else does not exist, in no table, whatever is asked.</summary>
public sealed class ScopedReadingTests : IAsyncLifetime
{
    private ApiHost? _host;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync(Fleets.AsOf);
        await ScopedWorld.FillAsync(_host);
    }

    public async Task DisposeAsync() => await _host!.DisposeAsync();

    [Fact]
    public async Task Every_table_is_classed_and_has_rows_to_show_it()
    {
        ScopedWorld world = ScopedWorld.Of(_host!);
        await using DbConnection whole = await _host!.Database.OpenReadAsync(CancellationToken.None);

        Assert.Equal(world.Tables.Order(StringComparer.Ordinal), ScopedTables.All.Select(table => table.Name).Order(StringComparer.Ordinal));
        Assert.Equal([], world.Readable.Where(table => world.Count(table) == 0));
        Assert.Null(_host.Database.Scope);
        Assert.Equal(world.Count("record"), await whole.ExecuteScalarAsync<int>("SELECT count(*) FROM record"));
    }

    [Theory]
    [InlineData(DataScopeKind.Operators)]
    [InlineData(DataScopeKind.Sites)]
    [InlineData(DataScopeKind.Units)]
    public async Task A_scope_holds_just_its_own_rows_of_every_table(DataScopeKind kind)
    {
        ScopedWorld world = ScopedWorld.Of(_host!);
        int seenAll = 0;
        foreach ((DataScope scope, Func<ScopedWorld.Unit, bool> isMine) in Scopes(world, kind))
        {
            using Database database = _host!.Database.Within(scope);
            await using DbConnection connection = await database.OpenReadAsync(CancellationToken.None);
            foreach (string table in world.Tables)
            {
                string[] seen =
                [
                    .. (await connection.QueryAsync($"SELECT * FROM \"{table}\"")).Cast<IDictionary<string, object?>>().Select(ScopedWorld.Line)
                        .Order(StringComparer.Ordinal),
                ];
                List<string> expected = world.Expected(table, isMine, kind != DataScopeKind.Units);
                Assert.True(expected.SequenceEqual(seen, StringComparer.Ordinal),
                    $"{scope}, {table}: {seen.Length} rows instead of {expected.Count}; first other one: {seen.Except(expected).Concat(expected.Except(seen)).FirstOrDefault()}");
                seenAll += seen.Length;
            }
        }

        Assert.True(seenAll > 1_000, $"only {seenAll} rows were seen");
    }

    [Fact]
    public async Task Two_operators_share_nothing_but_what_is_everybodys()
    {
        ScopedWorld world = ScopedWorld.Of(_host!);
        long[] two = [.. world.Units.Select(unit => unit.Operator).Distinct().Order().Take(2)];
        string[] shared = ["model", "supplier", "part", "registry_version", "plan_forecast", "rule", "rule_version", "rule_reach", "voided"];
        foreach (string table in world.Tables.Except(shared))
        {
            HashSet<string>[] seen = [.. two.Select(id => world.Expected(table, unit => unit.Operator == id, true).ToHashSet(StringComparer.Ordinal))];
            Assert.False(seen[0].Overlaps(seen[1]), table);
            Assert.True(seen[0].Count > 0 == seen[1].Count > 0, table);
        }
    }

    [Fact]
    public async Task A_unit_that_moves_takes_its_history_along_at_once()
    {
        ScopedWorld world = ScopedWorld.Of(_host!);
        ScopedWorld.Unit moving = world.Units.OrderByDescending(unit => unit.Id).First();
        ScopedWorld.Unit there = world.Units.First(unit => unit.Operator != moving.Operator);
        using Database before = _host!.Database.Within(DataScope.OfOperators([moving.Operator]));
        using Database after = _host.Database.Within(DataScope.OfOperators([there.Operator]));
        using var runs = new FleetRuns(new RegistryCache(before), new CleaningQueries(before));
        using var whole = new FleetRuns(new RegistryCache(_host.Database), new CleaningQueries(_host.Database));
        (int own, int other) = (await CountAsync(before, moving), await CountAsync(after, moving));
        await AssertSameRunsAsync(whole, runs, world.Units.Count(unit => unit.Operator == moving.Operator));

        await MoveAsync(moving.Code, there.SiteCode);

        Assert.True(own > 100);
        Assert.Equal((0, 0), (other, await CountAsync(before, moving)));
        Assert.Equal(own, await CountAsync(after, moving));
        await AssertSameRunsAsync(whole, runs, world.Units.Count(unit => unit.Operator == moving.Operator) - 1);
        await MoveAsync(moving.Code, moving.SiteCode);
        await AssertSameRunsAsync(whole, runs, world.Units.Count(unit => unit.Operator == moving.Operator));
    }

    [Fact]
    public async Task Writing_is_not_scoped_and_waits_for_its_turn_with_all_other_writing()
    {
        using Database database = _host!.Database.Within(DataScope.OfUnits([]));
        var entered = new TaskCompletionSource();
        var leave = new TaskCompletionSource();
        Task first = _host.Database.WriteAsync(
            async _ =>
            {
                entered.SetResult();
                await leave.Task;
            },
            CancellationToken.None);
        await entered.Task;
        Task<long> second = database.WriteAsync(session => session.Connection.ExecuteScalarAsync<long>(
            session.Command("SELECT count(*) FROM unit", null, CancellationToken.None)), CancellationToken.None);

        Assert.NotSame(second, await Task.WhenAny(second, Task.Delay(200)));
        leave.SetResult();
        await first;
        Assert.Equal(12, await second);
        Assert.Throws<InvalidOperationException>(() => database.Within(DataScope.OfSites([1])));
        await Assert.ThrowsAsync<InvalidOperationException>(() => database.BackupAsync("nowhere", CancellationToken.None));
    }

    [Fact]
    public async Task A_connection_that_is_used_again_is_as_narrow_or_wide_as_before_and_cannot_write()
    {
        using Database database = _host!.Database.Within(DataScope.OfUnits([-1]));
        for (int i = 0; i < 3; i++)
        {
            await using DbConnection narrow = await database.OpenReadAsync(CancellationToken.None);
            await using DbConnection wide = await _host.Database.OpenReadAsync(CancellationToken.None);
            Assert.Equal((0, 12), (await narrow.ExecuteScalarAsync<int>("SELECT count(*) FROM unit"), await wide.ExecuteScalarAsync<int>("SELECT count(*) FROM unit")));
            Assert.Equal(8, (await Assert.ThrowsAsync<SqliteException>(() => narrow.ExecuteAsync("CREATE TEMP TABLE t (a)"))).SqliteErrorCode);
        }
    }

    [Fact]
    public async Task A_table_that_nobody_has_classed_is_hidden()
    {
        await using (var raw = new SqliteConnection($"Data Source={_host!.Database.File};Pooling=False"))
        {
            await raw.ExecuteAsync("CREATE TABLE later (a INTEGER); INSERT INTO later VALUES (1)");
        }

        using Database database = _host.Database.Within(DataScope.OfOperators([1]));
        await using DbConnection connection = await database.OpenReadAsync(CancellationToken.None);
        Assert.Equal(0, await connection.ExecuteScalarAsync<int>("SELECT count(*) FROM later"));
    }

    [Theory]
    [InlineData("with space")]
    [InlineData("ü 100% ?scope=#1&a;b'c")]
    public async Task The_file_is_found_whatever_its_folder_is_called(string name)
    {
        string folder = Directory.CreateDirectory(Path.Combine(_host!.Folder, name)).FullName;
        string file = Path.Combine(folder, "a.db");
        using var database = new Database(Settings.Load(new Dictionary<string, string> { ["database"] = file }));
        Migrator.Migrate(database);
        using Database scoped = database.Within(DataScope.OfUnits([1, 2]));
        await using DbConnection connection = await scoped.OpenReadAsync(CancellationToken.None);

        Assert.Equal(1, await connection.ExecuteScalarAsync<int>("SELECT count(*) FROM registry_version"));
        Assert.Equal(0, await connection.ExecuteScalarAsync<int>("SELECT count(*) FROM \"SchemaVersions\""));
    }

    [Fact]
    public void Scopes_are_equal_for_equal_kinds_and_numbers()
    {
        Assert.Equal(DataScope.OfUnits([3, 1, 3]), DataScope.OfUnits([1, 3]));
        Assert.Equal(DataScope.OfUnits([3, 1]).GetHashCode(), DataScope.OfUnits([1, 3]).GetHashCode());
        Assert.NotEqual(DataScope.OfUnits([1]), DataScope.OfSites([1]));
        Assert.NotEqual(DataScope.OfOperators([1]), DataScope.OfOperators([2]));
        Assert.Equal("units 1,3", DataScope.OfUnits([3, 1]).ToString());
        Assert.Equal(500, DataScope.OfSites(Enumerable.Range(999_000, 500).Select(id => (long)id)).Ids.Count);
        Assert.Throws<ArgumentException>(() => DataScope.OfUnits(Enumerable.Range(1_000_000, 600).Select(id => (long)id)));
    }

    private static IEnumerable<(DataScope Scope, Func<ScopedWorld.Unit, bool> IsMine)> Scopes(ScopedWorld world, DataScopeKind kind)
    {
        long[] units = [.. world.Units.OrderBy(unit => unit.Id).Take(3).Select(unit => unit.Id)];
        long OperatorOf(long id) => world.Units.Single(unit => unit.Id == id).Operator;
        long SiteOf(long id) => world.Units.Single(unit => unit.Id == id).Site;
        return kind switch
        {
            DataScopeKind.Operators =>
            [
                .. world.Units.Select(unit => unit.Operator).Distinct().Select(id => (DataScope.OfOperators([id]), Is(unit => unit.Operator == id))),
                (DataScope.OfOperators(units.Select(OperatorOf).Distinct()), Is(unit => units.Select(OperatorOf).Contains(unit.Operator))),
            ],
            DataScopeKind.Sites =>
            [
                .. world.Units.Select(unit => unit.Site).Distinct().Select(id => (DataScope.OfSites([id]), Is(unit => unit.Site == id))),
                (DataScope.OfSites(units.Select(SiteOf).Distinct()), Is(unit => units.Select(SiteOf).Contains(unit.Site))),
            ],
            _ => [(DataScope.OfUnits(units), Is(unit => units.Contains(unit.Id))), (DataScope.OfUnits([]), Is(_ => false))],
        };
    }

    private static Func<ScopedWorld.Unit, bool> Is(Func<ScopedWorld.Unit, bool> isMine) => isMine;

    private static async Task AssertSameRunsAsync(FleetRuns whole, FleetRuns scoped, int units)
    {
        Fleet all = await whole.CurrentAsync(CancellationToken.None);
        Fleet mine = await scoped.CurrentAsync(CancellationToken.None);
        Assert.Equal(units, mine.Units.Count);
        Assert.All(mine.Units, unit =>
        {
            Assert.Equal(all.Units[unit.Key].Terms.Fingerprint, unit.Value.Terms.Fingerprint);
            Assert.Equal(all.Units[unit.Key].Run.ToBytes(), unit.Value.Run.ToBytes());
        });
    }

    private static async Task<int> CountAsync(Database database, ScopedWorld.Unit unit)
    {
        await using DbConnection connection = await database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<int>(string.Create(
            CultureInfo.InvariantCulture,
            $"SELECT (SELECT count(*) FROM record WHERE unit_id = {unit.Id}) + (SELECT count(*) FROM wash w JOIN wash_span s ON s.seq = w.seq WHERE s.unit_id = {unit.Id})"));
    }

    private async Task MoveAsync(string unit, string site)
    {
        JsonNode resource = JsonNode.Parse(await _host!.Admin.GetStringAsync($"/v1/units/{unit}/registration"))!;
        resource["site"] = site;
        using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, $"/v1/units/{unit}", resource.ToJsonString());
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }
}
