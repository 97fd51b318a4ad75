using System.Diagnostics;
using System.Net;
using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Washwear.Api.Security;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Operation;

/// <summary>A supervisor is told within a second whether the service works and what somebody should see to.</summary>
public sealed class HealthTests
{
    // A second is promised; a machine that runs all tests at once has more, but less than what holds the database lasts.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(4);

    // Such a machine may not get to look at the database in time either, and says so; it is asked again then, but not for ever.
    private const string NotInTime = "The database did not answer in time.";
    private const int MostAsks = 10;

    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    public async Task AnswersWithoutAKey(string path)
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"));
        using HttpResponseMessage answer = await host.Stranger.GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("""{"status":"ok"}""", await answer.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task Details_are_for_those_who_may_read_and_name_everything_that_was_looked_at()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"));
        using HttpResponseMessage stranger = await host.Stranger.GetAsync("/health/details");
        await ProblemAssert.IsAsync(HttpStatusCode.Unauthorized, stranger);
        using HttpResponseMessage gateway = await (await host.ClientAsync(Abilities.Ingest, "gateway")).GetAsync("/health/details");
        await ProblemAssert.IsAsync(HttpStatusCode.Forbidden, gateway);

        JsonElement details = await DetailsAsync(host);
        Assert.Equal("ok", details.GetProperty("status").GetString());
        string[] looked = [.. details.GetProperty("checks").EnumerateArray().Select(check => check.GetProperty("check").GetString()!)];
        Assert.Equal(["database", "migrations", "write_lock", "disk", "ingest_queue", "clock", "projections", "webhooks", "upkeep"], looked);
    }

    [Fact]
    public async Task A_write_lock_that_another_holds_is_told_within_a_second_and_goes_when_it_is_let_go_of()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("busy_timeout_seconds", "20"));
        await WarmUpAsync(host);
        await using (var other = new SqliteConnection($"Data Source={host.Database.File};Pooling=False"))
        {
            await other.OpenAsync();
            await using SqliteTransaction held = other.BeginTransaction(deferred: false);
            Task<HttpResponseMessage>? waiting = null;
            for (int round = 0; round < 6; round++)
            {
                await Task.Delay(150);
                Assert.Equal("degraded: write_lock", await StatusWithinASecondAsync(host));
                Assert.Equal("degraded", await StandingAsync(host, "write_lock"));

                // From here on a writer of this process waits for it too.
                waiting ??= Samples.PutAsync(host.Admin, "/v1/operators/harbour", Samples.Operator);
            }

            Assert.False(waiting!.IsCompleted);
            await held.RollbackAsync();
            using HttpResponseMessage written = await waiting;
            Assert.Equal(HttpStatusCode.Created, written.StatusCode);
        }

        await Until.TrueAsync(async () => await StatusWithinASecondAsync(host) == "ok", "the lock is free again");
    }

    [Fact]
    public async Task A_database_that_another_has_to_itself_does_not_answer_and_that_is_told_within_a_second_whoever_asks()
    {
        await using ApiHost origin = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("busy_timeout_seconds", "5"), ("webhook_poll_seconds", "0"));
        string file = Path.Combine(origin.Folder, "alone.db");
        await origin.Database.BackupAsync(file, CancellationToken.None);
        await using var other = new SqliteConnection($"Data Source={file};Pooling=False");
        await other.OpenAsync();
        await other.ExecuteAsync("PRAGMA locking_mode = EXCLUSIVE; UPDATE registry_version SET version = version;");
        await using ApiHost host = await ApiHost.StartOnAsync(origin, file);
        await WarmUpAsync(host);
        for (int round = 0; round < 4; round++)
        {
            var waited = Stopwatch.StartNew();
            using HttpResponseMessage ready = await host.Admin.GetAsync("/health/ready");
            Assert.True(waited.Elapsed < Patience, $"{waited.Elapsed}");
            await ProblemAssert.IsAsync(HttpStatusCode.ServiceUnavailable, ready);
            using HttpResponseMessage live = await host.Admin.GetAsync("/health/live");
            Assert.Equal(HttpStatusCode.OK, live.StatusCode);
        }

        await other.CloseAsync();
        await Until.TrueAsync(async () => await StatusWithinASecondAsync(host) == "ok", "the database answers again");
    }

    [Fact]
    public async Task A_database_that_is_gone_is_told_and_not_made_anew()
    {
        await using ApiHost origin = await ApiHost.StartAsync(null, ("webhook_poll_seconds", "0"), ("alert_check_minutes", "0"));
        string file = Path.Combine(origin.Folder, "none.db");
        await using ApiHost host = await ApiHost.StartOnAsync(origin, file);
        using HttpResponseMessage ready = await host.Stranger.GetAsync("/health/ready");
        JsonElement problem = await ProblemAssert.IsAsync(HttpStatusCode.ServiceUnavailable, ready);
        Assert.Equal("There is no database.", problem.GetProperty("detail").GetString());
        Assert.False(File.Exists(file));
    }

    [Fact]
    public async Task This_process_own_transaction_is_no_lock_of_another()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"));
        await WarmUpAsync(host);
        await using (await HeldWriter.HoldAsync(host))
        {
            await Task.Delay(500);
            Assert.Equal("ok", await StatusWithinASecondAsync(host));
        }
    }

    [Fact]
    public async Task A_disk_with_less_room_than_wanted_is_told_with_figures_to_those_with_a_key_alone()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "16777216"));
        string open = await host.Stranger.GetStringAsync("/health/ready");
        Assert.Equal("""{"status":"degraded","concerns":["disk"]}""", open);
        Assert.Contains("less than the 16777216 MiB of disk_free_mib", await SaysAsync(host, "disk"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_queue_that_refuses_is_told()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("ingest_queue_requests", "1"));
        await Samples.PutAllAsync(host.Admin);
        await using (HeldWriter held = await HeldWriter.HoldAsync(host))
        {
            Task<HttpResponseMessage> first = Sending.PostAsync(host.Admin, "{}"u8.ToArray(), "application/json");
            await held.WhenAsync(load => load.Requests == 1);
            await Until.TrueAsync(async () => await StandingAsync(host, "ingest_queue") == "degraded", "the full queue is told");
            using HttpResponseMessage refused = await Sending.PostAsync(host.Admin, "{}"u8.ToArray(), "application/json");
            Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
            await held.LetGoAsync();
            (await first).Dispose();
        }

        // Who asks a moment later is told all the same.
        Assert.Equal("degraded", await StandingAsync(host, "ingest_queue"));
    }

    [Fact]
    public async Task A_clock_that_was_set_back_is_told_until_it_is_right()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"));
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, Sending.Wash("one"));
        Assert.Equal("ok", await StandingAsync(host, "clock"));
        host.Clock.Advance(TimeSpan.FromHours(-3));
        await Until.TrueAsync(async () => await StandingAsync(host, "clock") == "degraded", "the clock is told");
        Assert.Contains("10800 s", await SaysAsync(host, "clock"), StringComparison.Ordinal);
        host.Clock.Advance(TimeSpan.FromHours(3));
        await Until.TrueAsync(async () => await StandingAsync(host, "clock") == "ok", "the clock is right");
    }

    [Fact]
    public async Task Standings_derived_with_other_rules_are_told()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("alert_check_minutes", "0"));
        await Samples.PutAllAsync(host.Admin);
        await Sending.SendAsync(host.Admin, Sending.Wash("one"));
        await using (var other = new SqliteConnection($"Data Source={host.Database.File};Pooling=False"))
        {
            Assert.Equal(1, await other.ExecuteAsync("UPDATE cleaning_run SET terms = terms + 1"));
        }

        // They are counted once a minute; one who starts counts at once.
        await using ApiHost second = await ApiHost.StartOnAsync(host);
        Assert.Equal("degraded", await StandingAsync(second, "projections"));
        Assert.Contains("units stand (1)", await SaysAsync(second, "projections"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Webhook_messages_that_nobody_takes_are_told()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("webhook_poll_seconds", "0"), ("webhook_internal_addresses", "yes"));
        using HttpResponseMessage made = await Samples.PutAsync(host.Admin, "/v1/webhooks/ops", """{"url":"http://127.0.0.1:9/none"}""");
        Assert.True(made.IsSuccessStatusCode, await made.Content.ReadAsStringAsync());
        using HttpResponseMessage test = await host.Admin.PostAsync("/v1/webhooks/ops/test", null);
        Assert.True(test.IsSuccessStatusCode, await test.Content.ReadAsStringAsync());
        Assert.Equal("ok", await StandingAsync(host, "webhooks"));
        host.Clock.Advance(TimeSpan.FromMinutes(16));
        await Until.TrueAsync(async () => await StandingAsync(host, "webhooks") == "degraded", "the messages are told");
        Assert.Contains("Webhook messages wait (1), the oldest for 960 s", await SaysAsync(host, "webhooks"), StringComparison.Ordinal);
    }

    // What a program compiles as it begins is not what is promised.
    private static async Task WarmUpAsync(ApiHost host)
    {
        using HttpResponseMessage live = await host.Stranger.GetAsync("/health/live");
        using HttpResponseMessage ready = await host.Stranger.GetAsync("/health/ready");
    }

    [Fact]
    public async Task A_backup_that_failed_or_is_old_is_told()
    {
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"));
        await RunAsync(host, "backup", succeeded: true);
        Assert.Equal("ok", await StandingAsync(host, "upkeep"));
        host.Clock.Advance(TimeSpan.FromHours(37));
        await Until.TrueAsync(async () => await StandingAsync(host, "upkeep") == "degraded", "the old backup is told");
        Assert.Contains("backup: the newest is older than the 36 hours", await SaysAsync(host, "upkeep"), StringComparison.Ordinal);
        Assert.Contains("washwear_upkeep_last_success_age_seconds{task=\"backup\"} 133200", await host.Admin.GetStringAsync("/metrics"), StringComparison.Ordinal);
        await RunAsync(host, "backup", succeeded: true);
        await RunAsync(host, "prune", succeeded: false);
        await Until.TrueAsync(async () => (await SaysAsync(host, "upkeep")).EndsWith("help: prune: the last try failed.", StringComparison.Ordinal), "the failure is told");
    }

    [Fact]
    public async Task A_backup_that_is_asked_for_and_was_never_made_is_told()
    {
        string folder = Directory.CreateTempSubdirectory("washwear-no-backup-").FullName;
        await using ApiHost host = await ApiHost.StartAsync(null, ("disk_free_mib", "0"), ("backup_folder", folder));
        Assert.Equal("ok", await StandingAsync(host, "upkeep"));

        // The clock of the test moves no timer of the worker, as if it were stuck.
        host.Clock.Advance(TimeSpan.FromHours(27));
        await Until.TrueAsync(async () => await StandingAsync(host, "upkeep") == "degraded", "the missing backup is told");
        Assert.Contains("backup: none was made yet", await SaysAsync(host, "upkeep"), StringComparison.Ordinal);
        Directory.Delete(folder, true);
    }

    private static Task<int> RunAsync(ApiHost host, string task, bool succeeded) => host.Database.WriteAsync(
        session => session.Connection.ExecuteAsync(
            "INSERT INTO upkeep_run (task, begun_ms, ended_ms, succeeded, sentence) VALUES (@task, @now, @now, @succeeded, 'Tried.')",
            new { task, now = host.Clock.Now.ToUnixTimeMilliseconds(), succeeded = succeeded ? 1 : 0 },
            session.Transaction),
        CancellationToken.None);

    private static async Task<string> StatusWithinASecondAsync(ApiHost host)
    {
        JsonElement health = await AnswerAsync(host.Stranger, "/health/ready", Patience);
        string status = health.GetProperty("status").ToString();
        return health.TryGetProperty("concerns", out JsonElement concerns)
            ? $"{status}: {string.Join(", ", concerns.EnumerateArray().Select(concern => concern.GetString()))}"
            : status;
    }

    private static async Task<JsonElement> AnswerAsync(HttpClient reader, string path, TimeSpan within)
    {
        for (int asks = 1; ; asks++)
        {
            var waited = Stopwatch.StartNew();
            using HttpResponseMessage answer = await reader.GetAsync(path);
            Assert.True(waited.Elapsed < within, $"{waited.Elapsed}");
            string said = await answer.Content.ReadAsStringAsync();
            if (asks == MostAsks || !said.Contains(NotInTime, StringComparison.Ordinal))
            {
                return JsonDocument.Parse(said).RootElement;
            }

            await Task.Delay(TimeSpan.FromMilliseconds(150));
        }
    }

    private static Task<JsonElement> DetailsAsync(ApiHost host) => AnswerAsync(host.Admin, "/health/details", TimeSpan.MaxValue);

    private static async Task<JsonElement> CheckAsync(ApiHost host, string name) =>
        (await DetailsAsync(host)).GetProperty("checks").EnumerateArray().Single(check => check.GetProperty("check").GetString() == name);

    private static async Task<string> StandingAsync(ApiHost host, string name) => (await CheckAsync(host, name)).GetProperty("standing").GetString()!;

    private static async Task<string> SaysAsync(ApiHost host, string name) => (await CheckAsync(host, name)).GetProperty("says").GetString()!;
}
