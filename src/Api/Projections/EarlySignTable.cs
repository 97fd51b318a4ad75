using System.Data.Common;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>
/// Keeps early_sign. What arrives in the order of time is folded into the running state, read and written once a unit and transaction,
/// whatever is there already. What comes late or is voided is folded in again from an earlier state that is kept beside it; only where it
/// lies before that, the unit is derived from all its records.
/// </summary>
/// <param name="session">The transaction.</param>
internal sealed class EarlySignTable(WriteSession session) : IDisposable
{
    private const string SelectRow = "SELECT state, earlier, events_between FROM early_sign WHERE unit_id = @unit_id";

    private static readonly Sql Merge = new(
        Sqlite: """
            INSERT INTO early_sign (unit_id, charted, called, state, earlier, events_between)
            VALUES (@unit_id, @charted, @called, @state, @earlier, @events_between)
            ON CONFLICT (unit_id) DO UPDATE SET
                charted = excluded.charted, called = excluded.called, state = excluded.state, earlier = excluded.earlier,
                events_between = excluded.events_between
            """,
        SqlServer: """
            UPDATE early_sign SET charted = @charted, called = @called, state = @state, earlier = @earlier, events_between = @events_between
            WHERE unit_id = @unit_id;
            INSERT INTO early_sign (unit_id, charted, called, state, earlier, events_between)
            SELECT @unit_id, @charted, @called, @state, @earlier, @events_between
            WHERE NOT EXISTS (SELECT 1 FROM early_sign e WHERE e.unit_id = @unit_id)
            """);

    private const string DeleteUnit = "DELETE FROM early_sign WHERE unit_id = @unit_id";

    // Every unit that ran a wash has a row, but for one of a database from before there were early signs.
    private const string SelectMissing = """
        SELECT s.unit_id FROM unit_status s
        WHERE s.washes_run > 0 AND NOT EXISTS (SELECT 1 FROM early_sign e WHERE e.unit_id = s.unit_id)
        """;

    private readonly Dictionary<int, SignChanges> _changes = [];
    private readonly Statement _select = new(session, SelectRow, "unit_id");
    private readonly Statement _merge = new(session, Merge, "unit_id", "charted", "called", "state", "earlier", "events_between");
    private readonly Statement _delete = new(session, DeleteUnit, "unit_id");
    private readonly SignHistory _history = new(session);

    /// <summary>Derives the units that have none of it yet; to be called after an upgrade.</summary>
    /// <param name="session">The transaction.</param>
    public static void DeriveMissing(WriteSession session)
    {
        using var table = new EarlySignTable(session);
        using (var select = new Statement(session, SelectMissing))
        {
            using DbDataReader row = select.Query();
            while (row.Read())
            {
                table.DeriveAnew((int)row.GetInt64(0));
            }
        }

        table.Flush();
    }

    /// <summary>Adds a record.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="record">The record.</param>
    public void Add(int unitId, IncomingRecord record)
    {
        foreach (SignEvent happened in SignEvents.Of(record))
        {
            Of(unitId).Arrived.Add(happened);
        }
    }

    /// <summary>Takes a voided record out.</summary>
    /// <param name="entry">The record.</param>
    public void Remove(LedgerEntry entry)
    {
        // A visit mends when it ends, which is not before the first instant that it names.
        if (entry.Type is "wash" or "part_change" or "visit")
        {
            Of(entry.UnitId!.Value).Voided.Add(Instant.FromUnixTimeMilliseconds(entry.AtMs));
        }
    }

    /// <summary>Says that a unit must be derived from all its records.</summary>
    /// <param name="unitId">The unit.</param>
    public void DeriveAnew(int unitId) => Of(unitId).IsAll = true;

    /// <summary>Writes what was added; the tables of washes and visits are up to date by then.</summary>
    public void Flush()
    {
        foreach ((int unitId, SignChanges changes) in _changes)
        {
            Write(unitId, After(unitId, changes));
        }

        _changes.Clear();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _select.Dispose();
        _merge.Dispose();
        _delete.Dispose();
        _history.Dispose();
    }

    private SignChanges Of(int unitId)
    {
        if (!_changes.TryGetValue(unitId, out SignChanges? changes))
        {
            _changes[unitId] = changes = new SignChanges();
        }

        return changes;
    }

    private SignStates After(int unitId, SignChanges changes)
    {
        (string? text, SignStates states) = Read(unitId);
        if (text is not null && changes.AreInOrder(states.Now))
        {
            return states.Going(text, changes.InOrder());
        }

        UnitSigns earlier = SignState.Read(states.Earlier);
        UnitSigns begin = changes.Earliest > earlier.FoldedTo ? earlier : UnitSigns.Blank;
        return SignStates.From(begin, _history.Of(unitId, begin.FoldedTo), changes.LatestUpTo(states.Now.FoldedTo));
    }

    private (string? State, SignStates States) Read(int unitId)
    {
        return _select.First(unitId) is [string state, string earlier, long between]
            ? (state, new SignStates(SignState.Read(state), earlier, (int)between))
            : (null, SignStates.Blank);
    }

    private void Write(int unitId, SignStates states)
    {
        if (states.Now.FoldedTo is null)
        {
            _delete.Run(unitId);
            return;
        }

        long charted = 0;
        long called = 0;
        foreach (EarlySign sign in EarlySigns.Of(states.Now))
        {
            long flag = 1L << (int)sign.Kind;
            charted |= sign.IsCharted ? flag : 0;
            called |= sign.IsCalled ? flag : 0;
        }

        _merge.Run(unitId, charted, called, SignState.Write(states.Now), states.Earlier, states.Between);
    }
}
