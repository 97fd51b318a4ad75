using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>Writes what a record says into the table of its type.</summary>
/// <param name="session">The transaction.</param>
internal sealed class PayloadWriter(WriteSession session) : IDisposable
{
    private const string InsertWash = """
        INSERT INTO wash (seq, ended_ms, programme, grade, outcome, fault_code, detergent_doses, detergent_left, attested_by)
        VALUES (@seq, @ended_ms, @programme, @grade, @outcome, @fault_code, @detergent_doses, @detergent_left, @attested_by)
        """;

    private const string InsertFault = "INSERT INTO fault (seq, unit_id, code, cleared_ms) VALUES (@seq, @unit_id, @code, @cleared_ms)";
    private const string InsertFaultCleared = "INSERT INTO fault_cleared (seq, unit_id, code) VALUES (@seq, @unit_id, @code)";

    private const string InsertPartChange = """
        INSERT INTO part_change (seq, unit_id, position, removed_reason, failure_mode, mechanism, last_seen_good_ms,
            removed_fitted_ms, fitted, part_number, batch, supplier, age_days, age_washes)
        VALUES (@seq, @unit_id, @position, @removed_reason, @failure_mode, @mechanism, @last_seen_good_ms, @removed_fitted_ms, @fitted,
            @part_number, @batch, @supplier, @age_days, @age_washes)
        """;

    private const string InsertMeter = """
        INSERT INTO meter (seq, unit_id, read_ms, washes_total, operating_hours_total)
        VALUES (@seq, @unit_id, @read_ms, @washes_total, @operating_hours_total)
        """;

    private const string InsertVoid = "INSERT INTO void (seq, voids, reason) VALUES (@seq, @voids, @reason)";

    private const string InsertVisit = """
        INSERT INTO visit (seq, asked_ms, arrived_ms, left_ms, outcome, technician, note, faults, checks, findings, proofs, conditions)
        VALUES (@seq, @asked_ms, @arrived_ms, @left_ms, @outcome, @technician, @note, @faults, @checks, @findings, @proofs, @conditions)
        """;

    private const string InsertApproval = """
        INSERT INTO approval (seq, what, amount, fault_code, asked_ms, decision, decided_ms, decided_by, note)
        VALUES (@seq, @what, @amount, @fault_code, @asked_ms, @decision, @decided_ms, @decided_by, @note)
        """;

    private const string InsertCondition = "INSERT INTO condition (seq, position, grade, note) VALUES (@seq, @position, @grade, @note)";

    private readonly Appender _visit = Appender.Of(
        session, "visit", InsertVisit, "seq", "asked_ms", "arrived_ms", "left_ms", "outcome", "technician", "note", "faults", "checks", "findings",
        "proofs", "conditions");

    private readonly Appender _approval = Appender.Of(
        session, "approval", InsertApproval, "seq", "what", "amount", "fault_code", "asked_ms", "decision", "decided_ms", "decided_by", "note");

    private readonly Appender _condition = Appender.Of(session, "condition", InsertCondition, "seq", "position", "grade", "note");

    private readonly Appender _wash = Appender.Of(
        session, "wash", InsertWash, "seq", "ended_ms", "programme", "grade", "outcome", "fault_code", "detergent_doses", "detergent_left",
        "attested_by");

    private readonly Appender _fault = Appender.Of(session, "fault", InsertFault, "seq", "unit_id", "code", "cleared_ms");
    private readonly Appender _faultCleared = Appender.Of(session, "fault_cleared", InsertFaultCleared, "seq", "unit_id", "code");

    private readonly Appender _partChange = Appender.Of(
        session, "part_change", InsertPartChange, "seq", "unit_id", "position", "removed_reason", "failure_mode", "mechanism", "last_seen_good_ms",
        "removed_fitted_ms", "fitted", "part_number", "batch", "supplier", "age_days", "age_washes");

    private readonly Appender _meter = Appender.Of(
        session, "meter", InsertMeter, "seq", "unit_id", "read_ms", "washes_total", "operating_hours_total");

    private readonly Appender _void = Appender.Of(session, "void", InsertVoid, "seq", "voids", "reason");

    private Appender[] All => [_wash, _fault, _faultCleared, _partChange, _meter, _visit, _approval, _condition, _void];

    /// <summary>Writes the payload of a record that has just been appended.</summary>
    /// <param name="seq">Its number.</param>
    /// <param name="unitId">Its unit; null for a void.</param>
    /// <param name="record">The record.</param>
    public void Write(long seq, int? unitId, IncomingRecord record)
    {
        switch (record)
        {
            case WashRecord wash:
                _wash.Add(
                    seq, Ms(wash.EndedAt), wash.Programme, wash.Grade is { } grade ? EnumText<ProgrammeGrade>.Of(grade) : null,
                    EnumText<WashOutcome>.Of(wash.Outcome), wash.FaultCode, wash.DetergentDoses,
                    wash.DetergentLeft is { } left ? (left ? 1L : 0L) : null, wash.AttestedBy);
                break;
            case FaultRecord fault:
                _fault.Add(seq, unitId, fault.Code, Ms(fault.ClearedAt));
                break;
            case FaultClearedRecord cleared:
                _faultCleared.Add(seq, unitId, cleared.Code);
                break;
            case PartChangeRecord change:
                WritePartChange(seq, unitId, change, change.Removed, change.Fitted);
                break;
            case MeterRecord meter:
                _meter.Add(seq, unitId, Ms(meter.At), meter.WashesTotal, meter.OperatingHoursTotal);
                break;
            case VisitRecord visit:
                WriteVisit(seq, visit);
                break;
            case ApprovalRecord approval:
                _approval.Add(
                    seq, approval.What, approval.Amount, approval.FaultCode, Ms(approval.AskedAt),
                    approval.Decision is { } decision ? EnumText<ApprovalDecision>.Of(decision) : null, Ms(approval.DecidedAt),
                    approval.DecidedBy, approval.Note);
                break;
            case ConditionRecord seen:
                _condition.Add(seq, seen.Position, EnumText<ConditionGrade>.Of(seen.Grade), seen.Note);
                break;
            case HeartbeatRecord:
                break;
            case VoidRecord gone:
                _void.Add(seq, gone.Voids, gone.Reason);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(record), record, "No such type of record.");
        }
    }

    /// <summary>Writes what waits; the records themselves are written before.</summary>
    public void Flush()
    {
        foreach (Appender table in All)
        {
            table.Flush();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (Appender table in All)
        {
            table.Dispose();
        }
    }

    private static long? Ms(DateTimeOffset? instant) => instant?.ToUnixTimeMilliseconds();

    private static string? List<T>(IReadOnlyList<T>? items) => items is null ? null : JsonSerializer.Serialize(items, Json.Options);

    private void WriteVisit(long seq, VisitRecord visit) => _visit.Add(
        seq, Ms(visit.AskedAt), Ms(visit.ArrivedAt), Ms(visit.LeftAt),
        visit.Outcome is { } outcome ? EnumText<VisitOutcome>.Of(outcome) : null, visit.Technician, visit.Note,
        List(visit.Faults), List(visit.Checks), List(visit.Findings), List(visit.Proofs), List(visit.Conditions));

    private void WritePartChange(long seq, int? unitId, PartChangeRecord change, RemovedPart? removed, NewPart? fitted) => _partChange.Add(
        seq, unitId, change.Position, removed is null ? null : EnumText<RemovalReason>.Of(removed.Reason), removed?.FailureMode,
        removed?.Mechanism, Ms(removed?.LastSeenGoodAt), Ms(removed?.FittedAt), fitted is null ? 0L : 1L, fitted?.PartNumber, fitted?.Batch, fitted?.Supplier,
        fitted?.AgeDays, fitted?.AgeWashes);
}
