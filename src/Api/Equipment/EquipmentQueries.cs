using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Equipment;

/// <summary>A change that is on record: from this instant on the thing is active, or is not.</summary>
/// <param name="AtMs">When.</param>
/// <param name="Active">1: active, 0: not.</param>
/// <param name="RecordKey">Key of the record that tells of the run that begins here; null: none does.</param>
internal sealed record KnownChange(long AtMs, long Active, string? RecordKey);

/// <summary>When the records of a unit told last that it is there.</summary>
/// <param name="HeartbeatMs">By a heartbeat; null: never.</param>
/// <param name="MeterMs">By a meter reading; null: never.</param>
internal sealed record LastHeard(long? HeartbeatMs, long? MeterMs);

/// <summary>What is known of devices between their messages, read and written in the transaction that takes a message in.</summary>
/// <param name="session">The transaction.</param>
internal sealed class EquipmentQueries(WriteSession session)
{
    private static readonly Sql Before = Sql.FirstRows(
        """
        SELECT at_ms AS AtMs, active AS Active, record_key AS RecordKey FROM equipment_change
        WHERE unit_id = @UnitId AND channel = @Channel AND at_ms <= @AtMs
        ORDER BY at_ms DESC
        """,
        "1");

    private static readonly Sql After = Sql.FirstRows(
        """
        SELECT at_ms AS AtMs, active AS Active, record_key AS RecordKey FROM equipment_change
        WHERE unit_id = @UnitId AND channel = @Channel AND at_ms > @AtMs
        ORDER BY at_ms
        """,
        "1");

    private const string LatestMs = "SELECT max(at_ms) FROM equipment_change WHERE unit_id = @UnitId AND channel = @Channel";

    private const string Insert = """
        INSERT INTO equipment_change (unit_id, channel, at_ms, active, record_key) VALUES (@UnitId, @Channel, @AtMs, @Active, @RecordKey)
        """;

    private const string Delete = "DELETE FROM equipment_change WHERE unit_id = @UnitId AND channel = @Channel AND at_ms = @AtMs";
    private const string DeleteOld = "DELETE FROM equipment_change WHERE unit_id = @UnitId AND channel = @Channel AND at_ms < @AtMs";

    private const string SetKey = """
        UPDATE equipment_change SET record_key = @RecordKey WHERE unit_id = @UnitId AND channel = @Channel AND at_ms = @AtMs
        """;

    private const string Heard = "SELECT heartbeat_ms AS HeartbeatMs, meter_ms AS MeterMs FROM equipment_heard WHERE unit_id = @UnitId";
    private const string UpdateHeard = "UPDATE equipment_heard SET heartbeat_ms = @HeartbeatMs, meter_ms = @MeterMs WHERE unit_id = @UnitId";
    private const string InsertHeard = "INSERT INTO equipment_heard (unit_id, heartbeat_ms, meter_ms) VALUES (@UnitId, @HeartbeatMs, @MeterMs)";

    /// <summary>The last change at or before an instant.</summary>
    public Task<KnownChange?> BeforeAsync(int unitId, string channel, long atMs) =>
        session.Connection.QuerySingleOrDefaultAsync<KnownChange>(Command(Before, new { UnitId = unitId, Channel = channel, AtMs = atMs }));

    /// <summary>The first change after an instant.</summary>
    public Task<KnownChange?> AfterAsync(int unitId, string channel, long atMs) =>
        session.Connection.QuerySingleOrDefaultAsync<KnownChange>(Command(After, new { UnitId = unitId, Channel = channel, AtMs = atMs }));

    /// <summary>The instant of the latest change; null: there is none.</summary>
    public Task<long?> LatestMsAsync(int unitId, string channel) =>
        session.Connection.ExecuteScalarAsync<long?>(Command(LatestMs, new { UnitId = unitId, Channel = channel }));

    /// <summary>Adds a change.</summary>
    public Task AddAsync(int unitId, string channel, KnownChange change) => session.Connection.ExecuteAsync(
        Command(Insert, new { UnitId = unitId, Channel = channel, change.AtMs, change.Active, change.RecordKey }));

    /// <summary>Takes a change out.</summary>
    public Task RemoveAsync(int unitId, string channel, long atMs) =>
        session.Connection.ExecuteAsync(Command(Delete, new { UnitId = unitId, Channel = channel, AtMs = atMs }));

    /// <summary>Takes out what is older than an instant.</summary>
    public Task ForgetAsync(int unitId, string channel, long beforeMs) =>
        session.Connection.ExecuteAsync(Command(DeleteOld, new { UnitId = unitId, Channel = channel, AtMs = beforeMs }));

    /// <summary>Notes which record tells of the run that begins with a change.</summary>
    public Task SetKeyAsync(int unitId, string channel, long atMs, string recordKey) =>
        session.Connection.ExecuteAsync(Command(SetKey, new { UnitId = unitId, Channel = channel, AtMs = atMs, RecordKey = recordKey }));

    /// <summary>When the unit was told of last; null: never.</summary>
    public Task<LastHeard?> HeardAsync(int unitId) =>
        session.Connection.QuerySingleOrDefaultAsync<LastHeard>(Command(Heard, new { UnitId = unitId }));

    /// <summary>Notes when the unit was told of.</summary>
    public async Task SetHeardAsync(int unitId, LastHeard heard)
    {
        var values = new { UnitId = unitId, heard.HeartbeatMs, heard.MeterMs };
        if (await session.Connection.ExecuteAsync(Command(UpdateHeard, values)) == 0)
        {
            await session.Connection.ExecuteAsync(Command(InsertHeard, values));
        }
    }

    private CommandDefinition Command(Sql sql, object values) => session.Command(sql, values, CancellationToken.None);
}
