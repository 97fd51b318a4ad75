using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Operation;

/// <summary>What one look at the running service found.</summary>
/// <param name="At">When.</param>
/// <param name="Load">How busy the one way in is.</param>
/// <param name="RefusedLately">Whether requests were refused for want of room within the last minute or so.</param>
/// <param name="DatabaseProblem">Why the database tells nothing; null: it answered.</param>
/// <param name="MissingScripts">Scripts of this program that the database has not seen.</param>
/// <param name="Figures">What the database tells; null: it does not answer, or lacks scripts.</param>
/// <param name="Lock">Whether the lock of writers can be had.</param>
/// <param name="LockedFor">For how long another process has been found to hold it.</param>
/// <param name="FreeBytes">Free disk beside the database file; null: not known, or the database is elsewhere.</param>
/// <param name="DatabaseBytes">Size of the database file.</param>
/// <param name="LogBytes">Size of its log of commits.</param>
/// <param name="LacksBackup">Whether backups are asked for and none was made, although the first is due.</param>
internal sealed record ServiceLook(
    DateTimeOffset At,
    IngestLoad Load,
    bool RefusedLately,
    string? DatabaseProblem,
    IReadOnlyList<string> MissingScripts,
    ServiceFigures? Figures,
    WriterLock Lock,
    TimeSpan LockedFor,
    long? FreeBytes,
    long? DatabaseBytes,
    long? LogBytes,
    bool LacksBackup);

/// <summary>What the database tells of the service.</summary>
/// <param name="NewestAt">When what was taken in last happened; null: nothing was ever taken in.</param>
/// <param name="NewestReceipt">When it was taken in.</param>
/// <param name="AlertsOpen">Alerts that nobody has seen.</param>
/// <param name="AlertsSeen">Alerts that were seen and are not closed.</param>
/// <param name="MessagesWaiting">Webhook messages that wait for their delivery.</param>
/// <param name="MessagesOldest">When the oldest of them was made; null: none waits.</param>
/// <param name="StaleUnits">Units whose standing was derived with other rules than those of the registry.</param>
/// <param name="Tasks">What the program does by itself and has tried at least once.</param>
internal sealed record ServiceFigures(
    DateTimeOffset? NewestAt,
    DateTimeOffset? NewestReceipt,
    long AlertsOpen,
    long AlertsSeen,
    long MessagesWaiting,
    DateTimeOffset? MessagesOldest,
    int StaleUnits,
    IReadOnlyList<TaskStanding> Tasks);

/// <summary>How something stands that the program does by itself, such as backups.</summary>
/// <param name="Task">The task.</param>
/// <param name="SucceededAt">When it succeeded last; null: never.</param>
/// <param name="LastFailed">Whether the last try failed.</param>
internal sealed record TaskStanding(string Task, DateTimeOffset? SucceededAt, bool LastFailed);
