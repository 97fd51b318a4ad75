using Dapper;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Of which kind the projections are that this program derives, and of which those in a database.</summary>
internal static class ProjectionKind
{
    /// <summary>The kind that this program derives. Raise it with every change after which the same ledger gives other rows: a test tells.</summary>
    public const long Current = 3;

    private const string Find = "SELECT kind FROM projection_kind WHERE id = 1";
    private const string Change = "UPDATE projection_kind SET kind = @kind";
    private const string Add = "INSERT INTO projection_kind (kind) VALUES (@kind)";
    private const string HasRecords = "SELECT CASE WHEN EXISTS (SELECT 1 FROM record r) THEN 1 ELSE 0 END";

    /// <summary>Derives everything anew if it is of another kind, or of none because the database is older than kinds.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    /// <returns>How many units were derived anew; null: nothing had to be.</returns>
    public static async Task<int?> EnsureAsync(WriteSession session, RegistrySnapshot registry)
    {
        long? found = await session.Connection.ExecuteScalarAsync<long?>(session.Command(Find, null, CancellationToken.None));
        if (found == Current)
        {
            return null;
        }

        bool hasRecords = await session.Connection.ExecuteScalarAsync<long>(session.Command(HasRecords, null, CancellationToken.None)) == 1;
        int? units = hasRecords ? Projector.Rebuild(session, registry) : null;
        await NoteAsync(session);
        return units;
    }

    /// <summary>Notes that everything has been derived by this program.</summary>
    /// <param name="session">The transaction that derived it.</param>
    public static async Task NoteAsync(WriteSession session)
    {
        var values = new { kind = Current };
        if (await session.Connection.ExecuteAsync(session.Command(Change, values, CancellationToken.None)) == 0)
        {
            await session.Connection.ExecuteAsync(session.Command(Add, values, CancellationToken.None));
        }
    }
}
