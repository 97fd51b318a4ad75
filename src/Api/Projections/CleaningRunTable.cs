using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>
/// Keeps cleaning_run and cleaning_period. Washes and signs of life that come in order are folded into where the unit stood; whatever else
/// comes, or comes late, is folded in anew from the period before it.
/// </summary>
/// <param name="session">The transaction.</param>
/// <param name="registry">The registry as this transaction sees it.</param>
internal sealed class CleaningRunTable(WriteSession session, RegistrySnapshot registry) : IDisposable
{
    private const string SelectRun = "SELECT terms, first_period, last_period, run FROM cleaning_run WHERE unit_id = @unit_id";
    private const string DeleteRun = "DELETE FROM cleaning_run WHERE unit_id = @unit_id";
    private const string SelectPeriod = "SELECT run FROM cleaning_period WHERE id = @id";
    private const string ClosePeriod = "UPDATE cleaning_period SET closed = @closed WHERE id = @id";
    private const string DeletePeriod = "DELETE FROM cleaning_period WHERE id = @id";

    private static readonly Sql PutRun = new(
        Sqlite: """
            INSERT INTO cleaning_run (unit_id, terms, changed_seq, first_period, last_period, run)
            VALUES (@unit_id, @terms, (SELECT coalesce(max(seq), 0) FROM record), @first_period, @last_period, @run)
            ON CONFLICT (unit_id) DO UPDATE SET terms = excluded.terms, changed_seq = excluded.changed_seq,
                first_period = excluded.first_period, last_period = excluded.last_period, run = excluded.run
            """,
        SqlServer: """
            UPDATE cleaning_run SET terms = @terms, changed_seq = (SELECT coalesce(max(r.seq), 0) FROM record r),
                first_period = @first_period, last_period = @last_period, run = @run
            WHERE unit_id = @unit_id;
            INSERT INTO cleaning_run (unit_id, terms, changed_seq, first_period, last_period, run)
            SELECT @unit_id, @terms, (SELECT coalesce(max(r.seq), 0) FROM record r), @first_period, @last_period, @run
            WHERE NOT EXISTS (SELECT 1 FROM cleaning_run c WHERE c.unit_id = @unit_id)
            """);

    private static readonly Sql PutPeriod = new(
        Sqlite: "INSERT INTO cleaning_period (id, run) VALUES (@id, @run) ON CONFLICT (id) DO UPDATE SET closed = NULL, run = excluded.run",
        SqlServer: """
            UPDATE cleaning_period SET closed = NULL, run = @run WHERE id = @id;
            INSERT INTO cleaning_period (id, run) SELECT @id, @run WHERE NOT EXISTS (SELECT 1 FROM cleaning_period p WHERE p.id = @id)
            """);

    // Units read at once when many begin anew.
    private const int UnitsAtOnce = 100;

    private static readonly Comparer<UnitEvent> Order = Comparer<UnitEvent>.Create(UnitEvent.Compare);

    private readonly Dictionary<int, List<UnitEvent>> _events = [];
    private readonly Dictionary<int, Instant> _stale = [];
    private readonly Statement _selectRun = new(session, SelectRun, "unit_id");
    private readonly Statement _deleteRun = new(session, DeleteRun, "unit_id");
    private readonly Statement _putRun = new(session, PutRun, "unit_id", "terms", "first_period", "last_period", "run");
    private readonly Statement _selectPeriod = new(session, SelectPeriod, "id");
    private readonly Statement _closePeriod = new(session, ClosePeriod, "closed", "id");
    private readonly Statement _putPeriod = new(session, PutPeriod, "id", "run");
    private readonly Statement _deletePeriod = new(session, DeletePeriod, "id");

    /// <summary>The id of a unit's period in the table.</summary>
    /// <param name="period">Number of the period.</param>
    /// <param name="unitId">The unit's number.</param>
    public static long Id(long period, int unitId) => (period << 32) + unitId;

    /// <summary>Adds a record.</summary>
    /// <param name="unit">Its unit.</param>
    /// <param name="record">The record.</param>
    public void Add(UnitEntry unit, IncomingRecord record)
    {
        Instant at = Stored(record.At);
        switch (record)
        {
            case WashRecord wash:
                Fold(unit.Id, new Heard(at), new WashDecided(WashOf(unit, wash)));
                break;
            case HeartbeatRecord:
                Fold(unit.Id, new Heard(at));
                break;
            case MeterRecord meter:
                Fold(unit.Id, meter.OperatingHoursTotal is { } hours ? [new Heard(at), new MeterRead(at, hours)] : [new Heard(at)]);
                break;
            case FaultRecord or FaultClearedRecord or VisitRecord or ApprovalRecord:
                BeginAnew(unit.Id, at);
                break;
        }
    }

    /// <summary>Says that something at or after an instant has changed that was known before.</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="at">The instant.</param>
    public void BeginAnew(int unitId, Instant at) =>
        _stale[unitId] = _stale.TryGetValue(unitId, out Instant earlier) ? Instant.Min(earlier, at) : at;

    /// <summary>Says that everything about a unit must be derived anew.</summary>
    /// <param name="unitId">The unit.</param>
    public void BeginAnew(int unitId) => _stale[unitId] = Instant.MinValue;

    /// <summary>Writes where the units stand; to be called when the other projections are up to date.</summary>
    public void Flush()
    {
        foreach ((int unitId, List<UnitEvent> events) in _events)
        {
            events.Sort(Order);
            if (_stale.ContainsKey(unitId) || !TryFold(unitId, events))
            {
                BeginAnew(unitId, events[0].At);
            }
        }

        Restart[] restarts = [.. _stale.Select(pair => RestartOf(pair.Key, pair.Value)).OfType<Restart>()];
        while (restarts.Length > 0)
        {
            restarts =
            [
                .. restarts.GroupBy(restart => restart.FromPeriod)
                    .SelectMany(together => together.Chunk(UnitsAtOnce))
                    .SelectMany(RunAgain),
            ];
        }

        _events.Clear();
        _stale.Clear();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (Statement statement in (Statement[])
            [_selectRun, _deleteRun, _putRun, _selectPeriod, _closePeriod, _putPeriod, _deletePeriod])
        {
            statement.Dispose();
        }
    }

    // The same as reading the wash back from its projection gives.
    private static Wash WashOf(UnitEntry unit, WashRecord wash) => new(
        Stored(wash.At),
        wash.EndedAt is { } ended ? Stored(ended) : null,
        Spelling.Grade(unit.Model, wash.Grade, wash.Programme) ?? ProgrammeGrade.Rinse,
        wash.Outcome,
        wash.DetergentLeft,
        wash.AttestedBy);

    private static Instant Stored(DateTimeOffset at) => Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());

    private void Fold(int unitId, params ReadOnlySpan<UnitEvent> events)
    {
        if (!_events.TryGetValue(unitId, out List<UnitEvent>? gathered))
        {
            _events[unitId] = gathered = [];
        }

        gathered.AddRange(events);
    }

    private bool TryFold(int unitId, List<UnitEvent> events)
    {
        UnitTerms terms = registry.Cleaning.ById[unitId];
        if (terms.Rules.Count == 0)
        {
            return true;
        }

        if (Read(unitId) is not { } stored || stored.Terms != terms.Fingerprint
            || UnitCleaningRun.FromBytes(stored.Run, terms.Begin).Fold(events) is not { } folded)
        {
            return false;
        }

        Write(terms, stored, stored.LastPeriod, folded);
        return true;
    }

    /// <summary>Where to go on so that everything from an instant on is folded in; null when no rule applies.</summary>
    private Restart? RestartOf(int unitId, Instant changedAt)
    {
        UnitTerms terms = registry.Cleaning.ById[unitId];
        StoredRun? stored = Read(unitId);
        if (terms.Rules.Count == 0)
        {
            Delete(unitId, stored);
            return null;
        }

        if (stored is not { } run || run.Terms != terms.Fingerprint)
        {
            return new Restart(terms, stored, null, terms.Begin, false);
        }

        // Whatever came lies after all that was folded in.
        var last = UnitCleaningRun.FromBytes(run.Run, terms.Begin);
        if (changedAt > last.FoldedTo)
        {
            return new Restart(terms, stored, run.LastPeriod, last, true);
        }

        if (changedAt > UnitCleaningRun.BeginOf(run.FirstPeriod + 1))
        {
            long period = Math.Min(UnitCleaningRun.PeriodOf(changedAt), run.LastPeriod);
            if (_selectPeriod.Value(Id(period, unitId)) is byte[] bytes)
            {
                return new Restart(terms, stored, period, UnitCleaningRun.FromBytes(bytes, terms.Begin), false);
            }
        }

        return new Restart(terms, stored, null, terms.Begin, false);
    }

    /// <returns>Those that must go further back, because nothing has happened since.</returns>
    private List<Restart> RunAgain(Restart[] restarts)
    {
        Instant? since = restarts.Any(restart => restart.Run.FoldedTo is null) ? null : restarts.Min(restart => restart.Run.FoldedTo);
        IReadOnlyDictionary<int, UnitHistory> histories = UnitHistories.Read(
            session.Connection, session.Transaction, [.. restarts.Select(restart => restart.Terms)], since, null);
        List<Restart> further = [];
        foreach (Restart restart in restarts)
        {
            int unitId = restart.Terms.Unit.Id;
            UnitEvent[] events = [.. UnitEvent.AllOf(histories[unitId]).Where(happened => !(happened.At <= restart.Run.FoldedTo))];
            if (restart.FromPeriod is not null && events.Length == 0)
            {
                if (!restart.IsWhole)
                {
                    further.Add(new Restart(restart.Terms, restart.Stored, null, restart.Terms.Begin, false));
                }

                continue;
            }

            if (restart.FromPeriod is null)
            {
                Delete(unitId, restart.Stored);
            }

            if (events.Length > 0)
            {
                Write(
                    restart.Terms, restart.FromPeriod is null ? null : restart.Stored, restart.FromPeriod,
                    restart.Run.Fold(events) ?? throw new InvalidOperationException($"Events of unit {unitId} could not be folded in anew."));
            }
        }

        return further;
    }

    private void Write(
        UnitTerms terms, StoredRun? stored, long? fromPeriod, (UnitCleaningRun Run, IReadOnlyList<ClosedUnitPeriod> Closed) folded)
    {
        int unitId = terms.Unit.Id;
        Instant begin = folded.Closed.Count > 0 ? folded.Closed[0].From : folded.Run.PeriodFrom!.Value;
        long period = fromPeriod ?? UnitCleaningRun.NumberOf(begin);
        if (fromPeriod is null)
        {
            _putPeriod.Run(Id(period, unitId), terms.Begin.ToBytes());
        }

        foreach (ClosedUnitPeriod closed in folded.Closed)
        {
            _closePeriod.Run(closed.ToBytes(), Id(period, unitId));
            period++;
            _putPeriod.Run(Id(period, unitId), closed.Next.ToBytes());
        }

        for (long gone = period + 1; gone <= stored?.LastPeriod; gone++)
        {
            _deletePeriod.Run(Id(gone, unitId));
        }

        long first = stored?.FirstPeriod ?? UnitCleaningRun.NumberOf(begin);
        _putRun.Run(unitId, terms.Fingerprint, first, period, folded.Run.ToBytes());
    }

    private void Delete(int unitId, StoredRun? stored)
    {
        for (long period = stored?.FirstPeriod ?? 0; period <= stored?.LastPeriod; period++)
        {
            _deletePeriod.Run(Id(period, unitId));
        }

        _deleteRun.Run(unitId);
    }

    private StoredRun? Read(int unitId) =>
        _selectRun.First(unitId) is [long terms, long first, long last, byte[] run] ? new StoredRun(terms, first, last, run) : null;

    private readonly record struct StoredRun(long Terms, long FirstPeriod, long LastPeriod, byte[] Run);

    /// <param name="Terms">The unit.</param>
    /// <param name="Stored">What is stored of it.</param>
    /// <param name="FromPeriod">Period to go on with; null: from the first record on.</param>
    /// <param name="Run">Where the unit stood at its begin, or after the last record.</param>
    /// <param name="IsWhole">Whether the run is the one after the last record: all that it came to stands.</param>
    private sealed record Restart(UnitTerms Terms, StoredRun? Stored, long? FromPeriod, UnitCleaningRun Run, bool IsWhole);
}
