using System.Data.Common;
using Dapper;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Planning;

/// <summary>Statements on the forecasts of quarters that are kept.</summary>
/// <param name="database">The database.</param>
internal sealed class KeptForecastQueries(Database database)
{
    private const string KeptSql =
        "SELECT f.quarter AS Quarter, f.made_ms AS MadeAt, f.made_afterwards AS MadeAfterwards FROM plan_forecast f ORDER BY f.quarter DESC";

    private const string AddSql = """
        INSERT INTO plan_forecast (quarter, made_ms, made_afterwards)
        SELECT @Quarter, @MadeAt, @MadeAfterwards WHERE NOT EXISTS (SELECT 1 FROM plan_forecast f WHERE f.quarter = @Quarter)
        """;

    private const string AddPartSql = """
        INSERT INTO plan_forecast_part (quarter, unit_id, position, ordinal, part_number, chance)
        VALUES (@quarter, @unit_id, @position, @ordinal, @part_number, @chance)
        """;

    // A part that is no longer on record, because its change was voided, says nothing.
    private const string PartsSql = """
        SELECT p.quarter AS Quarter, p.part_number AS PartNumber, p.chance AS Chance, l.ended_ms AS EndedMs, l.ended_how AS EndedHow
        FROM plan_forecast_part p
        JOIN part_life l ON l.unit_id = p.unit_id AND l.position = p.position AND l.ordinal = p.ordinal
        ORDER BY p.quarter DESC, p.part_number, p.unit_id, p.position
        """;

    /// <summary>The forecasts kept, newest first.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<KeptQuarter>> KeptAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<KeptQuarter>(new CommandDefinition(KeptSql, cancellationToken: cancellationToken))).AsList();
    }

    /// <summary>What each kept forecast said of each part, and what became of the part.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<KeptPart>> PartsAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<KeptPart>(new CommandDefinition(PartsSql, cancellationToken: cancellationToken))).AsList();
    }

    /// <summary>Keeps a forecast, unless the quarter has one.</summary>
    /// <param name="quarter">The quarter.</param>
    /// <param name="parts">What it says of each part.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task AddAsync(KeptQuarter quarter, IReadOnlyList<ForecastPart> parts, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            if (await session.Connection.ExecuteAsync(session.Command(AddSql, quarter, cancellationToken)) == 0)
            {
                return;
            }

            using var rows = Appender.Of(
                session, "plan_forecast_part", AddPartSql, "quarter", "unit_id", "position", "ordinal", "part_number", "chance");
            foreach (ForecastPart part in parts)
            {
                rows.Add(quarter.Quarter, part.UnitId, part.Position, part.Ordinal, part.PartNumber, part.Chance);
            }

            rows.Flush();
        },
        cancellationToken);
}

/// <summary>A forecast that was kept.</summary>
internal sealed class KeptQuarter
{
    public required string Quarter { get; init; }

    public DateTimeOffset MadeAt { get; init; }

    public bool MadeAfterwards { get; init; }
}

/// <summary>What a forecast says of a part.</summary>
/// <param name="UnitId">The unit's number.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="Ordinal">1 for the first part known at the position.</param>
/// <param name="PartNumber">To be ordered for it; null: not known.</param>
/// <param name="Chance">To fail before the quarter ends.</param>
internal readonly record struct ForecastPart(int UnitId, string Position, int Ordinal, string? PartNumber, double Chance);

/// <summary>What a kept forecast said of a part, and what became of it.</summary>
internal sealed class KeptPart
{
    public required string Quarter { get; init; }

    public string? PartNumber { get; init; }

    public double Chance { get; init; }

    /// <summary>When it ended, ms UTC; null: it is still fitted.</summary>
    public long? EndedMs { get; init; }

    public string? EndedHow { get; init; }

    /// <summary>Whether it failed before an instant.</summary>
    /// <param name="end">The instant.</param>
    public bool FailedBefore(DateTimeOffset end) => EndedHow is "failed" or "found_failed" && EndedMs < end.ToUnixTimeMilliseconds();

    /// <summary>Whether it was taken out working before an instant, so that nobody knows what it would have done.</summary>
    /// <param name="end">The instant.</param>
    public bool TakenOutBefore(DateTimeOffset end) => EndedMs < end.ToUnixTimeMilliseconds() && !FailedBefore(end);
}
