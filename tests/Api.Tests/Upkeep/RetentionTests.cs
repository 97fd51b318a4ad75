using System.Security.Cryptography;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Upkeep;
using Washwear.Api.Upkeep.Retention;

namespace Washwear.Api.Tests.Upkeep;

/// <summary>What is kept for a time goes when its time is over; the records, and what still matters, stay.</summary>
public sealed class RetentionTests : IAsyncLifetime
{
    private static readonly string[] Tables = ["visit_photo", "refused", "webhook_message", "webhook_attempt", "alert", "import_progress", "equipment_change", "upkeep_run"];
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-retention-test-").FullName;

    private string File => Path.Combine(_folder, "washwear.db");

    public async Task InitializeAsync()
    {
        OldDatabase.In(_folder);
        Assert.Equal(0, (await RunAsync("migrate")).Code);
        await FillAsync();
    }

    public Task DisposeAsync()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }

    [Fact]
    public async Task A_dry_run_counts_and_deletes_nothing()
    {
        string before = await CountsAsync();

        CommandRun dry = await RunAsync("prune", "--dry-run", "--photo-keep-days", "365");

        Assert.Equal((0, ""), (dry.Code, dry.Complaint));
        Assert.Contains("45 photos of visits would go (kept for 365 days)", dry.Out, StringComparison.Ordinal);
        Assert.Contains("0 refused rows would go (kept for ever)", dry.Out, StringComparison.Ordinal);
        Assert.Equal(before, await CountsAsync());
    }

    [Fact]
    public async Task What_is_too_old_goes_and_what_others_refer_to_or_what_still_goes_on_stays()
    {
        Assert.Equal("46, 2, 2, 2, 4, 2, 3, 3", await CountsAsync());

        CommandRun prune = await RunAsync("prune", "--photo-keep-days", "365");

        Assert.Equal((0, ""), (prune.Code, prune.Complaint));
        // Left: the new photo; both refused rows; the waiting message and no attempt of the dead one; the alert that a message names, the open one and the one closed
        // lately; the new place of an import; the last state and the one that is not old; the last run of each task and the last that went well.
        Assert.Equal("1, 2, 1, 0, 3, 1, 2, 2", await CountsAsync());
        Assert.Equal((0, ""), ((await RunAsync("check")).Code, (await RunAsync("check")).Complaint));
        Assert.Contains("         0 photos of visits went", (await RunAsync("prune", "--photo-keep-days", "365")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stopped_between_two_batches_it_has_deleted_whole_batches_and_goes_on_the_next_time()
    {
        await using ApiHost host = await ApiHost.StartAsync(TimeProvider.System.GetUtcNow(), ("database", File), ("photo_keep_days", "365"));
        RetentionRule photos = RetentionQueries.Rules.Single(rule => rule.Name == "photos of visits");
        int first = await host.Services.GetRequiredService<RetentionQueries>().DeleteAsync(photos, TimeProvider.System.GetUtcNow().AddDays(-365), CancellationToken.None);
        Assert.Equal((photos.Batch, 46 - photos.Batch), (first, await NumberAsync("SELECT count(*) FROM visit_photo")));

        await host.Services.GetRequiredService<UpkeepWorker>().LookAsync(CancellationToken.None);

        Assert.Equal(1, await NumberAsync("SELECT count(*) FROM visit_photo"));
        Assert.Equal(1, await NumberAsync("SELECT count(*) FROM upkeep_run WHERE task = 'prune' AND succeeded = 1 AND sentence LIKE 'Let go of 25 photos of visits, %'"));
        Assert.Equal(360, await NumberAsync("SELECT count(*) FROM record"));
    }

    private async Task FillAsync()
    {
        byte[] body = [0xFF, 0xD8, 0xFF, 1];
        long old = TimeProvider.System.GetUtcNow().AddDays(-1_000).ToUnixTimeMilliseconds();
        long late = TimeProvider.System.GetUtcNow().AddDays(-1).ToUnixTimeMilliseconds();
        await using var connection = new SqliteConnection($"Data Source={File};Pooling=False");
        for (int photo = 0; photo <= 45; photo++)
        {
            await connection.ExecuteAsync(
                "INSERT INTO visit_photo (source, visit_key, unit_id, received_ms, kind, sha256, bytes, body) SELECT 's', @key, min(id), @at, 'image/jpeg', @sha256, 4, @body FROM unit",
                new { key = "v" + photo, at = photo == 45 ? late : old, sha256 = SHA256.HashData(body), body });
        }

        await connection.ExecuteAsync("""
            INSERT INTO alert (id, kind, unit_id, "rule", opened_ms, sentence, closed_ms) SELECT 1, 'silent', min(id), '', @old, 'named', @old FROM unit;
            INSERT INTO alert (id, kind, unit_id, "rule", opened_ms, sentence, closed_ms) SELECT 2, 'silent', min(id), '', @old, 'old', @old FROM unit;
            INSERT INTO alert (id, kind, unit_id, "rule", opened_ms, sentence, closed_ms) SELECT 3, 'silent', min(id), '', @old, 'late', @late FROM unit;
            INSERT INTO alert (id, kind, unit_id, "rule", opened_ms, sentence) SELECT 4, 'silent', min(id), '', @old, 'open' FROM unit;
            INSERT INTO webhook (id, code, code_key, url, enabled, secret, made_ms) VALUES (1, 'w', 'w', 'https://hooks.example/', 0, 's', @old);
            INSERT INTO webhook_message (id, webhook_id, code, type, alert_id, body, state, tries, made_ms, due_ms, ended_ms) VALUES (1, 1, 'a', 'alert.closed', 1, '', 'waiting', 0, @old, @old, NULL);
            INSERT INTO webhook_message (id, webhook_id, code, type, alert_id, body, state, tries, made_ms, due_ms, ended_ms) VALUES (2, 1, 'b', 'alert.closed', 2, '', 'dead', 10, @old, @old, @old);
            INSERT INTO webhook_attempt (message_id, at_ms) VALUES (2, @old), (2, @old);
            INSERT INTO import_progress (digest, rows_done, touched_ms) VALUES ('a', 1, @old), ('b', 1, @late);
            INSERT INTO equipment_change (unit_id, channel, at_ms, active) SELECT min(id), 'alarm/1', @old, 1 FROM unit;
            INSERT INTO equipment_change (unit_id, channel, at_ms, active) SELECT min(id), 'cleaning', @old, 1 FROM unit;
            INSERT INTO equipment_change (unit_id, channel, at_ms, active) SELECT min(id), 'cleaning', @old + 1, 0 FROM unit;
            INSERT INTO upkeep_run (task, begun_ms, ended_ms, succeeded, sentence) VALUES ('backup', @old, @old, 1, 'first'), ('backup', @old, @old, 1, 'well'), ('backup', @old, @old, 0, 'failed');
            """, new { old, late });
    }

    private async Task<string> CountsAsync()
    {
        var counts = new List<long>();
        foreach (string table in Tables)
        {
            counts.Add(await NumberAsync($"SELECT count(*) FROM {table}"));
        }

        return string.Join(", ", counts);
    }

    private async Task<long> NumberAsync(string sql)
    {
        await using var connection = new SqliteConnection($"Data Source={File};Pooling=False");
        return await connection.ExecuteScalarAsync<long>(sql);
    }

    private Task<CommandRun> RunAsync(params string[] arguments) => CommandRun.OfAsync(_folder, [.. arguments, "--database", "washwear.db"]);
}
