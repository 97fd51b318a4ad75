using System.Data.Common;
using Dapper;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Projections;
using Washwear.Api.Storage;

namespace Washwear.Api.Cleaning;

/// <summary>Reads the charts of early signs.</summary>
/// <param name="database">The database.</param>
public sealed class EarlySignQueries(Database database)
{
    private const string Charted = "SELECT unit_id FROM early_sign WHERE charted <> 0";
    private const string Called = "SELECT unit_id AS UnitId, state AS State FROM early_sign WHERE called <> 0";
    private const string One = "SELECT e.state FROM early_sign e JOIN unit u ON u.id = e.unit_id WHERE u.code = @unit";

    /// <summary>Which units have history enough for any chart, and the charts of those under a standing sign.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<(IReadOnlySet<int> Charted, IReadOnlyDictionary<int, UnitSigns> Called)> StandingAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        var charted = new HashSet<int>();
        await using (DbDataReader units = await connection.ExecuteReaderAsync(
            new CommandDefinition(Charted, transaction: snapshot, cancellationToken: cancellationToken)))
        {
            // Tens of thousands of rows: read one by one, without a mapper.
            while (units.Read())
            {
                charted.Add((int)units.GetInt64(0));
            }
        }

        IEnumerable<(int UnitId, string State)> called = await connection.QueryAsync<(int, string)>(
            new CommandDefinition(Called, transaction: snapshot, cancellationToken: cancellationToken));
        return (
            charted,
            called.ToDictionary(row => row.UnitId, row => SignState.Read(row.State)));
    }

    /// <summary>Washes and restarts of a unit, in their order.</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<SignEvent>> EventsAsync(int unitId, CancellationToken cancellationToken)
    {
        var asked = new { unit_id = unitId, after = long.MinValue };
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        var events = new List<SignEvent>();
        await using (DbDataReader washes = await connection.ExecuteReaderAsync(
            new CommandDefinition(SignHistory.SelectWashes, asked, snapshot, cancellationToken: cancellationToken)))
        {
            SignHistory.ReadWashes(washes, events);
        }

        await using (DbDataReader mended = await connection.ExecuteReaderAsync(
            new CommandDefinition(SignHistory.SelectMended, asked, snapshot, cancellationToken: cancellationToken)))
        {
            SignHistory.ReadMended(mended, events);
        }

        events.Sort(SignEvents.Order);
        return events;
    }

    /// <summary>How a unit's last sign ended.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="unit">Asset tag as registered.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>Null: not known, or one stands.</returns>
    internal static async Task<SignEnd?> EndedAsync(WriteSession session, string unit, CancellationToken cancellationToken) =>
        await session.Connection.ExecuteScalarAsync<string>(session.Command(One, new { unit }, cancellationToken)) is { } state
            ? EarlySigns.Of(SignState.Read(state)).Where(sign => sign is { EndedAt: not null, IsCalled: false }).MaxBy(sign => sign.EndedAt)?.Ended
            : null;
}
