using Washwear.Api.Storage;
using Washwear.Api.Webhooks;
using Washwear.Dashboard.Upkeep;

namespace Washwear.Api.Upkeep;

/// <summary>Does a task and sees to it that nobody has to look whether it went well: it is noted, logged, and told to whom it concerns when it fails
/// and when it goes well again.</summary>
/// <param name="database">The database.</param>
/// <param name="reports">How tasks stand.</param>
/// <param name="backups">Where backups and drills are noted for those who ask often.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class UpkeepRuns(Database database, UpkeepReports reports, BackupState backups, TimeProvider clock, ILogger<UpkeepRuns> log)
{
    /// <summary>Does a task; what goes wrong with it is noted, not thrown.</summary>
    /// <param name="task">The task.</param>
    /// <param name="work">Does it; says whether it went well, and what was done or is wrong.</param>
    /// <param name="cancellationToken">Stops it; nothing is noted then.</param>
    /// <returns>Whether it went well.</returns>
    public async Task<bool> RunAsync(UpkeepTask task, Func<CancellationToken, Task<(bool Well, string Sentence)>> work, CancellationToken cancellationToken)
    {
        DateTimeOffset begun = clock.GetUtcNow();
        (bool well, string sentence) = await TryAsync(work, cancellationToken);
        var run = new UpkeepRun { Task = UpkeepReports.NameOf(task), BegunAt = begun, EndedAt = clock.GetUtcNow(), Succeeded = well, Sentence = sentence };
        Log(run);
        await NoteAsync(task, run, cancellationToken);
        return well;
    }

    /// <summary>Reads how tasks stand, for those who ask often.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<UpkeepReport> RefreshAsync(CancellationToken cancellationToken)
    {
        UpkeepReport report = await reports.AssembleAsync(clock.GetUtcNow(), cancellationToken);
        foreach (UpkeepRow row in report.Tasks)
        {
            backups.Note(row);
        }

        return report;
    }

    private static async Task<(bool Well, string Sentence)> TryAsync(
        Func<CancellationToken, Task<(bool Well, string Sentence)>> work, CancellationToken cancellationToken)
    {
        try
        {
            return await work(cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            return (false, error is System.Data.Common.DbException fault ? DatabaseFault.InWords(fault) : error.Message);
        }
    }

    // A database that cannot be written now is told in the log, and by the next run that can.
    private async Task NoteAsync(UpkeepTask task, UpkeepRun run, CancellationToken cancellationToken)
    {
        string sentence = UpkeepSentences.Of(task, true, run.Sentence, false);
        var row = new UpkeepRow(task, true, run.EndedAt, run.Succeeded, run.Succeeded ? run.EndedAt : null, !run.Succeeded, sentence);
        backups.Note(row);
        try
        {
            UpkeepRow before = (await reports.AssembleAsync(run.EndedAt, cancellationToken)).Tasks[(int)task];
            row = row with { LastSucceededAt = row.LastSucceededAt ?? before.LastSucceededAt };
            await database.WriteAsync(session => WriteAsync(session, run, row, before, cancellationToken), cancellationToken);
            await RefreshAsync(cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogNotNoted(run.Task, error);
        }
    }

    // Told when it begins to fail and when it goes well again, not each night in between.
    private static async Task WriteAsync(WriteSession session, UpkeepRun run, UpkeepRow row, UpkeepRow before, CancellationToken cancellationToken)
    {
        await UpkeepRunQueries.AddAsync(session, run, cancellationToken);
        if (run.Succeeded == (before.LastSucceeded == false))
        {
            await WebhookMessages.WriteAsync(session, row, run.EndedAt, cancellationToken);
        }
    }

    private void Log(UpkeepRun run)
    {
        if (run.Succeeded)
        {
            LogDone(run.Task, run.Sentence);
        }
        else
        {
            LogFailed(run.Task, run.Sentence);
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Upkeep, {Task}: {Sentence}")]
    private partial void LogDone(string task, string sentence);

    [LoggerMessage(Level = LogLevel.Error, Message = "Upkeep, {Task}, failed: {Sentence}")]
    private partial void LogFailed(string task, string sentence);

    [LoggerMessage(Level = LogLevel.Error, Message = "Upkeep, {Task}: how it went could not be noted.")]
    private partial void LogNotNoted(string task, Exception error);
}
