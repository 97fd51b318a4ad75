using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Planning;

/// <summary>Statements on the visits that the calendar has given out.</summary>
internal static class GivenVisitQueries
{
    private const string Columns = """
        SELECT g.uid AS Uid, g.scope AS Scope, g.site_id AS SiteId, g.day AS Day, g.jobs AS Jobs, g.summary AS Summary, g.details AS Details,
               g.sequence AS Sequence, g.cancelled AS Cancelled, g.changed_ms AS ChangedMs
        FROM plan_given g
        """;

    private const string FromDay = " WHERE g.scope = @Scope AND g.day >= @Since ORDER BY g.day, g.uid";

    private static readonly Sql OfSitesSql = new(
        Sqlite: Columns + " JOIN json_each(@Sites) s ON s.value = g.site_id" + FromDay,
        SqlServer: Columns + " JOIN OPENJSON(@Sites) s ON CAST(s.value AS bigint) = g.site_id" + FromDay);

    private const string PutSql = """
        UPDATE plan_given SET site_id = @SiteId, day = @Day, jobs = @Jobs, summary = @Summary, details = @Details, sequence = @Sequence,
            cancelled = @Cancelled, changed_ms = @ChangedMs
        WHERE uid = @Uid;
        INSERT INTO plan_given (uid, scope, site_id, day, jobs, summary, details, sequence, cancelled, changed_ms)
        SELECT @Uid, @Scope, @SiteId, @Day, @Jobs, @Summary, @Details, @Sequence, @Cancelled, @ChangedMs
        WHERE NOT EXISTS (SELECT 1 FROM plan_given g WHERE g.uid = @Uid);
        """;

    /// <summary>What was given out for some sites, from a day on.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="scope">To whom: who sees a part of the fleet has another plan.</param>
    /// <param name="sites">Numbers of the sites, as a JSON list.</param>
    /// <param name="since">First day, yyyy-MM-dd.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<IReadOnlyList<GivenVisitRow>> OfSitesAsync(
        WriteSession session, string scope, string sites, string since, CancellationToken cancellationToken) =>
        (await session.Connection.QueryAsync<GivenVisitRow>(session.Command(OfSitesSql, new { Scope = scope, Sites = sites, Since = since }, cancellationToken))).AsList();

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

    /// <summary>Whose plan it was given out of; empty: the whole fleet's.</summary>
    public string Scope { get; init; } = string.Empty;

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
