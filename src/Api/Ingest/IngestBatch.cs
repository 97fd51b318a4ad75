using Washwear.Api.Ledger;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>What became of one row.</summary>
/// <param name="Outcome">What became of it.</param>
/// <param name="Problem">Why it was refused.</param>
/// <param name="Doubts">What was taken in but looks wrong; null: nothing.</param>
internal readonly record struct RowResult(RowOutcome Outcome, RowProblem? Problem, IReadOnlyList<RowProblem>? Doubts);

/// <summary>Takes rows in within one transaction: rules, ledger, projections, and what was refused. Not safe for concurrent use.</summary>
internal sealed class IngestBatch : IDisposable
{
    private readonly LedgerWriter _ledger;
    private readonly RefusedWriter _kept;
    private readonly Projector _projector;
    private readonly ErasedNames _erased;
    private readonly Dictionary<(string Source, string Key), (long Seq, UnitEntry Unit, ApprovalRecord Record)> _approvals = [];

    /// <summary>Begins.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="registry">The registry as this transaction sees it.</param>
    /// <param name="receivedAt">When the rows came in.</param>
    public IngestBatch(WriteSession session, RegistrySnapshot registry, DateTimeOffset receivedAt)
    {
        _ledger = new LedgerWriter(session, receivedAt);
        _kept = new RefusedWriter(session, receivedAt);
        _projector = new Projector(session, registry);
        _erased = new ErasedNames(session);
    }

    /// <summary>Approvals taken in that still count, in the order of acceptance.</summary>
    public IEnumerable<(long Seq, UnitEntry Unit, ApprovalRecord Record)> Approvals => _approvals.Values.OrderBy(one => one.Seq);

    /// <summary>Says which rows will come, so that the ledger can be asked for their keys at once.</summary>
    /// <param name="rows">The rows.</param>
    public void Expect(IEnumerable<IncomingRow> rows) => _ledger.Expect(rows.Select(row => row.Record).OfType<IncomingRecord>().Select(Renamed));

    /// <summary>Takes a row in, or keeps it as refused.</summary>
    /// <param name="row">The row.</param>
    /// <param name="rules">The rules of its request, with the same registry.</param>
    public RowResult TakeIn(IncomingRow row, RecordRules rules)
    {
        if (row.Record is not { } record)
        {
            return Refuse(row, row.Problem!);
        }

        Verdict verdict = rules.Check(record);
        record = Renamed(record);
        if ((verdict.Problem ?? VoidOfAVoid(record)) is { } problem)
        {
            return Refuse(row, problem);
        }

        return _ledger.Append(record, verdict.Unit?.Id) switch
        {
            Appended.Added => Accept(record, verdict.Unit, counts: true, verdict.Doubts),
            Appended.AddedVoided => Accept(record, verdict.Unit, counts: false, verdict.Doubts),
            Appended.Duplicate => new RowResult(RowOutcome.Duplicate, null, null),
            Appended.Conflict => Refuse(row, RowProblems.KeyConflict(record.Source, record.Key)),
            var other => throw new InvalidOperationException($"The ledger said {other}."),
        };
    }

    /// <summary>Brings the projections up to date; the last thing before the commit.</summary>
    public void Flush()
    {
        _ledger.Flush();
        _kept.Flush();
        _projector.Flush();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _ledger.Dispose();
        _kept.Dispose();
        _projector.Dispose();
    }

    // What a source sent that was renamed since, because it named a person, is known under its new name.
    private IncomingRecord Renamed(IncomingRecord record) =>
        _erased.Source(record.Source) is var source && ReferenceEquals(source, record.Source) ? record : record with { Source = source };

    // Asked before the void is written; a void that is there already is a duplicate, whatever it names.
    private RowProblem? VoidOfAVoid(IncomingRecord record) =>
        record is VoidRecord gone
        && _ledger.Find(gone.Source, gone.Voids) is { Type: "void" }
        && _ledger.Find(gone.Source, gone.Key) is null
            ? RuleProblems.VoidOfAVoid(gone.Voids)
            : null;

    private RowResult Accept(IncomingRecord record, UnitEntry? unit, bool counts, IReadOnlyList<RowProblem>? doubts)
    {
        if (counts && unit is not null)
        {
            _projector.Added(unit, _ledger.LastSeq, record);
            if (record is ApprovalRecord approval)
            {
                _approvals.Add((record.Source, record.Key), (_ledger.LastSeq, unit, approval));
            }
        }

        RowProblem? ineffective = record switch
        {
            VoidRecord gone => Void("voids", gone.Source, gone.Voids),
            { Replaces: { } replaced } => Void("replaces", record.Source, replaced),
            _ => null,
        };
        _kept.CameRight(record.Source, record.Key);
        return new RowResult(RowOutcome.Accepted, null, ineffective is null ? doubts : [.. doubts ?? [], ineffective]);
    }

    private RowProblem? Void(string field, string source, string key)
    {
        LedgerEntry? target = _ledger.Find(source, key);
        if (target is { Type: "void" })
        {
            return RuleProblems.IneffectiveVoid(field, key);
        }

        if (_ledger.Void(source, key, target) && target is { } entry)
        {
            _projector.Voided(entry);
            _approvals.Remove((source, key));
        }

        return null;
    }

    private RowResult Refuse(IncomingRow row, RowProblem problem)
    {
        _kept.Keep(row, problem);
        return new RowResult(RowOutcome.Refused, problem, null);
    }
}
