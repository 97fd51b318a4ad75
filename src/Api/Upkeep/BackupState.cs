using Washwear.Dashboard.Upkeep;

namespace Washwear.Api.Upkeep;

/// <summary>How backups and drills stand, as last noted; answers without asking the database. Safe for concurrent use.</summary>
/// <param name="settings">Whether backups are asked for.</param>
/// <param name="clock">The clock.</param>
public sealed class BackupState(Settings settings, TimeProvider clock)
{
    /// <summary>How long after one backup the next must have been made.</summary>
    public static readonly TimeSpan MostBetween = TimeSpan.FromHours(26);

    private readonly DateTimeOffset _since = clock.GetUtcNow();
    private volatile UpkeepRow? _backup;
    private volatile UpkeepRow? _drill;

    /// <summary>Whether the settings ask for nightly backups that this engine can make.</summary>
    public bool IsOn => settings.BackupFolder is not null && settings.Engine == "sqlite";

    /// <summary>When a backup was proven whole last; null: never, or not known yet.</summary>
    public DateTimeOffset? LastSuccessAt => _backup?.LastSucceededAt;

    /// <summary>Why the last backup failed; null: it went well, or none was tried.</summary>
    public string? Trouble => _backup is { LastSucceeded: false } failed ? failed.Sentence : null;

    /// <summary>Whether backups are asked for and the last good one is too old.</summary>
    public bool IsOverdue => IsOn && clock.GetUtcNow() - (LastSuccessAt ?? _since) > MostBetween;

    /// <summary>When the way back was tried last; null: never.</summary>
    public DateTimeOffset? LastDrillAt => _drill?.LastAt;

    /// <summary>Whether it worked then; null: never tried.</summary>
    public bool? LastDrillSucceeded => _drill?.LastSucceeded;

    internal void Note(UpkeepRow row)
    {
        switch (row.Task)
        {
            case UpkeepTask.Backup:
                _backup = row;
                break;
            case UpkeepTask.RestoreDrill:
                _drill = row;
                break;
        }
    }
}
