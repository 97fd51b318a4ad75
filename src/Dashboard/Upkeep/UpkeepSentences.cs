namespace Washwear.Dashboard.Upkeep;

/// <summary>Words about how an installation is kept.</summary>
public static class UpkeepSentences
{
    /// <summary>A task in words.</summary>
    /// <param name="task">The task.</param>
    public static string Name(UpkeepTask task) => task switch
    {
        UpkeepTask.Backup => "Nightly backup",
        UpkeepTask.RestoreDrill => "Restore drill",
        UpkeepTask.Prune => "Pruning",
        _ => throw new ArgumentOutOfRangeException(nameof(task), task, "Not a task."),
    };

    /// <summary>The finding over all tasks.</summary>
    /// <param name="tasks">The tasks.</param>
    public static string Finding(IReadOnlyList<UpkeepRow> tasks)
    {
        UpkeepRow[] troubled = [.. tasks.Where(row => row.NeedsAttention)];
        UpkeepRow backup = tasks.First(row => row.Task == UpkeepTask.Backup);
        return troubled.Length > 0 ? troubled[0].Sentence
            : !backup.IsOn ? "No backups are made by the program: set backup_folder, or make sure that something else does."
            : "The installation keeps itself well.";
    }

    /// <summary>How a task stands.</summary>
    /// <param name="task">The task.</param>
    /// <param name="isOn">Whether it is asked for.</param>
    /// <param name="said">What was said when it was done last; null: never done.</param>
    /// <param name="isOverdue">Whether it should have been done by now.</param>
    public static string Of(UpkeepTask task, bool isOn, string? said, bool isOverdue) =>
        !isOn ? $"{Name(task)}: off."
        : isOverdue ? $"{Name(task)}: overdue. {said ?? "It was never done."}"
        : said is null ? $"{Name(task)}: not done yet."
        : $"{Name(task)}: {said}";
}
