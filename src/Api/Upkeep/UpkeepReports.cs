using Washwear.Api.Http;
using Washwear.Dashboard.Upkeep;

namespace Washwear.Api.Upkeep;

/// <summary>Assembles how the installation is kept.</summary>
/// <param name="queries">What was done.</param>
/// <param name="backups">Whether backups are asked for.</param>
/// <param name="settings">What else is asked for.</param>
internal sealed class UpkeepReports(UpkeepRunQueries queries, BackupState backups, Settings settings)
{
    /// <summary>How long after one drill the next must have been tried.</summary>
    private static readonly TimeSpan MostBetweenDrills = TimeSpan.FromDays(35);

    /// <summary>Assembles it.</summary>
    /// <param name="now">The present.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<UpkeepReport> AssembleAsync(DateTimeOffset now, CancellationToken cancellationToken)
    {
        (IReadOnlyList<UpkeepRun> last, IReadOnlyList<UpkeepRun> lastWell) = await queries.LastAsync(cancellationToken);
        UpkeepRow[] rows =
        [
            .. Enum.GetValues<UpkeepTask>().Select(task => RowOf(
                task,
                last.FirstOrDefault(run => run.Task == NameOf(task)),
                lastWell.FirstOrDefault(run => run.Task == NameOf(task))?.EndedAt,
                now)),
        ];
        return new UpkeepReport(now, UpkeepSentences.Finding(rows), rows);
    }

    /// <summary>Name of a task, as its table has it.</summary>
    /// <param name="task">The task.</param>
    public static string NameOf(UpkeepTask task) => Json.Name(task.ToString());

    private UpkeepRow RowOf(UpkeepTask task, UpkeepRun? last, DateTimeOffset? lastWell, DateTimeOffset now)
    {
        bool isOn = task switch
        {
            UpkeepTask.Backup => backups.IsOn,
            UpkeepTask.RestoreDrill => backups.IsOn && settings.RestoreDrill,
            _ => true,
        };
        TimeSpan? most = task switch
        {
            UpkeepTask.Backup => BackupState.MostBetween,
            UpkeepTask.RestoreDrill => MostBetweenDrills,
            _ => null,
        };
        bool isOverdue = isOn && lastWell is { } well && now - well > most;
        return new UpkeepRow(
            task, isOn, last?.EndedAt, last?.Succeeded, lastWell, isOn && (isOverdue || last is { Succeeded: false }),
            UpkeepSentences.Of(task, isOn, last?.Sentence, isOverdue))
        {
            Said = last?.Sentence,
            IsOverdue = isOverdue,
        };
    }
}
