using Microsoft.AspNetCore.Components;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Upkeep;

/// <summary>Words about how an installation is kept.</summary>
public static class UpkeepSentences
{
    private static UpkeepTexts Texts => UpkeepTexts.Now;

    /// <summary>A task in words.</summary>
    /// <param name="task">The task.</param>
    public static string Name(UpkeepTask task) => Texts.Tasks[task];

    /// <summary>The finding over all tasks.</summary>
    /// <param name="tasks">The tasks.</param>
    public static string Finding(IReadOnlyList<UpkeepRow> tasks) =>
        Troubled(tasks)?.Sentence
        ?? (tasks.First(row => row.Task == UpkeepTask.Backup).IsOn ? Texts.Well : Texts.NoBackups);

    /// <summary>How a task stands.</summary>
    /// <param name="task">The task.</param>
    /// <param name="isOn">Whether it is asked for.</param>
    /// <param name="said">What was said when it was done last; null: never done.</param>
    /// <param name="isOverdue">Whether it should have been done by now.</param>
    public static string Of(UpkeepTask task, bool isOn, string? said, bool isOverdue) =>
        Fill.In(Form(isOn, said, isOverdue), ("task", Name(task)), ("said", said ?? string.Empty));

    /// <summary>The first task that somebody has to look at.</summary>
    /// <param name="tasks">The tasks.</param>
    /// <returns>Null where all is well.</returns>
    internal static UpkeepRow? Troubled(IReadOnlyList<UpkeepRow> tasks) => tasks.FirstOrDefault(row => row.NeedsAttention);

    /// <summary>How a task stands, on a page: what the program noted is marked as English.</summary>
    /// <param name="row">The task.</param>
    internal static RenderFragment Standing(UpkeepRow row) => WithNote(Fill.In(Form(row.IsOn, row.Said, row.IsOverdue), ("task", Name(row.Task))), row.Said);

    /// <summary>How a task stands, beside its name.</summary>
    /// <param name="row">The task.</param>
    internal static RenderFragment StandingAlone(UpkeepRow row) => WithNote(
        (row.IsOn, row.Said, row.IsOverdue) switch
        {
            (false, _, _) => Texts.Alone.Off,
            (true, null, true) => Texts.Alone.OverdueNeverDone,
            (true, _, true) => Texts.Alone.Overdue,
            (true, null, false) => Texts.Alone.NotDoneYet,
            _ => Texts.Alone.Done,
        },
        row.Said);

    private static RenderFragment WithNote(string sentence, string? said) => Fill.With(
        sentence,
        ("said", builder =>
        {
            builder.OpenElement(0, "span");
            builder.AddAttribute(1, "lang", ReaderPreferences.English);
            builder.AddContent(2, said);
            builder.CloseElement();
        }
    ));

    private static string Form(bool isOn, string? said, bool isOverdue) => (isOn, said, isOverdue) switch
    {
        (false, _, _) => Texts.Off,
        (true, null, true) => Texts.OverdueNeverDone,
        (true, _, true) => Texts.Overdue,
        (true, null, false) => Texts.NotDoneYet,
        _ => Texts.Done,
    };
}
