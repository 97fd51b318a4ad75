using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

internal sealed record HistoryTexts
{
    internal static TextFile<HistoryTexts> File { get; } = new("UnitHistory");

    internal static HistoryTexts Now => File.Now;

    // By what was washed; {wash} is one of the following.
    public required IReadOnlyDictionary<WashOutcome, string> Washed { get; init; }

    public required string Attested { get; init; }

    public required string ByHand { get; init; }

    public required string Wash { get; init; }

    public required string NamedWash { get; init; }

    // A programme that calls itself a wash or a rinse.
    public required string Named { get; init; }

    // A wash of which only the grade was told.
    public required IReadOnlyDictionary<ProgrammeGrade, string> Grades { get; init; }

    public required string Sentence { get; init; }

    public required string WithCode { get; init; }

    public required string WithTime { get; init; }

    public required string WithDetergent { get; init; }

    public required string Fault { get; init; }

    public required string FaultMeaning { get; init; }

    public required string FaultClearedAfter { get; init; }

    public required string FaultCleared { get; init; }

    public required string Changed { get; init; }

    public required string PartOut { get; init; }

    public required string PartOutMode { get; init; }

    public required string PartIn { get; init; }

    public required string PartInNumber { get; init; }

    public required IReadOnlyDictionary<string, string> Reasons { get; init; }

    public required string VisitAsked { get; init; }

    public required string VisitAskedOf { get; init; }

    public required string Visit { get; init; }

    public required string VisitOf { get; init; }

    public required string VisitWaited { get; init; }

    public required IReadOnlyDictionary<VisitOutcome, string> VisitEnded { get; init; }

    public required string VisitEndedUntold { get; init; }

    public required string VisitOpen { get; init; }

    public required string VisitFound { get; init; }

    public required string ApprovalAsked { get; init; }

    public required string ApprovalGranted { get; init; }

    public required string ApprovalRefused { get; init; }

    public required string ApprovalBy { get; init; }

    public required string ApprovalWaited { get; init; }

    public required string ApprovalFor { get; init; }

    public required string ApprovalCost { get; init; }

    public required string LookedAt { get; init; }

    public required string LookedAtNote { get; init; }

    public required IReadOnlyDictionary<string, string> Conditions { get; init; }

    public required string Meter { get; init; }

    public required string MeterWashes { get; init; }

    public required string MeterHours { get; init; }

    public required string Heard { get; init; }
}
