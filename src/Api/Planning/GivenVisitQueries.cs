using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Planning;

/// <summary>Statements on the visits that the calendar has given out.</summary>
internal static class GivenVisitQueries
{
    private const string OfSitesSql = """
        SELECT g.uid AS Uid, g.site_id AS SiteId, g.day AS Day, g.jobs AS Jobs, g.summary AS Summary, g.details AS Details,
               g.sequence AS Sequence, g.cancelled AS Cancelled, g.changed_ms AS ChangedMs
        FROM plan_given g JOIN json_each(@Sites) s ON s.value = g.site_id
        WHERE g.day >= @Since
        ORDER BY g.day, g.uid
        """;

    private const string PutSql = """
        INSERT OR REPLACE INTO plan_given (uid, site_id, day, jobs, summary, details, sequence, cancelled, changed_ms)
        VALUES (@Uid, @SiteId, @Day, @Jobs, @Summary, @Details, @Sequence, @Cancelled, @ChangedMs)
        """;

    /// <summary>What was given out for some sites, from a day on.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="sites">Numbers of the sites, as a JSON list.</param>
    /// <param name="since">First day, yyyy-MM-dd.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<IReadOnlyList<GivenVisitRow>> OfSitesAsync(
        WriteSession session, string sites, string since, CancellationToken cancellationToken) =>
        (await session.Connection.QueryAsync<GivenVisitRow>(session.Command(OfSitesSql, new { Sites = sites, Since = since }, cancellationToken))).AsList();

    /// <summary>Writes what is given out now.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="rows">The visits.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    public static Task PutAsync(WriteSession session, IReadOnlyList<GivenVisitRow> rows, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(PutSql, rows, cancellationToken));
}

/// <summary>A visit that the calendar has given out, as its table holds it.</summary>
internal sealed record GivenVisitRow
{
    public required string Uid { get; init; }

    public int SiteId { get; init; }

    /// <summary>yyyy-MM-dd.</summary>
    public required string Day { get; init; }

    /// <summary>What is done, as a JSON list of job keys.</summary>
    public required string Jobs { get; init; }

    public required string Summary { get; init; }

    public required string Details { get; init; }

    public int Sequence { get; init; }

    public bool Cancelled { get; init; }

    public long ChangedMs { get; init; }
}
