using System.Text.Json.Serialization;

namespace Washwear.Dashboard.Upkeep;

/// <summary>What the program does by itself to keep an installation well.</summary>
public enum UpkeepTask
{
    /// <summary>A nightly backup.</summary>
    Backup,

    /// <summary>The way back from the newest backup, tried aside.</summary>
    RestoreDrill,

    /// <summary>Letting go of what is kept only for a time.</summary>
    Prune,
}

/// <summary>How a task stands.</summary>
/// <param name="Task">The task.</param>
/// <param name="IsOn">Whether the settings ask for it.</param>
/// <param name="LastAt">When it was done last, well or not; null: never.</param>
/// <param name="LastSucceeded">Whether it went well then; null: never done.</param>
/// <param name="LastSucceededAt">When it went well last; null: never.</param>
/// <param name="NeedsAttention">Whether somebody has to look: it failed last, or is overdue.</param>
/// <param name="Sentence">How it stands and what to do, in plain words.</param>
public sealed record UpkeepRow(
    UpkeepTask Task, bool IsOn, DateTimeOffset? LastAt, bool? LastSucceeded, DateTimeOffset? LastSucceededAt, bool NeedsAttention, string Sentence)
{
    /// <summary>What the program noted when it was done last, in English; null: never done.</summary>
    [JsonIgnore]
    public string? Said { get; init; }

    /// <summary>Whether it should have been done by now.</summary>
    [JsonIgnore]
    public bool IsOverdue { get; init; }
}

/// <summary>How the installation is kept.</summary>
/// <param name="AsOf">The instant for which it holds.</param>
/// <param name="Sentence">The finding.</param>
/// <param name="Tasks">Each task.</param>
public sealed record UpkeepReport(DateTimeOffset AsOf, string Sentence, IReadOnlyList<UpkeepRow> Tasks);
