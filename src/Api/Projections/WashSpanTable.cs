using System.Data.Common;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps wash_span. A wash that arrives costs one insert, whatever is there already.</summary>
/// <param name="session">The transaction.</param>
internal sealed class WashSpanTable(WriteSession session) : IDisposable
{
    private const string InsertRow = """
        INSERT INTO wash_span (unit_id, started_ms, seq, ended_ms, grade, outcome, detergent_left, attested, fault_code, programme)
        VALUES (@unit_id, @started_ms, @seq, @ended_ms, @grade, @outcome, @detergent_left, @attested, @fault_code, @programme)
        """;

    private const string DeleteRow = "DELETE FROM wash_span WHERE unit_id = @unit_id AND started_ms = @started_ms AND seq = @seq";
    private const string DeleteUnit = "DELETE FROM wash_span WHERE unit_id = @unit_id";

    private const string SelectUnit = """
        SELECT r.at_ms, w.seq, w.ended_ms, w.programme, w.grade, w.outcome, w.detergent_left,
            CAST(CASE WHEN w.attested_by IS NULL THEN 0 ELSE 1 END AS BIGINT), w.fault_code
        FROM record r JOIN wash w ON w.seq = r.seq
        WHERE r.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        """;

    private readonly Appender _insert = Appender.Of(
        session, "wash_span", InsertRow, "unit_id", "started_ms", "seq", "ended_ms", "grade", "outcome", "detergent_left", "attested", "fault_code",
        "programme");

    private readonly Statement _delete = new(session, DeleteRow, "unit_id", "started_ms", "seq");
    private readonly Statement _deleteUnit = new(session, DeleteUnit, "unit_id");
    private readonly Statement _selectUnit = new(session, SelectUnit, "unit_id");

    /// <summary>Adds a wash.</summary>
    /// <param name="unit">Its unit.</param>
    /// <param name="seq">Its number.</param>
    /// <param name="wash">The wash.</param>
    public void Add(UnitEntry unit, long seq, WashRecord wash) => _insert.Add(
        unit.Id, wash.At.ToUnixTimeMilliseconds(), seq, wash.EndedAt?.ToUnixTimeMilliseconds(),
        GradeWord(unit.Model, wash.Grade, wash.Programme), EnumText<WashOutcome>.Of(wash.Outcome),
        wash.DetergentLeft is { } left ? (left ? 1L : 0L) : null, wash.AttestedBy is null ? 0L : 1L, FaultCode(unit.Model, wash.FaultCode),
        wash.Programme);

    /// <summary>Takes a voided wash out.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="startedMs">When it started.</param>
    /// <param name="seq">Its number.</param>
    public void Remove(int unitId, long startedMs, long seq)
    {
        _insert.Flush();
        _delete.Run(unitId, startedMs, seq);
    }

    /// <summary>Derives all washes of a unit anew.</summary>
    /// <param name="unit">The unit.</param>
    public void Derive(UnitEntry unit)
    {
        _deleteUnit.Run(unit.Id);
        using DbDataReader row = _selectUnit.Query(unit.Id);
        while (row.Read())
        {
            ProgrammeGrade? grade = row.IsDBNull(4) ? null : EnumText<ProgrammeGrade>.Parse(row.GetString(4));
            _insert.Add(
                unit.Id, row.GetInt64(0), row.GetInt64(1), row.GetValue(2), GradeWord(unit.Model, grade, Text(row, 3)), row.GetString(5),
                row.GetValue(6), row.GetInt64(7), FaultCode(unit.Model, Text(row, 8)), Text(row, 3));
        }
    }

    /// <summary>Writes what waits.</summary>
    public void Flush() => _insert.Flush();

    /// <inheritdoc/>
    public void Dispose()
    {
        _insert.Dispose();
        _delete.Dispose();
        _deleteUnit.Dispose();
        _selectUnit.Dispose();
    }

    private static string? Text(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static string GradeWord(ModelEntry model, ProgrammeGrade? grade, string? programme) =>
        Spelling.Grade(model, grade, programme) is { } known ? EnumText<ProgrammeGrade>.Of(known) : Spelling.UnknownGrade;

    private static string? FaultCode(ModelEntry model, string? code) => code is null ? null : Spelling.Fault(model, code);
}
