using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

internal sealed record UnitTexts
{
    internal static TextFile<UnitTexts> File { get; } = new("Units");

    internal static UnitTexts Now => File.Now;

    public required UnitListTexts List { get; init; }

    public required UnitPageTexts Page { get; init; }

    // A heading.
    public required IReadOnlyDictionary<RepairState, string> LastRepair { get; init; }

    // The next step, and why that.
    public required UnitStepTexts Steps { get; init; }

    public required PartsTableTexts Parts { get; init; }

    public required HistoryTableTexts Table { get; init; }

    public required IReadOnlyDictionary<string, string> RecordTypes { get; init; }

    public required SignSectionTexts Signs { get; init; }
}

internal sealed record UnitListTexts
{
    public required string Title { get; init; }

    public required PluralText OnRecord { get; init; }

    public required PluralText Matches { get; init; }

    public required string SearchFor { get; init; }

    public required string Find { get; init; }

    public required string NoneOnRecord { get; init; }

    public required string WhatToSend { get; init; }

    public required string NoMatch { get; init; }

    public required string AllUnits { get; init; }

    public required string Caption { get; init; }

    public required string Unit { get; init; }

    public required string Where { get; init; }

    public required string State { get; init; }

    public required string Model { get; init; }

    public required string LastHeard { get; init; }

    public required string NoRule { get; init; }

    public required string Never { get; init; }

    public required string Units { get; init; }

    public required string Method { get; init; }
}

internal sealed record UnitPageTexts
{
    public required string Unit { get; init; }

    public required string Model { get; init; }

    public required string Serial { get; init; }

    public required string HereSince { get; init; }

    public required string LastHeard { get; init; }

    public required string Never { get; init; }

    public required string Heard { get; init; }

    public required string OpenFaults { get; init; }

    public required string NoOpenFault { get; init; }

    public required string Raised { get; init; }

    public required string LocksWashing { get; init; }

    public required string LocksCooking { get; init; }

    public required string RaisedBy { get; init; }

    public required string RepairVisit { get; init; }

    public required string RepairVisitEnd { get; init; }

    public required string RepairVisitFor { get; init; }

    public required string WhatHappened { get; init; }

    public required string AllOfIt { get; init; }

    public required string RecordsCsv { get; init; }

    public required string RuleByRule { get; init; }

    public required string NoRule { get; init; }

    public required string Why { get; init; }

    public required string Since { get; init; }

    public required string BeforeRecords { get; init; }

    public required string WhoseMove { get; init; }

    public required string LastWash { get; init; }

    public required string NoneOnRecord { get; init; }

    public required string Due { get; init; }

    public required string NothingDue { get; init; }

    public required string PastDeadline { get; init; }

    public required string RuleFrom { get; init; }

    public required string Records { get; init; }

    public required string VisitSheet { get; init; }

    public required string CloseOut { get; init; }

    public required string ReportFault { get; init; }

    public required string PlannedWork { get; init; }

    public required string ThisKitchen { get; init; }

    public required string NoRuleApplies { get; init; }

    public required string Method { get; init; }
}

internal sealed record UnitStepTexts
{
    public required string OpenSheet { get; init; }

    public required string NoRule { get; init; }

    public required string CheckPlug { get; init; }

    public required string Silent { get; init; }

    public required string WashNow { get; init; }

    public required string DescaleNow { get; init; }

    public required string DescalingDue { get; init; }

    public required string Due { get; init; }

    public required string NothingToDo { get; init; }

    public required string RunOut { get; init; }

    public required string StoppedByPerson { get; init; }

    public required string PrepareAVisit { get; init; }

    public required string StoppedByFault { get; init; }

    public required string WashAgain { get; init; }

    public required string DidNotCount { get; init; }

    public required string AskForAVisit { get; init; }

    public required string NoVisitAsked { get; init; }

    public required string PrepareTheVisit { get; init; }

    public required string TechnicianAsked { get; init; }

    public required string Decide { get; init; }

    public required string WaitsForApproval { get; init; }

    public required string WhatToBring { get; init; }

    public required string WaitsForPart { get; init; }

    public required string CloseOut { get; init; }

    public required string WorkedOn { get; init; }

    public required string NothingHeard { get; init; }

    public required string NobodyStarted { get; init; }
}

internal sealed record PartsTableTexts
{
    public required string Heading { get; init; }

    public required string NoPositions { get; init; }

    public required string Caption { get; init; }

    public required string Position { get; init; }

    public required string Fitted { get; init; }

    public required string AgeDays { get; init; }

    public required string AgeWashes { get; init; }

    public required string Chance { get; init; }

    public required string BeforeRecords { get; init; }

    public required string CannotBeTold { get; init; }

    public required string NoChange { get; init; }

    public required string ChanceMeans { get; init; }
}

internal sealed record HistoryTableTexts
{
    public required string None { get; init; }

    public required string Caption { get; init; }

    public required string When { get; init; }

    public required string What { get; init; }

    public required string Record { get; init; }

    public required string Voided { get; init; }

    public required string Received { get; init; }

    public required string Csv { get; init; }
}

internal sealed record SignSectionTexts
{
    public required string Heading { get; init; }

    public required string Caption { get; init; }

    public required string Chart { get; init; }

    public required string Says { get; init; }

    public required string Usual { get; init; }

    public required string SumAndLimit { get; init; }

    public required string FalseAlarms { get; init; }

    public required string Stands { get; init; }

    public required PluralText UsualBad { get; init; }

    public required PluralText UsualWashes { get; init; }

    public required string OfLimit { get; init; }

    public required string InWashes { get; init; }

    public required string InDeviations { get; init; }

    public required string TooLittle { get; init; }

    public required string SumMeans { get; init; }

    public required string Highest { get; init; }

    public required string Restarts { get; init; }

    public required string Title { get; init; }

    public required string Value { get; init; }

    public required string Axis { get; init; }

    public required string Limit { get; init; }

    public required string Numbers { get; init; }

    public required string NumbersOfLast { get; init; }

    public required string WashStarted { get; init; }

    public required string Note { get; init; }

    public required string BeginsAnew { get; init; }
}
