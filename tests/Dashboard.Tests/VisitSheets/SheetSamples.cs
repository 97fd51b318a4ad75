using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Diagnosis;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Dashboard.Tests.VisitSheets;

/// <summary>Visit sheets of an invented fleet, full, hostile and empty.</summary>
public static class SheetSamples
{
    public static SheetPart Pump { get; } = new(
        "wash-pump", "Wash pump", "P-7731", Samples.AsOf.AddDays(-410), 410.4, 388, 2900, Samples.Share(0.15, 0.12, 0.17), 0.28, 500,
        "Weibull fit to 41 failures of 143 parts, in days");

    public static SheetCause Cause { get; } = new(
        "wash-pump", "Wash pump, blocked", "blocked", "food debris", 0.46, 0.4, 0.3, 31, 0.44, 1,
        "31 of 70 earlier visits for this fault found it, and this wash pump is 410 days old (half have failed by 500).");

    public static VisitSheetReport Full { get; } = new(
        Samples.Basis("Bayes' rule", 70), "OV-1003", "73-0021987", "S3", "Fennel Street Clinic", "Quillmere Kitchens", "H20",
            "Hearth 20, twenty trays",
        Samples.Zone, "Locked out for 8 days 5 h: Drain valve does not close.",
        new SheetQuestion("E-41", [new CheckAnswer("look", SheetResult.Pass), new CheckAnswer("smell", SheetResult.NotDone)]),
        [Samples.LockedOut[0]],
        new SheetFault("E-41", "Drain valve does not close", FaultReason.Open, Samples.AsOf.AddHours(-197), null, true, false, 3,
            "Drain valve does not close."),
        [new("W-07", "Door switch slow", Samples.AsOf.AddHours(-20), false, false)],
        [
            new("hose", "Pump hose", "worn", Samples.AsOf.AddDays(-40), "hardened", "Pump hose: worn on 24 Apr 2025, left in (hardened)."),
            new("wash-pump", "Wash pump", "found", Samples.AsOf.AddDays(-4), null,
                "Wash pump: found at fault on 30 May 2025, not changed since."),
        ],
        [new(Samples.AsOf.AddDays(-1), WashOutcome.Refused, 4, "Refused by the unit 4 times since 27 May 2025 (E-41).")],
        [new(Samples.AsOf.AddDays(-90), "Visit by technician 7: repaired and proven after 1 h 30 min.")],
        [Pump, Pump with { Position = "valve", Name = "Drain valve", PartNumber = null, AgeDays = null, AgeWashes = null,
            ChanceToFail90Days = null, HalfFailedByDays = null, ChanceBasis = "no part change on record" }],
        new SheetDiagnosis(
            DiagnosisStage.CheckNext, "Most likely wash pump, blocked (46 %). Check next: Turn the pump by hand.", 0.9, 0.46, "turn", 63, 3,
                70, 4,
            [Cause, Cause with { Name = "Drain valve, stuck", Probability = 0.004 }, Cause
                with { Position = null, Name = "Something else", Cause = null, Probability = 0.1 }],
            ["The visit of Fri 27 Feb 2026 found no cause yet and left the fault open. Its checks: look at the sump (passed)."], []),
        [
            new("look", "Look at the sump", 3, ["Wash pump"], ["hot"], SheetResult.Pass, true, null, null, null),
            new("smell", "Smell at the motor", 1, ["Wash pump"], [], SheetResult.NotDone, true, null, null, null),
            new("turn", "Turn the pump by hand", 12, ["Wash pump"], ["electric"], null, true, 0.4, "wash pump 93 %", "drain valve 61 %"),
            new("open", "Open the drain valve", 20, ["Drain valve"], [], null, false, 0.1, "drain valve 93 %", "something else 61 %"),
        ],
        new SheetParts(
            "With this along all that is needed is there in 91 %.", 0.9, 0.91, [new("wash-pump", "Wash pump", "P-7731", 0.46)],
            [new("hose", "Pump hose", null, "wash-pump", 0.31, "31 % to fail within 180 days, while the wash pump is open")], 0.2),
        [new("full-wash", "Full wash completed", "A standard wash ran to its end by itself.")],
        SafetyCautions.For([("look", ["hot"]), ("turn", ["electric"])]), SafetyCautions.Deferral);

    public static VisitSheetReport Hostile { get; } = Full with
    {
        Unit = "a/b?c#d%20&\"<",
        Serial = Tests.Hostile.Name,
        Site = Tests.Hostile.Name,
        SiteName = Tests.Hostile.LongName,
        OperatorName = Tests.Hostile.Name,
        ModelName = Tests.Hostile.Name,
        TimeZone = "Nowhere/Else",
        Sentence = Tests.Hostile.Name,
        Question = new SheetQuestion(Tests.Hostile.Name, [new CheckAnswer(Tests.Hostile.Name, SheetResult.Fail)], 0.95),
        Cleaning = [Tests.Hostile.Unit(CleaningState.LockedOut)],
        Fault = new SheetFault(Tests.Hostile.Name, null, FaultReason.AskedFor, null, null, true, true, 0, Tests.Hostile.Name),
        AlsoOpen = [new(Tests.Hostile.Name, Tests.Hostile.Name, DateTimeOffset.MinValue, true, true)],
        Recommendations = [new(Tests.Hostile.Name, Tests.Hostile.Name, "found", DateTimeOffset.MaxValue, Tests.Hostile.Name,
            Tests.Hostile.Name)],
        Washes = [new(DateTimeOffset.MaxValue, WashOutcome.Unknown, 1, Tests.Hostile.Name)],
        Visits = [new(DateTimeOffset.MinValue, Tests.Hostile.Name)],
        Fitted = [Pump with { Position = Tests.Hostile.Name, Name = Tests.Hostile.LongName, AgeDays = double.NaN, AgeWashes =
            double.PositiveInfinity, ChanceToFail90Days = new(double.NaN, double.NaN, double.PositiveInfinity, 0.95, Tests.Hostile.Name) }],
        Diagnosis = new SheetDiagnosis(
            DiagnosisStage.NotCertain, Tests.Hostile.Name, double.NaN, double.NaN, null, double.NaN, double.NaN, 0, 0,
            [Cause with { Name = Tests.Hostile.Name, Cause = Tests.Hostile.Name, Probability = double.NaN, ProbabilityBeforeChecks =
                double.NaN, Position = null, Sentence = Tests.Hostile.Name }],
            [Tests.Hostile.Name], [Tests.Hostile.Name]),
        Checks =
        [
            new(Tests.Hostile.Name, Tests.Hostile.Name, double.NaN, [Tests.Hostile.Name], [Tests.Hostile.Name], SheetResult.Fail, true,
                null, null, null),
            new("x:y", Tests.Hostile.LongName, 1, [], [], null, true, double.NaN, Tests.Hostile.Name, Tests.Hostile.Name),
        ],
        Bring = new SheetParts(
            Tests.Hostile.Name, 0.9, double.NaN, [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, double.NaN)],
            [new(Tests.Hostile.Name, Tests.Hostile.Name, null, null, double.NaN, Tests.Hostile.Name)], 0.2),
        Proofs = [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name)],
        Cautions = [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, [Tests.Hostile.Name])],
    };

    public static VisitSheetReport Empty { get; } = Full with
    {
        Serial = null,
        Sentence = "No cleaning rule applies; no fault is open and none has locked it out lately: a sheet for planned work.",
        Question = SheetQuestion.Usual,
        Cleaning = [],
        Fault = null,
        AlsoOpen = [],
        Recommendations = [],
        Washes = [],
        Visits = [],
        Fitted = [],
        Diagnosis = null,
        Checks = [],
        Bring = new SheetParts("Nothing fitted is known to be worn or likely to fail soon.", 0.9, null, [], [], 0.2),
        Cautions = [],
    };
}
