using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>What a request was answered.</summary>
/// <param name="ContentHash">SHA-256 of the request.</param>
/// <param name="Status">HTTP status of the answer.</param>
/// <param name="Answer">Its body.</param>
internal sealed record KeptAnswer(byte[] ContentHash, long Status, byte[] Answer);

/// <summary>Statements over the answers that are kept by request key.</summary>
/// <param name="database">The database.</param>
public sealed class RequestKeyQueries(Database database)
{
    private const string FindSql = """
        SELECT content_hash AS ContentHash, status AS Status, answer AS Answer FROM request_key
        WHERE key_id = @keyId AND request_key = @text AND answered_ms >= @since
        """;

    // One that is too old to be found may still be there.
    private const string DropOldSql = "DELETE FROM request_key WHERE key_id = @keyId AND request_key = @text AND answered_ms < @since";

    private const string AddSql = """
        INSERT INTO request_key (key_id, request_key, content_hash, status, answer, answered_ms)
        SELECT k.id, @text, @contentHash, @status, @answer, @now FROM api_key k
        WHERE k.id = @keyId AND NOT EXISTS (SELECT 1 FROM request_key r WHERE r.key_id = @keyId AND r.request_key = @text)
        """;

    // A little at a time, so that no writer waits long.
    private const string ForgetSql = """
        DELETE FROM request_key
        WHERE answered_ms < @before AND answered_ms <= (SELECT min(r.answered_ms) + @slice FROM request_key r)
        """;

    private static readonly TimeSpan Slice = TimeSpan.FromMinutes(1);

    /// <summary>The answer that was given to a key.</summary>
    /// <param name="key">The key.</param>
    /// <param name="since">Older ones are not given any more.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<KeptAnswer?> FindAsync(RequestKey key, DateTimeOffset since, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleOrDefaultAsync<KeptAnswer>(
            new CommandDefinition(FindSql, new { keyId = key.KeyId, text = key.Text, since }, cancellationToken: cancellationToken));
    }

    /// <summary>Keeps an answer, in the transaction that takes in the last rows of its request.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="key">The key.</param>
    /// <param name="kept">The answer.</param>
    /// <param name="now">When it is given.</param>
    /// <param name="since">Older ones are not kept any more.</param>
    internal static async Task AddAsync(WriteSession session, RequestKey key, KeptAnswer kept, DateTimeOffset now, DateTimeOffset since)
    {
        await session.Connection.ExecuteAsync(session.Command(DropOldSql, new { keyId = key.KeyId, text = key.Text, since }, CancellationToken.None));
        await session.Connection.ExecuteAsync(session.Command(
            AddSql,
            new { keyId = key.KeyId, text = key.Text, contentHash = kept.ContentHash, status = kept.Status, answer = kept.Answer, now },
            CancellationToken.None));
    }

    /// <summary>Forgets the oldest answers that are not kept any more; to be called until it finds none.</summary>
    /// <param name="before">Those before this instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>How many were forgotten.</returns>
    public Task<int> ForgetAsync(DateTimeOffset before, CancellationToken cancellationToken) => database.WriteAsync(
        session => session.Connection.ExecuteAsync(
            session.Command(ForgetSql, new { before, slice = (long)Slice.TotalMilliseconds }, cancellationToken)),
        cancellationToken);
}
