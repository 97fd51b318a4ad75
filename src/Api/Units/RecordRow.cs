namespace Washwear.Api.Units;

/// <summary>A record of any type as histories tell it; what does not belong to its type is null.</summary>
internal sealed class RecordRow
{
    public long Seq { get; init; }

    public long UnitId { get; init; }

    public long AtMs { get; init; }

    public required string Type { get; init; }

    public required string Source { get; init; }

    public required string Key { get; init; }

    public long ReceivedMs { get; init; }

    public string? Replaces { get; init; }

    public long Voided { get; init; }

    public string? ByType { get; init; }

    public long? EndedMs { get; init; }

    public string? Programme { get; init; }

    public string? WashProgramme { get; init; }

    public string? Grade { get; init; }

    public string? Outcome { get; init; }

    public string? FaultCode { get; init; }

    public long? DetergentLeft { get; init; }

    public string? AttestedBy { get; init; }

    public string? Code { get; init; }

    public long? ClearedMs { get; init; }

    public string? Position { get; init; }

    public string? RemovedReason { get; init; }

    public string? FailureMode { get; init; }

    public long? Fitted { get; init; }

    public string? PartNumber { get; init; }

    public double? WashesTotal { get; init; }

    public double? OperatingHoursTotal { get; init; }

    public long? AskedMs { get; init; }

    public long? ArrivedMs { get; init; }

    public long? LeftMs { get; init; }

    public string? Technician { get; init; }

    public string? Findings { get; init; }

    public string? What { get; init; }

    public double? Amount { get; init; }

    public string? Decision { get; init; }

    public long? DecidedMs { get; init; }

    public string? DecidedBy { get; init; }

    public string? Condition { get; init; }

    public string? ConditionNote { get; init; }
}
