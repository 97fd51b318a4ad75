using NodaTime;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps the projections in step with the ledger within one transaction: say what was added and voided, then flush.
/// Not safe for concurrent use.</summary>
public sealed class Projector : IDisposable
{
    private const string SelectUnits = "SELECT DISTINCT unit_id FROM record WHERE unit_id IS NOT NULL";

    // Every unit that has a record has a status.
    private const string SelectTerms = """
        SELECT s.unit_id, c.terms FROM unit_status s LEFT JOIN cleaning_run c ON c.unit_id = s.unit_id
        """;

    private static readonly string[] EmptyAll =
    [
        "DELETE FROM wash_span",
        "DELETE FROM fault_span",
        "DELETE FROM part_life",
        "DELETE FROM unit_status",
        "DELETE FROM visit_span",
        "DELETE FROM approval_span",
        "DELETE FROM cleaning_run",
        "DELETE FROM cleaning_period",
        "DELETE FROM early_sign",
        "DELETE FROM wash_month",
    ];

    private readonly RegistrySnapshot _registry;
    private readonly WashSpanTable _washes;
    private readonly FaultSpanTable _faults;
    private readonly PartLifeTable _parts;
    private readonly UnitStatusTable _statuses;
    private readonly VisitSpanTable _visits;
    private readonly ApprovalSpanTable _approvals;
    private readonly CleaningRunTable _cleaning;
    private readonly EarlySignTable _signs;
    private readonly WashMonthTable _months;
    private readonly Dictionary<int, HashSet<string>> _touchedFaults = [];
    private readonly Dictionary<int, HashSet<string>> _touchedPositions = [];
    private readonly HashSet<int> _unitsWithVoidedFaults = [];
    private readonly HashSet<int> _unitsWithVoidedParts = [];

    /// <summary>Begins.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    public Projector(WriteSession session, RegistrySnapshot registry)
    {
        _registry = registry;
        _washes = new WashSpanTable(session);
        _faults = new FaultSpanTable(session);
        _parts = new PartLifeTable(session);
        _statuses = new UnitStatusTable(session);
        _visits = new VisitSpanTable(session);
        _approvals = new ApprovalSpanTable(session);
        _cleaning = new CleaningRunTable(session, registry);
        _signs = new EarlySignTable(session);
        _months = new WashMonthTable(session);
    }

    /// <summary>Derives every projection from the ledger anew.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    /// <returns>How many units there are records of.</returns>
    public static int Rebuild(WriteSession session, RegistrySnapshot registry)
    {
        foreach (string sql in EmptyAll)
        {
            using var empty = new Statement(session, sql);
            empty.Run();
        }

        var units = new List<int>();
        using (var select = new Statement(session, SelectUnits))
        {
            using System.Data.Common.DbDataReader row = select.Query();
            while (row.Read())
            {
                units.Add((int)row.GetInt64(0));
            }
        }

        DeriveUnits(session, registry, units);
        return units.Count;
    }

    /// <summary>Derives the projections of some units anew; to be called in the transaction that changes their model, their site's time
    /// zone, or their dates in the registry.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as it is after the change.</param>
    /// <param name="unitIds">The units.</param>
    public static void DeriveUnits(WriteSession session, RegistrySnapshot registry, IEnumerable<int> unitIds)
    {
        using var projector = new Projector(session, registry);
        foreach (int unitId in unitIds)
        {
            UnitEntry unit = registry.UnitsById[unitId];
            projector._washes.Derive(unit);
            projector._washes.Flush();
            projector._faults.Derive(unit, null);
            projector._parts.Derive(unit, null);
            projector._visits.Derive(unitId);
            projector._approvals.Derive(unitId);
            projector._statuses.CountAnew(unitId);
            projector._cleaning.BeginAnew(unitId);
            projector._signs.DeriveAnew(unitId);
            projector._months.DeriveAnew(unitId);
        }

        projector.Flush();
    }

    /// <summary>Derives anew where those units stand whose rules, calendar or service are not those that it was derived with; to be called
    /// in the transaction that changes these, and after an upgrade.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as it is after the change.</param>
    /// <returns>How many units had to be derived anew.</returns>
    public static int DeriveCleaning(WriteSession session, RegistrySnapshot registry)
    {
        using var projector = new Projector(session, registry);
        int stale = 0;
        using (var select = new Statement(session, SelectTerms))
        {
            using System.Data.Common.DbDataReader row = select.Query();
            while (row.Read())
            {
                UnitTerms terms = registry.Cleaning.ById[(int)row.GetInt64(0)];
                long? derivedWith = row.IsDBNull(1) ? null : row.GetInt64(1);
                if (derivedWith != (terms.Rules.Count == 0 ? null : terms.Fingerprint))
                {
                    projector._cleaning.BeginAnew(terms.Unit.Id);
                    stale++;
                }
            }
        }

        projector._cleaning.Flush();
        return stale;
    }

    /// <summary>A record was added that counts.</summary>
    /// <param name="unit">Its unit.</param>
    /// <param name="seq">Its number.</param>
    /// <param name="record">The record.</param>
    public void Added(UnitEntry unit, long seq, IncomingRecord record)
    {
        _statuses.Add(unit.Id, record);
        _cleaning.Add(unit, record);
        _signs.Add(unit.Id, record);
        switch (record)
        {
            case WashRecord wash:
                _washes.Add(unit, seq, wash);
                _months.Add(unit.Id, wash);
                break;
            case FaultRecord fault:
                Touch(_touchedFaults, unit.Id, Spelling.Fault(unit.Model, fault.Code));
                break;
            case FaultClearedRecord cleared:
                Touch(_touchedFaults, unit.Id, Spelling.Fault(unit.Model, cleared.Code));
                break;
            case VisitRecord visit:
                _visits.Add(unit.Id, seq, visit);
                break;
            case ApprovalRecord approval:
                _approvals.Add(unit.Id, seq, approval);
                break;
            case PartChangeRecord change:
                Touch(_touchedPositions, unit.Id, Spelling.Position(unit.Model, change.Position));
                break;
        }
    }

    /// <summary>A record that counted until now has been voided.</summary>
    /// <param name="entry">The record.</param>
    internal void Voided(LedgerEntry entry)
    {
        int unitId = entry.UnitId!.Value;
        _statuses.CountAnew(unitId);
        _signs.Remove(entry);
        if (entry.Type is not ("part_change" or "condition"))
        {
            _cleaning.BeginAnew(unitId, Instant.FromUnixTimeMilliseconds(entry.AtMs));
        }

        switch (entry.Type)
        {
            case "wash":
                _washes.Remove(unitId, entry.AtMs, entry.Seq);
                _months.CountAnew(unitId, entry.AtMs);
                break;
            case "fault" or "fault_cleared":
                _unitsWithVoidedFaults.Add(unitId);
                break;
            case "visit":
                _visits.Remove(unitId, entry.AtMs, entry.Seq);
                break;
            case "approval":
                _approvals.Remove(unitId, entry.AtMs, entry.Seq);
                break;
            case "part_change":
                _unitsWithVoidedParts.Add(unitId);
                break;
        }
    }

    /// <summary>Writes what was left until all records of the transaction were known.</summary>
    public void Flush()
    {
        Derive(_touchedFaults, _unitsWithVoidedFaults, _faults.Derive);
        Derive(_touchedPositions, _unitsWithVoidedParts, _parts.Derive);
        _washes.Flush();
        _faults.Flush();
        _parts.Flush();
        _visits.Flush();
        _approvals.Flush();
        _statuses.Flush();
        _cleaning.Flush();
        _signs.Flush();
        _months.Flush();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _washes.Dispose();
        _faults.Dispose();
        _parts.Dispose();
        _visits.Dispose();
        _approvals.Dispose();
        _statuses.Dispose();
        _cleaning.Dispose();
        _signs.Dispose();
        _months.Dispose();
    }

    private static void Touch(Dictionary<int, HashSet<string>> touched, int unitId, string code)
    {
        if (!touched.TryGetValue(unitId, out HashSet<string>? codes))
        {
            touched[unitId] = codes = new HashSet<string>(StringComparer.Ordinal);
        }

        codes.Add(code);
    }

    private void Derive(
        Dictionary<int, HashSet<string>> touched, HashSet<int> whole, Action<UnitEntry, IReadOnlySet<string>?> derive)
    {
        foreach (int unitId in whole)
        {
            derive(_registry.UnitsById[unitId], null);
        }

        foreach ((int unitId, HashSet<string> codes) in touched.Where(pair => !whole.Contains(pair.Key)))
        {
            derive(_registry.UnitsById[unitId], codes);
        }

        touched.Clear();
        whole.Clear();
    }
}
