using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Messages;

/// <summary>What the ledger knows of a message that comes again.</summary>
internal static class MessageQueries
{
    private const string InstantOfKey = "SELECT at_ms FROM record WHERE source = @Source AND \"key\" = @Key";

    /// <summary>When the record under a source and key happened; null: there is none.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public static async Task<DateTimeOffset?> InstantAsync(WriteSession session, string source, string key)
    {
        long? ms = await session.Connection.QuerySingleOrDefaultAsync<long?>(session.Command(InstantOfKey, new { Source = source, Key = key }, CancellationToken.None));
        return ms is { } found ? DateTimeOffset.FromUnixTimeMilliseconds(found) : null;
    }
}
