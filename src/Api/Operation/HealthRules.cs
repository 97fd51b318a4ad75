using System.Globalization;
using Washwear.Api.Storage;

namespace Washwear.Api.Operation;

/// <summary>How something stands that the service depends on.</summary>
public enum HealthStanding
{
    /// <summary>Well.</summary>
    Ok,

    /// <summary>The service works, but somebody should see to it.</summary>
    Degraded,

    /// <summary>The service cannot do its work.</summary>
    Failing,
}

/// <summary>One thing that the service depends on.</summary>
/// <param name="Check">What was looked at, a word that programs can rely on.</param>
/// <param name="Standing">How it stands.</param>
/// <param name="Says">What was found and what to do, in a sentence.</param>
public sealed record HealthCheck(string Check, HealthStanding Standing, string Says);

/// <summary>Judges a look at the service.</summary>
internal static class HealthRules
{
    private const string BackupTask = "backup";

    private static readonly string[] NoneWrong = [];

    // Shorter waits are those of a working outbox: a receiver that is restarted gets its messages within minutes.
    private static readonly TimeSpan DeliveryPatience = TimeSpan.FromMinutes(15);

    // Clocks of a pool of nodes differ a little.
    private static readonly TimeSpan ClockTolerance = TimeSpan.FromSeconds(30);

    /// <summary>Everything that was looked at, in a fixed order.</summary>
    /// <param name="look">The look.</param>
    /// <param name="settings">What is wanted.</param>
    public static IReadOnlyList<HealthCheck> Judge(ServiceLook look, Settings settings) =>
        [Database(look), Migrations(look), Lock(look), Disk(look, settings), Queue(look, settings), Clock(look), Projections(look), Webhooks(look), Upkeep(look, settings)];

    /// <summary>The worst of all.</summary>
    /// <param name="checks">What was looked at.</param>
    public static HealthStanding Worst(IEnumerable<HealthCheck> checks) => checks.Max(check => check.Standing);

    private static HealthCheck Database(ServiceLook look) => look.DatabaseProblem is { } problem
        ? new("database", HealthStanding.Failing, problem)
        : Ok("database", "The database answers.");

    private static HealthCheck Migrations(ServiceLook look) => look.MissingScripts.Count > 0
        ? new("migrations", HealthStanding.Failing, "The database lacks migrations; run the migrate command.")
        : Ok("migrations", "The database has seen every migration.");

    private static HealthCheck Lock(ServiceLook look) => look.Lock switch
    {
        WriterLock.Held => new(
            "write_lock",
            HealthStanding.Degraded,
            $"Another process holds the write lock, for {Seconds(look.LockedFor)} or longer; nothing can be taken in until it lets go of it. Look for a "
                + "running rebuild, import or second server."),
        WriterLock.ReadOnly => new(
            "write_lock", HealthStanding.Degraded, "The database may only be read; nothing can be taken in. Look at the permissions of its file and at its disk."),
        _ => Ok("write_lock", "The write lock can be had."),
    };

    private static HealthCheck Disk(ServiceLook look, Settings settings) => look.FreeBytes < settings.DiskFreeBytes
        ? new(
            "disk",
            HealthStanding.Degraded,
            $"The disk of the database has {Mebibytes(look.FreeBytes!.Value)} left, less than the {Mebibytes(settings.DiskFreeBytes)} of disk_free_mib. "
                + "Make room: once it is full, nothing can be taken in.")
        : Ok("disk", look.FreeBytes is { } free ? $"The disk of the database has {Mebibytes(free)} left." : "The database lies on no disk of this machine that can be looked at.");

    private static HealthCheck Queue(ServiceLook look, Settings settings) =>
        look.RefusedLately || look.Load.Requests >= settings.IngestQueueRequests || look.Load.HeldBytes >= settings.IngestQueueBytes
            ? new(
                "ingest_queue",
                HealthStanding.Degraded,
                "More records are being sent than can be written; requests are told to come again (429). Nothing is lost as long as senders do.")
            : Ok("ingest_queue", "Records are written as they come.");

    private static HealthCheck Clock(ServiceLook look) => look.Figures?.NewestReceipt - look.At is { } ahead && ahead > ClockTolerance
        ? new(
            "clock",
            HealthStanding.Degraded,
            $"The clock stands {Seconds(ahead)} before the receipt of the newest record: it was set back, or was wrong then. Set it right.")
        : Ok("clock", "The clock has not gone back behind the newest record.");

    private static HealthCheck Projections(ServiceLook look) => look.Figures?.StaleUnits > 0
        ? new(
            "projections",
            HealthStanding.Degraded,
            $"Where units stand ({look.Figures.StaleUnits}) was derived with other rules than those in force; questions about them fail. Start the service again, or run rebuild.")
        : Ok("projections", "What is derived from the records is up to date.");

    private static HealthCheck Webhooks(ServiceLook look) => look.At - look.Figures?.MessagesOldest is { } waits && waits > DeliveryPatience
        ? new(
            "webhooks",
            HealthStanding.Degraded,
            $"Webhook messages wait ({look.Figures!.MessagesWaiting}), the oldest for {Seconds(waits)}; their receiver does not take them. /v1/webhooks tells why.")
        : Ok("webhooks", "Webhook messages are delivered.");

    private static HealthCheck Upkeep(ServiceLook look, Settings settings)
    {
        string[] wrong =
        [
            .. (look.Figures?.Tasks ?? []).Select(task => (task.Task, Wrong: WrongWith(task, look.At, settings))).Where(task => task.Wrong is not null)
                .Select(task => $"{task.Task}: {task.Wrong}"),
            .. look.LacksBackup ? [$"{BackupTask}: none was made yet although backup_folder is set"] : NoneWrong,
        ];
        return wrong.Length > 0
            ? new("upkeep", HealthStanding.Degraded, $"What the service does by itself wants help: {string.Join("; ", wrong)}.")
            : Ok("upkeep", "What the service does by itself succeeds.");
    }

    private static string? WrongWith(TaskStanding task, DateTimeOffset now, Settings settings)
    {
        if (task.LastFailed)
        {
            return "the last try failed";
        }

        return task.Task == BackupTask && settings.BackupAge > TimeSpan.Zero && now - task.SucceededAt > settings.BackupAge
            ? string.Create(CultureInfo.InvariantCulture, $"the newest is older than the {settings.BackupAge.TotalHours:0} hours of backup_age_hours")
            : null;
    }

    private static HealthCheck Ok(string check, string says) => new(check, HealthStanding.Ok, says);

    private static string Seconds(TimeSpan time) => string.Create(CultureInfo.InvariantCulture, $"{time.TotalSeconds:0} s");

    private static string Mebibytes(long bytes) => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1048576} MiB");
}
