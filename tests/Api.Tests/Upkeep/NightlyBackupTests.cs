using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Tests.Registry;
using Washwear.Api.Tests.Webhooks;
using Washwear.Api.Upkeep;
using Washwear.Api.Upkeep.Backups;
using Washwear.Api.Webhooks;

namespace Washwear.Api.Tests.Upkeep;

/// <summary>Backups that nobody has to think of: made when due, proven, kept for a time, and told of when they fail.</summary>
public sealed class NightlyBackupTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-backup-test-").FullName;
    private Receiver _receiver = null!;
    private ApiHost _host = null!;

    private string Backups => Path.Combine(_folder, "backups");

    public async Task InitializeAsync()
    {
        _receiver = await Receiver.StartAsync();
        _host = await ApiHost.StartAsync(
            null,
            ("backup_folder", Backups), ("backup_keep_daily", "2"), ("backup_keep_weekly", "0"), ("backup_keep_monthly", "0"), ("restore_drill", "yes"),
            ("alert_check_minutes", "0"), ("webhook_poll_seconds", "0"), ("webhook_internal_addresses", "yes"));
        await Samples.PutAllAsync(_host.Admin);
        using HttpResponseMessage put = await _host.Admin.PutAsync(
            "/v1/webhooks/ops", new StringContent($$"""{"url":"{{_receiver.Url}}","kinds":["upkeep"]}""", System.Text.Encoding.UTF8, "application/json"));
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());
    }

    public async Task DisposeAsync()
    {
        await _host.DisposeAsync();
        await _receiver.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task One_is_made_a_night_those_that_need_not_be_kept_go_and_the_way_back_is_tried()
    {
        await LookAsync();
        await LookAsync();
        BackupEntry first = Assert.Single(BackupFolder.All(Backups));
        BackupManifest manifest = BackupFolder.ManifestOf(first.Path);
        Assert.Empty(BackupFolder.Spoilt(first.Path, manifest));
        Assert.Equal((1, 1, 0), (manifest.Tables["unit"], manifest.Tables["site"], manifest.Tables["record"]));
        Assert.Contains(manifest.Files, file => file.Name.StartsWith("cookie-keys/", StringComparison.Ordinal));
        Assert.Equal(["cookie-keys", "manifest.json", "washwear.db"], Directory.EnumerateFileSystemEntries(first.Path).Select(Path.GetFileName).Order());

        // The last was due at 02:00 on 2 March and made at noon.
        await AtAsync("2026-03-03T01:59:00Z");
        Assert.Single(BackupFolder.All(Backups));
        await AtAsync("2026-03-03T02:00:00Z");
        Assert.Equal(2, BackupFolder.All(Backups).Count);
        await AtAsync("2026-03-04T09:00:00Z");
        Assert.Equal(["2026-03-04", "2026-03-03"], BackupFolder.All(Backups).Select(entry => entry.MadeAt.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)));

        BackupState state = _host.Services.GetRequiredService<BackupState>();
        Assert.Equal((true, null, false, true), (state.IsOn, state.Trouble, state.IsOverdue, state.LastDrillSucceeded));
        Assert.Equal(_host.Clock.GetUtcNow(), state.LastSuccessAt);
        JsonElement report = await ReportAsync();
        Assert.Equal("The installation keeps itself well.", report.GetProperty("sentence").GetString());
        Assert.Equal(ApiHost.StartsAt, report.GetProperty("tasks")[1].GetProperty("last_succeeded_at").GetDateTimeOffset());
        Assert.Contains("Nightly backup", await _host.Admin.GetStringAsync("/upkeep"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_that_fails_touches_no_older_one_is_told_once_and_again_when_it_goes_well()
    {
        await LookAsync();
        string old = Assert.Single(BackupFolder.All(Backups)).Path;
        string aside = Backups + ".aside";
        Directory.Move(Backups, aside);
        await File.WriteAllTextAsync(Backups, "a file where the folder should be");

        await AtAsync("2026-03-03T02:00:00Z");
        await AtAsync("2026-03-03T02:30:00Z");
        await AtAsync("2026-03-03T03:30:00Z");
        JsonElement backup = (await ReportAsync()).GetProperty("tasks")[0];
        Assert.True(backup.GetProperty("needs_attention").GetBoolean());
        Assert.Equal(ApiHost.StartsAt, backup.GetProperty("last_succeeded_at").GetDateTimeOffset());
        Assert.NotNull(_host.Services.GetRequiredService<BackupState>().Trouble);
        await DeliverAsync();
        Assert.Equal("upkeep.failed", TypeOf(Assert.Single(_receiver.Messages)));

        File.Delete(Backups);
        Directory.Move(aside, Backups);
        await AtAsync("2026-03-03T04:31:00Z");
        Assert.Equal(2, BackupFolder.All(Backups).Count);
        Assert.True(Directory.Exists(old));
        Assert.Null(_host.Services.GetRequiredService<BackupState>().Trouble);
        await DeliverAsync();
        Assert.Equal("upkeep.recovered", TypeOf(_receiver.Messages.Last()));
        Assert.Equal(2, _receiver.Messages.Count);
    }

    [Fact]
    public async Task One_too_old_is_overdue()
    {
        await LookAsync();
        _host.Clock.Now = _host.Clock.Now.AddHours(26).AddMinutes(1);

        Assert.True(_host.Services.GetRequiredService<BackupState>().IsOverdue);
        Assert.Contains("overdue", (await ReportAsync()).GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    private Task LookAsync() => _host.Services.GetRequiredService<UpkeepWorker>().LookAsync(CancellationToken.None);

    private Task AtAsync(string instant)
    {
        _host.Clock.Now = DateTimeOffset.Parse(instant, System.Globalization.CultureInfo.InvariantCulture);
        return LookAsync();
    }

    private Task<int> DeliverAsync() => _host.Services.GetRequiredService<WebhookSender>().RunAsync(CancellationToken.None);

    private static string TypeOf(Received message) => JsonDocument.Parse(message.Text).RootElement.GetProperty("type").GetString()!;

    private async Task<JsonElement> ReportAsync() => JsonDocument.Parse(await _host.Admin.GetStringAsync("/v1/upkeep")).RootElement;
}
