using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Today;

/// <summary>Reads what only the page of today asks for.</summary>
/// <param name="database">The database.</param>
public sealed class TodayQueries(Database database)
{
    private const string RefusedRows = "SELECT r.source AS Source, count(*) AS Refused FROM refused r GROUP BY r.source";

    /// <summary>Rows refused at the door and not yet mended, by source.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<string, int>> RefusedRowsAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(string Source, int Rows)>(new CommandDefinition(RefusedRows, cancellationToken: cancellationToken)))
            .ToDictionary(row => row.Source, row => row.Rows);
    }
}
