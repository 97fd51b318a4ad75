using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Commands;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Projections;

/// <summary>The running state of early signs in the database, against the fold over the same events told here.</summary>
public sealed class EarlySignTableTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Begin = new(2025, 6, 1, 22, 0, 0, TimeSpan.Zero);
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task Washes_in_time_late_shuffled_or_in_pieces_lead_to_one_state_which_a_rebuild_finds_again()
    {
        string[] records = [.. Enumerable.Range(0, 90).Select(day => Wash(day)), Mended(60), Visit(75, "proven"), Visit(80, "no_fault_found")];
        UnitSigns wanted = Fold(90, 60, 75.1);
        var random = new Random(5);
        foreach (int pieces in new[] { 1, 7, 93 })
        {
            foreach (bool shuffle in new[] { false, true })
            {
                string unit = $"{(shuffle ? "s" : "o")}{pieces}";
                using HttpResponseMessage put = await Samples.PutAsync(_host.Admin, "/v1/units/" + unit, Samples.Unit);
                Assert.True(put.IsSuccessStatusCode);
                string[] told = [.. records.Select(record => record.Replace("OVEN-1", unit, StringComparison.Ordinal)
                    .Replace("\"key\":\"", "\"key\":\"" + unit, StringComparison.Ordinal))];
                if (shuffle)
                {
                    random.Shuffle(told);
                }

                await SendAsync(told, pieces);
                Assert.Equal(SignState.Write(wanted), await StateAsync(unit));
            }
        }

        RegistryCache registry = _host.Services.GetRequiredService<RegistryCache>();
        await _host.Database.WriteAsync(
            async session => Projector.Rebuild(session, await registry.CurrentAsync(CancellationToken.None)), CancellationToken.None);
        Assert.Equal(SignState.Write(wanted), await StateAsync("s7"));
    }

    [Fact]
    public async Task A_voided_wash_and_a_voided_part_change_are_taken_out_of_the_charts()
    {
        await SendAsync([.. Enumerable.Range(0, 90).Select(day => Wash(day)), Mended(60), Wash(200, 2.5)], 1);
        await SendAsync(["""{"type":"void","key":"v1","at":"2026-02-01T00:00:00Z","voids":"w200","reason":"wrong oven"}"""], 1);
        Assert.Equal(SignState.Write(Fold(90, 60)), await StateAsync("OVEN-1"));

        await SendAsync(["""{"type":"void","key":"v2","at":"2026-02-01T00:00:00Z","voids":"m60","reason":"wrong oven"}"""], 1);
        Assert.Equal(SignState.Write(Fold(90)), await StateAsync("OVEN-1"));
    }

    [Fact]
    public async Task A_sign_that_stands_is_marked_and_a_unit_without_records_has_no_row()
    {
        await SendAsync([.. Enumerable.Range(0, 40).Select(day => Wash(day)), .. Enumerable.Range(40, 4).Select(day => Wash(day, stopped: true))], 1);
        await using DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        (long charted, long called) = await connection.QuerySingleAsync<(long, long)>("SELECT charted, called FROM early_sign");
        Assert.Equal((7, 1), (charted, called));
    }

    [Fact]
    public async Task A_database_from_before_early_signs_is_caught_up_at_the_start()
    {
        await SendAsync([.. Enumerable.Range(0, 90).Select(day => Wash(day)), Mended(60)], 1);
        await using (var raw = new Microsoft.Data.Sqlite.SqliteConnection("Data Source=" + _host.Database.File))
        {
            await raw.ExecuteAsync("DELETE FROM early_sign");
        }

        await Serve.PrepareAsync(_host.Services, CancellationToken.None);
        Assert.Equal(SignState.Write(Fold(90, 60)), await StateAsync("OVEN-1"));
    }

    private static string At(double days) => Begin.AddDays(days).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    // Every eleventh wash is stopped; durations wander.
    private static bool IsBad(int day, bool stopped) => stopped || day % 11 == 10;

    private static double Minutes(int day) => 80 + (day * 7 % 5);

    private static string Wash(int day, double? minutes = null, bool stopped = false) => JsonSerializer.Serialize(new
    {
        type = "wash",
        key = $"w{day}",
        unit = "OVEN-1",
        at = At(day),
        ended_at = At(day + ((minutes ?? Minutes(day)) / 1440)),
        programme = day % 2 == 0 ? "SHORT" : "short",
        outcome = IsBad(day, stopped) ? "stopped_by_fault" : "completed",
    });

    private static string Mended(int day) => JsonSerializer.Serialize(new
    {
        type = "part_change",
        key = $"m{day}",
        unit = "OVEN-1",
        at = At(day),
        position = "wash-pump",
        fitted = new { part_number = "P/100-2" },
    });

    private static string Visit(int day, string outcome) => JsonSerializer.Serialize(new
    {
        type = "visit",
        key = $"v{day}",
        unit = "OVEN-1",
        asked_at = At(day),
        left_at = At(day + 0.1),
        outcome,
    });

    private static UnitSigns Fold(int washes, params double[] mended)
    {
        // The sort is stable: restarts stand before a wash of the same instant.
        IEnumerable<SignEvent> events = mended
            .Select(day => new SignEvent(Instant.FromDateTimeOffset(DateTimeOffset.Parse(At(day), CultureInfo.InvariantCulture)), null))
            .Concat(Enumerable.Range(0, washes).Select(day => SignEvents.Washed(
                Begin.AddDays(day).ToUnixTimeMilliseconds(),
                DateTimeOffset.Parse(At(day + (Minutes(day) / 1440)), CultureInfo.InvariantCulture).ToUnixTimeMilliseconds(), "short", "light",
                IsBad(day, false) ? WashOutcome.StoppedByFault : WashOutcome.Completed, null, false)));
        return events.OrderBy(one => one.At).Aggregate(UnitSigns.Blank, (signs, happened) => happened.FoldInto(signs));
    }

    private async Task SendAsync(string[] records, int pieces)
    {
        foreach (string[] piece in records.Chunk((records.Length + pieces - 1) / pieces))
        {
            JsonElement answer = await Sending.SendAsync(_host.Admin, string.Join('\n', piece) + "\n", "application/x-ndjson");
            Assert.True(answer.GetProperty("refused").GetInt32() == 0, answer.ToString());
        }
    }

    private async Task<string?> StateAsync(string unit)
    {
        await using DbConnection connection = await _host.Database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<string>(
            "SELECT e.state FROM early_sign e JOIN unit u ON u.id = e.unit_id WHERE u.code = @unit", new { unit });
    }
}
