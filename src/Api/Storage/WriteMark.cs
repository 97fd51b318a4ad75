using Dapper;

namespace Washwear.Api.Storage;

/// <summary>A row that a transaction writes of itself. Where the connection is lost while it commits, nobody was told whether it did: the
/// row is there, or it is not.</summary>
internal sealed record WriteMark
{
    private const string Insert = "INSERT INTO write_mark (at_ms, mark) VALUES (@at, @mark)";
    private const string Find = "SELECT count(*) FROM write_mark WHERE at_ms = @at AND mark = @mark";
    private const string Prune = "DELETE FROM write_mark WHERE at_ms < @before";

    private static readonly long KeptMs = (long)TimeSpan.FromDays(1).TotalMilliseconds;

    private readonly long _at = TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds();
    private readonly string _mark = Guid.NewGuid().ToString("N");

    /// <summary>Writes it; the last thing before the commit.</summary>
    /// <param name="session">The transaction.</param>
    public async Task WriteAsync(WriteSession session)
    {
        await session.Connection.ExecuteAsync(session.Command(Prune, new { before = _at - KeptMs }, CancellationToken.None));
        await session.Connection.ExecuteAsync(session.Command(Insert, new { at = _at, mark = _mark }, CancellationToken.None));
    }

    /// <summary>Whether it is there.</summary>
    /// <param name="session">A later transaction: the lost one has let go of the turn to write, so its fate is sealed.</param>
    public async Task<bool> IsThereAsync(WriteSession session) =>
        await session.Connection.ExecuteScalarAsync<long>(session.Command(Find, new { at = _at, mark = _mark }, CancellationToken.None)) > 0;
}
