using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Cleaning;

/// <summary>Reads from the projections what cleaning is computed from.</summary>
/// <param name="database">The database.</param>
public sealed class CleaningQueries(Database database)
{
    // A wash of which nobody knows the grade counts for nothing above a rinse.
    private const string UnknownGrade = "unknown";

    private const string Washes = """
        SELECT w.unit_id AS UnitId, w.started_ms AS StartedMs, w.ended_ms AS EndedMs, w.grade AS Grade, w.outcome AS Outcome,
               w.detergent_left AS DetergentLeft, w.attested AS Attested
        FROM wash_span w
        WHERE w.started_ms <= @UntilMs AND (@Units IS NULL OR w.unit_id IN (SELECT value FROM json_each(@Units)))
        """;

    private const string Faults = """
        SELECT f.unit_id AS UnitId, f.code AS Code, f.raised_ms AS RaisedMs, f.cleared_ms AS ClearedMs
        FROM fault_span f
        WHERE f.raised_ms <= @UntilMs AND (@Units IS NULL OR f.unit_id IN (SELECT value FROM json_each(@Units)))
        """;

    private const string SignsOfLife = """
        SELECT r.unit_id AS UnitId, r.at_ms AS AtMs
        FROM record r
        LEFT JOIN voided v ON v.source = r.source AND v.key = r.key
        WHERE r.type IN ('heartbeat', 'meter') AND r.at_ms <= @UntilMs AND v.key IS NULL
          AND (@Units IS NULL OR r.unit_id IN (SELECT value FROM json_each(@Units)))
        """;

    /// <summary>The records of units up to an instant.</summary>
    /// <param name="units">Which units.</param>
    /// <param name="all">Whether that is every unit of the registry, so that no list has to be compared.</param>
    /// <param name="until">Records after it are left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>One history a unit, by the unit's number, also for units without records.</returns>
    public async Task<IReadOnlyDictionary<int, UnitHistory>> HistoriesAsync(
        IReadOnlyCollection<UnitTerms> units, bool all, DateTimeOffset until, CancellationToken cancellationToken)
    {
        var asked = new
        {
            Units = all ? null : JsonSerializer.Serialize(units.Select(unit => unit.Unit.Id)),
            UntilMs = until.ToUnixTimeMilliseconds(),
        };
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        CommandDefinition Ask(string sql) => new(sql, asked, snapshot, cancellationToken: cancellationToken);
        ILookup<int, WashRow> washes = (await connection.QueryAsync<WashRow>(Ask(Washes))).ToLookup(row => row.UnitId);
        ILookup<int, FaultRow> faults = (await connection.QueryAsync<FaultRow>(Ask(Faults))).ToLookup(row => row.UnitId);
        ILookup<int, SignRow> signs = (await connection.QueryAsync<SignRow>(Ask(SignsOfLife))).ToLookup(row => row.UnitId);
        return units.ToDictionary(unit => unit.Unit.Id, unit => new UnitHistory(
            unit.Service,
            [.. washes[unit.Unit.Id].Select(row => row.ToWash())],
            [.. faults[unit.Unit.Id].Select(row => row.ToFault(unit.Unit.Model))],
            [.. signs[unit.Unit.Id].Select(row => Instant.FromUnixTimeMilliseconds(row.AtMs))],
            [],
            []));
    }

    private sealed class WashRow
    {
        public int UnitId { get; init; }

        public long StartedMs { get; init; }

        public long? EndedMs { get; init; }

        public required string Grade { get; init; }

        public required string Outcome { get; init; }

        public long? DetergentLeft { get; init; }

        public long Attested { get; init; }

        public Wash ToWash() => new(
            Instant.FromUnixTimeMilliseconds(StartedMs),
            EndedMs is { } ended ? Instant.FromUnixTimeMilliseconds(ended) : null,
            Grade == UnknownGrade ? ProgrammeGrade.Rinse : EnumText<ProgrammeGrade>.Parse(Grade),
            EnumText<WashOutcome>.Parse(Outcome),
            DetergentLeft is { } left ? left != 0 : null,
            Attested != 0 ? "attested" : null);
    }

    private sealed class FaultRow
    {
        public int UnitId { get; init; }

        public required string Code { get; init; }

        public long RaisedMs { get; init; }

        public long? ClearedMs { get; init; }

        public WashFault ToFault(ModelEntry model) => new(
            Code,
            Instant.FromUnixTimeMilliseconds(RaisedMs),
            ClearedMs is { } cleared ? Instant.FromUnixTimeMilliseconds(cleared) : null,
            model.Faults.TryGetValue(Code, out FaultResource? fault) && fault.LocksOutWashing);
    }

    private sealed class SignRow
    {
        public int UnitId { get; init; }

        public long AtMs { get; init; }
    }
}
