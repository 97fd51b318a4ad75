using System.Globalization;
using NodaTime;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep.Backups;
using Washwear.Api.Upkeep.Retention;
using Washwear.Dashboard.Upkeep;

namespace Washwear.Api.Upkeep;

/// <summary>Makes backups, tries the way back and lets go of what is kept only for a time when it is due, as long as the program serves; one node at a time.</summary>
/// <param name="runs">Does tasks.</param>
/// <param name="maker">Makes backups.</param>
/// <param name="drill">Tries the way back.</param>
/// <param name="pruning">Lets go.</param>
/// <param name="backups">Whether backups are made.</param>
/// <param name="database">Where one node at a time works.</param>
/// <param name="settings">When.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class UpkeepWorker(
    UpkeepRuns runs, BackupMaker maker, RestoreDrill drill, Pruning pruning, BackupState backups, Database database, Settings settings, TimeProvider clock,
    ILogger<UpkeepWorker> log) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan BetweenDrills = TimeSpan.FromDays(30);
    private static readonly TimeSpan BetweenPruning = TimeSpan.FromDays(1);
    private static readonly (UpkeepTask Task, Func<CancellationToken, Task<(bool Well, string Sentence)>> Work)[] Nothing = [];
    private static readonly TimeSpan AfterFailure = TimeSpan.FromHours(1);
    private static readonly TimeSpan AfterFailedDrill = TimeSpan.FromDays(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (settings.BackupFolder is not null && !backups.IsOn)
        {
            LogNoBackups();
        }

        using var timer = new PeriodicTimer(Between, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                await LookAsync(stoppingToken);
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                LogFailed(error);
            }
        }
    }

    /// <summary>Does what is due.</summary>
    /// <param name="cancellationToken">Stops it.</param>
    internal async Task LookAsync(CancellationToken cancellationToken)
    {
        IReadOnlyList<UpkeepRow> tasks = (await runs.RefreshAsync(cancellationToken)).Tasks;
        DateTimeOffset now = clock.GetUtcNow();
        (UpkeepTask Task, Func<CancellationToken, Task<(bool Well, string Sentence)>> Work)[] due =
        [
            .. IsBackupDue(tasks[(int)UpkeepTask.Backup], now) ? [(UpkeepTask.Backup, BackUpAsync)] : Nothing,
            .. IsDrillDue(tasks[(int)UpkeepTask.RestoreDrill], now) ? [(UpkeepTask.RestoreDrill, DrillAsync)] : Nothing,
            .. IsPruneDue(tasks[(int)UpkeepTask.Prune], now) ? [(UpkeepTask.Prune, PruneAsync)] : Nothing,
        ];
        await using IAsyncDisposable? turn = due.Length > 0 ? await database.TryBecomeOnlyAsync("upkeep", cancellationToken) : null;
        foreach ((UpkeepTask task, Func<CancellationToken, Task<(bool Well, string Sentence)>> work) in turn is null ? Nothing : due)
        {
            await runs.RunAsync(task, work, cancellationToken);
        }
    }

    // What counts is what lies in the folder: a backup that was made by hand is one, and one that was lost is none.
    private bool IsBackupDue(UpkeepRow row, DateTimeOffset now)
    {
        if (!row.IsOn || (row is { LastSucceeded: false, LastAt: { } failed } && now - failed < AfterFailure))
        {
            return false;
        }

        DateTimeOffset due = BackupKeeping.LastDue(now, settings.BackupHour, DateTimeZoneProviders.Tzdb[settings.BackupTimeZone]);
        return !(BackupFolder.Newest(settings.BackupFolder!) is { } newest && newest.MadeAt >= due);
    }

    private bool IsDrillDue(UpkeepRow row, DateTimeOffset now) =>
        row.IsOn
        && (row.LastAt is not { } last || now - last >= (row.LastSucceeded == true ? BetweenDrills : AfterFailedDrill))
        && BackupFolder.Newest(settings.BackupFolder!) is not null;

    private static bool IsPruneDue(UpkeepRow row, DateTimeOffset now) =>
        row.LastAt is not { } last || now - last >= (row.LastSucceeded == true ? BetweenPruning : AfterFailure);

    private async Task<(bool Well, string Sentence)> BackUpAsync(CancellationToken cancellationToken)
    {
        (BackupEntry made, int pruned) = await maker.MakeAsync(settings.BackupFolder!, cancellationToken);
        return (true, string.Create(CultureInfo.InvariantCulture, $"Made {made.Path} and checked it; {pruned} older ones were let go."));
    }

    private async Task<(bool Well, string Sentence)> DrillAsync(CancellationToken cancellationToken)
    {
        DrillReport report = await drill.RunAsync(null, null, cancellationToken);
        return (report.Faults.Count == 0, report.Sentence);
    }

    private async Task<(bool Well, string Sentence)> PruneAsync(CancellationToken cancellationToken) =>
        (true, Pruning.Sentence(await pruning.RunAsync(cancellationToken)));

    [LoggerMessage(Level = LogLevel.Warning, Message = "backup_folder is set, but only the embedded database is backed up by the program: SQL Server is backed up by its own means.")]
    private partial void LogNoBackups();

    [LoggerMessage(Level = LogLevel.Error, Message = "A look at what upkeep is due failed; the next one comes as usual.")]
    private partial void LogFailed(Exception error);
}
