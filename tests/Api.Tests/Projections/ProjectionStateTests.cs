using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Projections;

/// <summary>The projections say the same whatever the order of arrival, and the same as when they are derived anew.</summary>
public sealed class ProjectionStateTests
{
    private static readonly DateTimeOffset Begin = new(2025, 10, 1, 0, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task Shuffled_repeated_and_split_records_end_in_one_state_and_rebuild_agrees(int seed)
    {
        var random = new Random(seed);
        string[] records = Records(random);
        IReadOnlyList<string> inOrder = await StateAsync(records, random, split: 1);
        for (int round = 0; round < 3; round++)
        {
            string[] shuffled = [.. records, .. records.Where(_ => random.Next(4) == 0)];
            random.Shuffle(shuffled);
            Assert.Equal(inOrder, await StateAsync(shuffled, random, split: random.Next(1, 6)));
        }
    }

    [Fact]
    public async Task A_changed_programme_grades_the_washes_on_record_anew()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(
            host.Admin, """{"type":"wash","key":"a","unit":"OVEN-1","at":"2026-02-20T22:00:00Z","programme":"short","outcome":"completed"}""");
        Assert.Equal("light", await GradeAsync(host));
        using HttpResponseMessage put = await Samples.PutAsync(
            host.Admin, "/v1/models/T10", Samples.Model.Replace("\"grade\":\"light\"", "\"grade\":\"standard\"", StringComparison.Ordinal));
        Assert.True(put.IsSuccessStatusCode);
        Assert.Equal("standard", await GradeAsync(host));
    }

    private static async Task<string?> GradeAsync(ApiHost host)
    {
        await using DbConnection connection = await host.Database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<string>("SELECT grade FROM wash_span");
    }

    private static async Task<IReadOnlyList<string>> StateAsync(string[] records, Random random, int split)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(host.Admin);
        foreach (string[] batch in records.Chunk(Math.Max(1, (records.Length / split) + random.Next(3))))
        {
            JsonElement answer = await Sending.SendAsync(host.Admin, string.Join('\n', batch) + "\n", "application/x-ndjson");
            Assert.True(answer.GetProperty("refused").GetInt32() == 0, answer.ToString());
        }

        IReadOnlyList<string> live = await DumpAsync(host);
        RegistryCache registry = host.Services.GetRequiredService<RegistryCache>();
        await host.Database.WriteAsync(
            async session => Projector.Rebuild(session, await registry.CurrentAsync(CancellationToken.None)), CancellationToken.None);
        Assert.Equal(live, await DumpAsync(host));
        return live;
    }

    // Everything but the order of acceptance, which is what differs.
    private static async Task<IReadOnlyList<string>> DumpAsync(ApiHost host)
    {
        string[] queries =
        [
            "SELECT unit_id, started_ms, ended_ms, grade, outcome, detergent_left, attested, fault_code, programme FROM wash_span",
            "SELECT unit_id, raised_ms, code, cleared_ms FROM fault_span",
            "SELECT unit_id, position, ordinal, fitted_ms, watched_from_ms, ended_ms, ended_how, last_seen_good_ms, failure_mode, part_number, "
                + "entry_age_days, entry_age_washes, doubt FROM part_life",
            "SELECT unit_id, from_ms, asked_ms, arrived_ms, left_ms, outcome FROM visit_span",
            "SELECT unit_id, from_ms, asked_ms, decided_ms, granted FROM approval_span",
            "SELECT unit_id, charted, called, state FROM early_sign",
            "SELECT unit_id, first_heard_ms, last_heard_ms, last_record_ms, washes_run FROM unit_status",
            "SELECT unit_id, terms, first_period, last_period, hex(run) FROM cleaning_run",
            "SELECT id, hex(closed), hex(run) FROM cleaning_period",
            "SELECT month, unit_id, washes FROM wash_month",
        ];
        await using DbConnection connection = await host.Database.OpenReadAsync(CancellationToken.None);
        var lines = new List<string>();
        foreach (string query in queries)
        {
            IEnumerable<dynamic> rows = await connection.QueryAsync(query);
            lines.AddRange(rows.Select(row => query[^12..] + ": " + string.Join('|', ((IDictionary<string, object?>)row).Values
                .Select(value => Convert.ToString(value, CultureInfo.InvariantCulture)))).Order(StringComparer.Ordinal));
        }

        return lines;
    }

    private static string[] Records(Random random)
    {
        var records = new List<string>();
        string At(double days) => Begin.AddDays(days).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        void Add(object record) => records.Add(JsonSerializer.Serialize(record));
        for (int i = 0; i < 60; i++)
        {
            double day = random.NextDouble() * 120;
            Add(random.Next(10) switch
            {
                0 => new { type = "fault", key = $"k{i}", unit = "OVEN-1", at = At(day), code = "E21" },
                1 => new { type = "fault_cleared", key = $"k{i}", unit = "OVEN-1", at = At(day), code = "E21" },
                2 => new { type = "part_change", key = $"k{i}", unit = "OVEN-1", at = At(day), position = "wash-pump", fitted = new { part_number = "P/100-2" } },
                3 => new { type = "part_change", key = $"k{i}", unit = "OVEN-1", at = At(day), position = "wash-pump", removed = new { reason = "failed" } },
                4 => new { type = "heartbeat", key = $"k{i}", unit = "OVEN-1", at = At(day) },
                5 => new { type = "meter", key = $"k{i}", unit = "OVEN-1", at = At(day), washes_total = Math.Round(day * 2) },
                6 => new { type = "visit", key = $"k{i}", unit = "OVEN-1", asked_at = At(day), left_at = At(day + 1), outcome = "waiting_part" },
                7 => new { type = "approval", key = $"k{i}", unit = "OVEN-1", asked_at = At(day), decided_at = At(day + 2), decision = "refused" },
                8 => new { type = "condition", key = $"k{i}", unit = "OVEN-1", at = At(day), position = "wash-pump", grade = "good" },
                _ => (object)new { type = "wash", key = $"k{i}", unit = "OVEN-1", at = At(day), ended_at = At(day + 0.06), programme = "short", outcome = "completed" },
            });
        }

        Add(new { type = "void", key = "v1", at = At(121), voids = $"k{random.Next(60)}", reason = "wrong oven" });
        Add(new { type = "wash", key = "r1", unit = "OVEN-1", at = At(60), ended_at = At(60.05), grade = "intensive", outcome = "completed", replaces = $"k{random.Next(60)}" });
        return [.. records];
    }
}
