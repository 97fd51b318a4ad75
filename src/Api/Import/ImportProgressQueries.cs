using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Import;

/// <summary>Remembers how far the import command has come with a file, so that a killed one goes on where it stopped.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">The clock.</param>
public sealed class ImportProgressQueries(Database database, TimeProvider clock)
{
    private const string Find = "SELECT rows_done FROM import_progress WHERE digest = @digest";
    private const string Update = "UPDATE import_progress SET rows_done = @rows, touched_ms = @now WHERE digest = @digest";
    private const string Insert = "INSERT INTO import_progress (digest, rows_done, touched_ms) SELECT @digest, @rows, @now WHERE NOT EXISTS (SELECT 1 FROM import_progress WHERE digest = @digest)";
    private const string Delete = "DELETE FROM import_progress WHERE digest = @digest OR touched_ms < @old";

    private static readonly TimeSpan Keep = TimeSpan.FromDays(90);

    /// <summary>How many rows of a file are dealt with; 0: none.</summary>
    /// <param name="digest">Digest of the file and of how it is read.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<int> RowsAsync(string digest, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.ExecuteScalarAsync<int?>(new CommandDefinition(Find, new { digest }, cancellationToken: cancellationToken)) ?? 0;
    }

    /// <summary>Notes how many rows are dealt with.</summary>
    /// <param name="digest">Digest of the file and of how it is read.</param>
    /// <param name="rows">Rows.</param>
    public Task NoteAsync(string digest, int rows) => database.WriteAsync(
        async session =>
        {
            var values = new { digest, rows, now = clock.GetUtcNow() };
            if (await session.Connection.ExecuteAsync(session.Command(Update, values, CancellationToken.None)) == 0)
            {
                await session.Connection.ExecuteAsync(session.Command(Insert, values, CancellationToken.None));
            }
        },
        CancellationToken.None);

    /// <summary>Forgets a file that is through, and those that nobody went on with.</summary>
    /// <param name="digest">Digest of the file and of how it is read.</param>
    public Task ForgetAsync(string digest) => database.WriteAsync(
        session => session.Connection.ExecuteAsync(session.Command(Delete, new { digest, old = clock.GetUtcNow() - Keep }, CancellationToken.None)),
        CancellationToken.None);
}
