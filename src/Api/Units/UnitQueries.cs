using System.Data.Common;
using System.Globalization;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Reads what the pages of units ask for.</summary>
/// <param name="database">The database.</param>
public sealed class UnitQueries(Database database)
{
    private const string LastHeard = "SELECT s.unit_id AS UnitId, s.last_heard_ms AS Ms FROM unit_status s WHERE s.last_heard_ms IS NOT NULL";

    /// <summary>When each unit was last heard, by the unit's number.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<int, DateTimeOffset>> LastHeardAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(int UnitId, long Ms)>(new CommandDefinition(LastHeard, cancellationToken: cancellationToken)))
            .ToDictionary(row => row.UnitId, row => DateTimeOffset.FromUnixTimeMilliseconds(row.Ms));
    }
}
