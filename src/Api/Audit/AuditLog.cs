using System.Data.Common;
using System.Globalization;
using Washwear.Api.Storage;

namespace Washwear.Api.Audit;

/// <summary>Writes the audit. Requests to routes that are <see cref="AuditRules.Audited"/> are noted of themselves; this is for all else.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">Where an entry goes that the database does not take.</param>
public sealed class AuditLog(Database database, TimeProvider clock, ILogger<AuditLog> log)
{
    private const int ForgottenAtOnce = 500;

    /// <summary>Writes an entry in the transaction of the change that it tells of.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="entry">The entry, with its status.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public Task WriteAsync(WriteSession session, AuditEntry entry, CancellationToken cancellationToken) =>
        AuditQueries.AddAsync(session, entry with { At = clock.GetUtcNow() }, cancellationToken);

    /// <summary>Runs a command and notes it: in the transaction of its first change, with its outcome afterwards.</summary>
    /// <param name="action">A stable word such as record.import.</param>
    /// <param name="command">The command as it is typed, without its arguments.</param>
    /// <param name="work">The command; gives its exit code.</param>
    public async Task<int> CommandAsync(string action, string command, Func<Task<int>> work)
    {
        AuditNote note = Begin(new AuditEntry(AuditCaller.Command, action) { Route = command });
        try
        {
            int code = await work();
            await EndAsync(note, code);
            return code;
        }
        catch (Exception)
        {
            await EndAsync(note, 1);
            throw;
        }
        finally
        {
            WriteCompanion.Current = null;
        }
    }

    /// <summary>Deletes entries that are older than an instant, a batch at a time, and notes that.</summary>
    /// <param name="before">The instant.</param>
    /// <param name="cancellationToken">Stops between batches.</param>
    /// <returns>How many were deleted.</returns>
    public async Task<int> ForgetAsync(DateTimeOffset before, CancellationToken cancellationToken)
    {
        await database.WriteAsync(session => AuditQueries.MoveMarkAsync(session, before), cancellationToken);
        int all = 0;
        int batch;
        do
        {
            batch = await database.WriteAsync(session => ForgetAsync(session, before), cancellationToken);
            all += batch;
        }
        while (batch == ForgottenAtOnce);
        return all;
    }

    // Each batch is noted with it, so that none goes without a word.
    private async Task<int> ForgetAsync(WriteSession session, DateTimeOffset before)
    {
        int forgotten = await AuditQueries.ForgetAsync(session, before, ForgottenAtOnce);
        if (forgotten > 0)
        {
            string detail = string.Create(CultureInfo.InvariantCulture, $"{forgotten} entries older than {before:yyyy-MM-dd'T'HH:mm:ss'Z'}");
            await WriteAsync(session, new AuditEntry(AuditCaller.System, "audit.forget") { Detail = detail, Status = 0 }, CancellationToken.None);
        }

        return forgotten;
    }

    /// <summary>Begins to note what the current flow of work does.</summary>
    /// <param name="entry">What is known.</param>
    internal AuditNote Begin(AuditEntry entry)
    {
        var note = new AuditNote(clock, entry);
        WriteCompanion.Current = note;
        return note;
    }

    /// <summary>Notes the outcome, and the whole entry if it was not written with a change. What the database does not take goes to the
    /// log, so that it is not lost without a word.</summary>
    /// <param name="note">The note.</param>
    /// <param name="status">HTTP status or exit code.</param>
    internal async Task EndAsync(AuditNote note, int status)
    {
        if (!note.TryEnd())
        {
            return;
        }

        bool isOwn = note.TryTake();
        note.Settle();
        AuditEntry entry = note.Entry with { At = clock.GetUtcNow(), Status = status };
        try
        {
            await database.WriteAsync(
                session => !isOwn
                    ? AuditQueries.AddOutcomeAsync(session, note.EntryId, status, note.LaterDetail)
                    : AuditQueries.AddAsync(session, entry, CancellationToken.None),
                CancellationToken.None);
        }
        catch (Exception error) when (error is DbException or DatabaseBusyException or IOException)
        {
            log.LogError(
                error, "An entry of the audit could not be written: {At} {Caller} {Action} {Method} {Route} {About} {Address} {Trace} status {Status}",
                entry.At, entry.Caller, entry.Action, entry.Method, entry.Route, entry.About, entry.Address, entry.Trace, status);
        }
    }
}
