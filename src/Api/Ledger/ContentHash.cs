using System.Buffers;
using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Washwear.Api.Ingest;

namespace Washwear.Api.Ledger;

/// <summary>SHA-256 of what a record says, in a form in which the order of fields, the spelling of numbers, the offset of an instant
/// and the case of codes make no difference. Source and key are not part of it. Not safe for concurrent use.</summary>
internal sealed class ContentHash
{
    // Each value begins with one of these, so that neighbouring values cannot run into each other.
    private const byte Nothing = 0;
    private const byte Something = 1;

    private readonly ArrayBufferWriter<byte> _content = new(512);

    /// <summary>The hash of a record, 32 bytes.</summary>
    /// <param name="record">The record.</param>
    public byte[] Of(IncomingRecord record)
    {
        _content.ResetWrittenCount();
        Text(RecordJson.TypeOf(record));
        Code(record.Unit);
        Instant(record.At);
        Text(record.Replaces);
        Payload(record);
        return SHA256.HashData(_content.WrittenSpan);
    }

    private void Payload(IncomingRecord record)
    {
        switch (record)
        {
            case WashRecord wash:
                Wash(wash);
                break;
            case FaultRecord fault:
                Code(fault.Code);
                Instant(fault.ClearedAt);
                break;
            case FaultClearedRecord cleared:
                Code(cleared.Code);
                break;
            case PartChangeRecord change:
                Code(change.Position);
                Removed(change.Removed);
                Fitted(change.Fitted);
                break;
            case MeterRecord meter:
                Number(meter.WashesTotal);
                Number(meter.OperatingHoursTotal);
                break;
            case VisitRecord visit:
                Visit(visit);
                break;
            case ApprovalRecord approval:
                Approval(approval);
                break;
            case ConditionRecord condition:
                Condition(new PartCondition(condition.Position, condition.Grade, condition.Note));
                break;
            case HeartbeatRecord:
                break;
            case VoidRecord gone:
                Text(gone.Voids);
                Text(gone.Reason);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(record), record, "No such type of record.");
        }
    }

    private void Wash(WashRecord wash)
    {
        Instant(wash.EndedAt);
        Code(wash.Programme);
        Number(wash.Grade is { } grade ? (int)grade : null);
        Number((int)wash.Outcome);
        Code(wash.FaultCode);
        Number(wash.DetergentDoses);
        Number(wash.DetergentLeft is { } left ? (left ? 1 : 0) : null);
        Text(wash.AttestedBy);
    }

    private void Visit(VisitRecord visit)
    {
        Instant(visit.AskedAt);
        Instant(visit.ArrivedAt);
        Instant(visit.LeftAt);
        Number(visit.Outcome is { } outcome ? (int)outcome : null);
        Text(visit.Technician);
        Text(visit.Note);
        Each(visit.Faults, Code);
        Each(visit.Checks, check =>
        {
            Code(check.Check);
            Number((int)check.Result);
            Number(check.Reading);
            Text(check.UnitOfMeasure);
        });
        Each(visit.Findings, finding =>
        {
            Code(finding.Position);
            Text(finding.FailureMode);
            Text(finding.Cause);
            Text(finding.Note);
        });
        Each(visit.Proofs, proof =>
        {
            Code(proof.Proof);
            Number((int)proof.Result);
        });
        Each(visit.Conditions, Condition);
    }

    private void Approval(ApprovalRecord approval)
    {
        Text(approval.What);
        Number(approval.Amount);
        Code(approval.FaultCode);
        Instant(approval.AskedAt);
        Number(approval.Decision is { } decision ? (int)decision : null);
        Instant(approval.DecidedAt);
        Text(approval.DecidedBy);
        Text(approval.Note);
    }

    private void Condition(PartCondition condition)
    {
        Code(condition.Position);
        Number((int)condition.Grade);
        Text(condition.Note);
    }

    private void Each<T>(IReadOnlyList<T>? items, Action<T> add)
    {
        Number(items?.Count);
        foreach (T item in items ?? [])
        {
            add(item);
        }
    }

    private void Removed(RemovedPart? part)
    {
        Number(part is null ? null : (int)part.Reason);
        Text(part?.FailureMode);
        Text(part?.Mechanism);
        Instant(part?.LastSeenGoodAt);

        // Records from before this field have to keep their hash.
        if (part?.FittedAt is { } fitted)
        {
            Instant(fitted);
        }
    }

    private void Fitted(NewPart? part)
    {
        Number(part is null ? null : 1);
        Code(part?.PartNumber);
        Text(part?.Batch);
        Text(part?.Supplier);
        Number(part?.AgeDays);
        Number(part?.AgeWashes);
    }

    private void Code(string? code)
    {
        if (Begin(code is not null))
        {
            Span<char> upper = stackalloc char[code!.Length];
            MemoryExtensions.ToUpperInvariant(code, upper);
            Chars(upper);
        }
    }

    private void Text(string? text)
    {
        if (Begin(text is not null))
        {
            Chars(text);
        }
    }

    private void Chars(ReadOnlySpan<char> text)
    {
        Whole(text.Length);
        _content.Write(MemoryMarshal.AsBytes(text));
    }

    private void Instant(DateTimeOffset? instant)
    {
        if (Begin(instant is not null))
        {
            Whole(instant!.Value.ToUnixTimeMilliseconds());
        }
    }

    private void Number(double? number)
    {
        if (Begin(number is not null))
        {
            // Adding zero turns a negative zero into a plain one.
            Whole(BitConverter.DoubleToInt64Bits(number!.Value + 0.0));
        }
    }

    private bool Begin(bool something)
    {
        _content.GetSpan(1)[0] = something ? Something : Nothing;
        _content.Advance(1);
        return something;
    }

    private void Whole(long value)
    {
        BinaryPrimitives.WriteInt64LittleEndian(_content.GetSpan(sizeof(long)), value);
        _content.Advance(sizeof(long));
    }
}
