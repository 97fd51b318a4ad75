using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Puts records into words, with the names of their unit's model.</summary>
internal static class RecordTexts
{
    private const double MillisecondsPerMinute = 60_000;
    private const double MillisecondsPerHour = 3_600_000;

    /// <summary>What a record tells, in one sentence.</summary>
    /// <param name="row">The record.</param>
    /// <param name="model">The unit's model.</param>
    public static string Of(RecordRow row, ModelEntry model) => row.Type switch
    {
        "wash" => HistorySentences.Wash(
            row.Programme,
            EnumText<WashOutcome>.Parse(row.Outcome!),
            (row.EndedMs - row.AtMs) / MillisecondsPerMinute,
            row.FaultCode,
            row.DetergentLeft is { } left ? left != 0 : null,
            row.AttestedBy),
        "fault" => HistorySentences.Fault(row.Code!, Meaning(model, row.Code!), (row.ClearedMs - row.AtMs) / MillisecondsPerHour),
        "fault_cleared" => HistorySentences.FaultCleared(row.Code!),
        "part_change" => HistorySentences.PartChange(
            Position(model, row.Position!),
            row.RemovedReason,
            row.FailureMode,
            row.Fitted == 1,
            row.PartNumber),
        "meter" => HistorySentences.Meter(row.WashesTotal, row.OperatingHoursTotal),
        "heartbeat" => HistorySentences.Heard,
        "visit" => HistorySentences.Visit(
            row.Technician,
            row.ArrivedMs is not null,
            row.LeftMs is not null,
            (row.ArrivedMs - row.AskedMs) / MillisecondsPerHour,
            (row.LeftMs - row.ArrivedMs) / MillisecondsPerHour,
            row.Outcome is null ? null : EnumText<VisitOutcome>.Parse(row.Outcome),
            Found(row.Findings, model)),
        "approval" => HistorySentences.Approval(
            row.What,
            row.Amount,
            row.Decision is null ? null : EnumText<ApprovalDecision>.Parse(row.Decision) == ApprovalDecision.Granted,
            row.DecidedBy,
            (row.DecidedMs - row.AskedMs) / MillisecondsPerHour),
        "condition" => HistorySentences.Condition(Position(model, row.Position!), row.Condition!, row.ConditionNote),
        _ => row.Type,
    };

    /// <summary>What the catalogue says of a fault; null: it is not listed.</summary>
    /// <param name="model">The model.</param>
    /// <param name="code">The fault's code.</param>
    public static string? Meaning(ModelEntry model, string code) => model.Faults.GetValueOrDefault(code)?.Text;

    /// <summary>Name of a position.</summary>
    /// <param name="model">The model.</param>
    /// <param name="code">Code of the position.</param>
    public static string Position(ModelEntry model, string code) => model.Positions.GetValueOrDefault(code)?.Name ?? code;

    private static string[] Found(string? findings, ModelEntry model) => findings is null ? [] :
    [
        .. JsonSerializer.Deserialize<VisitFinding[]>(findings, Json.Options)!
            .Select(one => Position(model, one.Position) + (one.FailureMode is null ? string.Empty : " (" + one.FailureMode + ")")),
    ];
}
