using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Search;

/// <summary>Reads what search finds outside of the registry.</summary>
/// <param name="database">The database.</param>
public sealed class SearchQueries(Database database)
{
    // As typed, in capitals and in small letters: keys are told apart by case, so that an index can find their beginnings.
    private const string BeginsSo = """
        r.type = 'visit' AND ((r."key" >= @typed AND r."key" < @typedEnd) OR (r."key" >= @upper AND r."key" < @upperEnd)
            OR (r."key" >= @lower AND r."key" < @lowerEnd))
        """;

    private const string CountVisits = "SELECT count(*) FROM record r WHERE " + BeginsSo;

    private static readonly Sql Visits = Sql.FirstRows(
        """
        SELECT r."key" AS "Key", r.source AS Source, r.unit_id AS UnitId, coalesce(v.arrived_ms, r.at_ms) AS At, v.outcome AS Outcome,
               CASE WHEN o."key" IS NULL THEN 0 ELSE 1 END AS IsVoided
        FROM record r
        JOIN visit v ON v.seq = r.seq
        LEFT JOIN voided o ON o.source = r.source AND o."key" = r."key"
        WHERE
        """ + " " + BeginsSo + " ORDER BY r.\"key\", r.seq",
        "@limit");

    private const string Raised =
        "SELECT f.code AS Code, count(DISTINCT f.unit_id) AS Units FROM fault_span f WHERE f.cleared_ms IS NULL GROUP BY f.code";

    /// <summary>Visits whose key begins so, and how many there are.</summary>
    /// <param name="prefix">How the key begins, as typed.</param>
    /// <param name="limit">Most visits.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<(int Total, IReadOnlyList<FoundVisit> Visits)> VisitsAsync(string prefix, int limit, CancellationToken cancellationToken)
    {
        string upper = prefix.ToUpperInvariant();
        string lower = prefix.ToLowerInvariant();
        var range = new { typed = prefix, typedEnd = End(prefix), upper, upperEnd = End(upper), lower, lowerEnd = End(lower), limit };
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        int total = await connection.ExecuteScalarAsync<int>(new CommandDefinition(CountVisits, range, cancellationToken: cancellationToken));
        return total == 0
            ? (0, [])
            : (total, [.. await connection.QueryAsync<FoundVisit>(new CommandDefinition(Visits.For(connection), range, cancellationToken: cancellationToken))]);
    }

    /// <summary>At how many units each fault code is raised and not cleared.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<string, int>> RaisedAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(string Code, int Units)>(new CommandDefinition(Raised, cancellationToken: cancellationToken)))
            .GroupBy(row => row.Code, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(code => code.Key, code => code.Sum(row => row.Units), StringComparer.OrdinalIgnoreCase);
    }

    // Above every key that begins so: the last character of the basic plane.
    private static string End(string prefix) => prefix + '\uffff';
}

/// <summary>A visit found.</summary>
internal sealed class FoundVisit
{
    public required string Key { get; init; }

    public required string Source { get; init; }

    public required int UnitId { get; init; }

    public required DateTimeOffset At { get; init; }

    public string? Outcome { get; init; }

    public bool IsVoided { get; init; }
}
