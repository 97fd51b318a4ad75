using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Planning;

/// <summary>Statements on decisions about planned jobs; they are added and never changed.</summary>
/// <param name="database">The database.</param>
internal sealed class PlanDecisionQueries(Database database)
{
    private const string Columns = """
        SELECT d.id AS Id, d.unit_id AS UnitId, d.position AS Position, d.ordinal AS Ordinal, d.decision AS Decision, d.day AS Day,
               d.reason AS Reason, d.by_name AS ByName, d.entered_by AS EnteredBy, d.at_ms AS At
        FROM plan_decision d
        """;

    private const string AllSql = Columns + " ORDER BY d.id";
    private const string LastIdSql = "SELECT coalesce(max(id), 0) FROM plan_decision";

    private static readonly Sql InForceSql = Sql.FirstRows(
        Columns + " WHERE d.unit_id = @UnitId AND lower(d.position) = lower(@Position) ORDER BY d.id DESC", "1");

    private const string AddSql = """
        INSERT INTO plan_decision (unit_id, position, ordinal, decision, day, reason, by_name, entered_by, at_ms)
        VALUES (@UnitId, @Position, @Ordinal, @Decision, @Day, @Reason, @ByName, @EnteredBy, @At);
        SELECT max(id) FROM plan_decision;
        """;

    /// <summary>Number of the last decision: while it stays, so do all.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<long> LastIdAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.ExecuteScalarAsync<long>(new CommandDefinition(LastIdSql, cancellationToken: cancellationToken));
    }

    /// <summary>All decisions, oldest first.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<StoredPlanDecision>> AllAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<StoredPlanDecision>(new CommandDefinition(AllSql, cancellationToken: cancellationToken))).AsList();
    }

    /// <summary>The last decision about a position of a unit; null: none.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="position">Code of the position.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static Task<StoredPlanDecision?> LastAsync(WriteSession session, int unitId, string position, CancellationToken cancellationToken) =>
        session.Connection.QuerySingleOrDefaultAsync<StoredPlanDecision>(
            session.Command(InForceSql, new { UnitId = unitId, Position = position }, cancellationToken));

    /// <summary>Adds a decision.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="decision">The decision, its number left 0.</param>
    /// <param name="cancellationToken">Stops the statement.</param>
    /// <returns>Its number.</returns>
    public static Task<long> AddAsync(WriteSession session, StoredPlanDecision decision, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<long>(session.Command(AddSql, decision, cancellationToken));
}

/// <summary>A decision about a planned job as its table holds it.</summary>
internal sealed class StoredPlanDecision
{
    public long Id { get; init; }

    public int UnitId { get; init; }

    public required string Position { get; init; }

    public int? Ordinal { get; init; }

    /// <summary>accepted, postponed, rejected or revoked.</summary>
    public required string Decision { get; init; }

    /// <summary>yyyy-MM-dd; null: none.</summary>
    public string? Day { get; init; }

    public string? Reason { get; init; }

    public required string ByName { get; init; }

    public required string EnteredBy { get; init; }

    public DateTimeOffset At { get; init; }
}
