using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Demo;

namespace Washwear.Api.Tests.Storage;

/// <summary>
/// The way of SQL Server, on SQLite: keys asked for together, rows gathered and written together. Whatever comes, twice, in disorder, voided
/// before or after, by pieces of any size, every table of ledger and projections ends up as by the other way, row for row.
/// </summary>
public sealed class GatheredRowsTests
{
    private static readonly string[] Tables =
    [
        "record", "wash", "fault", "fault_cleared", "part_change", "meter", "visit", "approval", "condition", "void", "voided", "refused",
        "wash_span", "fault_span", "part_life", "unit_status", "visit_span", "approval_span", "cleaning_run", "cleaning_period", "early_sign",
        "wash_month", "webhook_message",
    ];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Rows_written_together_are_those_written_one_by_one(int seed)
    {
        SimulatedFleet fleet = Fleets.Of(seed, units: 5, years: 1);

        (string[] plain, RowOutcome[] plainOutcomes) = await WriteAsync(fleet, seed, gathers: false);
        (string[] gathered, RowOutcome[] gatheredOutcomes) = await WriteAsync(fleet, seed, gathers: true);

        Assert.Equal(plainOutcomes, gatheredOutcomes);
        Assert.Equal(plain, gathered);
        Assert.All(
            (RowOutcome[])[RowOutcome.Accepted, RowOutcome.Duplicate, RowOutcome.Refused, RowOutcome.HeldBack],
            outcome => Assert.True(plainOutcomes.Count(one => one == outcome) > 20, $"only {plainOutcomes.Count(one => one == outcome)} {outcome}"));
        Assert.All(Tables[..22], table => Assert.True(table is "condition" || plain.Any(row => row.StartsWith(table + '|', StringComparison.Ordinal)), table));
    }

    private static async Task<(string[] Rows, RowOutcome[] Outcomes)> WriteAsync(SimulatedFleet fleet, int seed, bool gathers)
    {
        await using ApiHost host = await ApiHost.StartAsync(Fleets.AsOf);
        await host.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
        RegistrySnapshot registry = await host.Services.GetRequiredService<RegistryCache>().CurrentAsync(CancellationToken.None);
        var outcomes = new List<RowOutcome>();
        foreach (IReadOnlyList<IngestPortion> portions in Transactions(fleet, new Random(seed)))
        {
            IReadOnlyList<IReadOnlyList<RowResult>> results = await host.Database.WriteAsync(
                session => IngestTransaction.WriteAsync(session with { GathersRows = gathers }, portions, registry, Fleets.AsOf),
                CancellationToken.None);
            outcomes.AddRange(results.SelectMany(portion => portion.Select(row => row.Outcome)));
        }

        return ([.. Tables.SelectMany(table => Rows(host.Database.File, table))], [.. outcomes]);
    }

    private static IEnumerable<IReadOnlyList<IngestPortion>> Transactions(SimulatedFleet fleet, Random chance)
    {
        IncomingRecord[] told = [.. Told([.. fleet.Records()], chance)];
        chance.Shuffle(told);
        for (int from = 0; from < told.Length;)
        {
            var portions = new List<IngestPortion>();
            for (int portion = chance.Next(1, 4); portion > 0 && from < told.Length; portion--)
            {
                int rows = Math.Min(chance.Next(1, 60), told.Length - from);
                IncomingRow[] taken = [.. told.AsSpan(from, rows).ToArray().Select((record, index) =>
                    new IncomingRow(index + 1, record, null, record.Source, record.Key, null, null))];
                portions.Add(new IngestPortion(taken, new IngestOptions(AllOrNothing: chance.Next(2) == 0), new NearestCode(), 0));
                from += rows;
            }

            yield return portions;
        }
    }

    // Each record, and beside some of them: the same again, another under its key, one for an unknown unit, a void, a void of that void.
    private static IEnumerable<IncomingRecord> Told(IncomingRecord[] records, Random chance)
    {
        for (int index = 0; index < records.Length; index++)
        {
            IncomingRecord record = records[index];
            yield return record;
            switch (chance.Next(40))
            {
                case 0:
                    yield return record;
                    break;
                case 1:
                    yield return record with { At = record.At.AddSeconds(-1) };
                    break;
                case 2:
                    yield return record with { Key = record.Key + "-nobody", Unit = "no such unit" };
                    break;
                case 3 or 4:
                    yield return Void(record, "v" + record.Key, record.Key);
                    break;
                case 5:
                    yield return Void(record, "w" + record.Key, "v" + record.Key);
                    yield return Void(record, "v" + record.Key, record.Key);
                    break;
                case 6 or 7:
                    yield return record with { Key = record.Key + "-again", Replaces = record.Key, At = record.At.AddMinutes(-1) };
                    break;
            }
        }
    }

    private static VoidRecord Void(IncomingRecord record, string key, string voids) => new(record.Source, key, record.At, voids, "a slip");

    private static IEnumerable<string> Rows(string file, string table)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = $"SELECT * FROM \"{table}\"";
        using SqliteDataReader row = command.ExecuteReader();
        var rows = new List<string>();
        while (row.Read())
        {
            rows.Add(table + '|' + string.Join('|', Enumerable.Range(0, row.FieldCount)
                .Where(index => (table, row.GetName(index)) is not (("refused", "id") or ("webhook_message", "code")))
                .Select(index => row.GetValue(index) is byte[] bytes ? Convert.ToHexString(bytes) : Convert.ToString(row.GetValue(index), CultureInfo.InvariantCulture))));
        }

        return rows.Order(StringComparer.Ordinal);
    }
}
