using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

// A visit's receipt, the list of visits, and the words of visits that the form shares.
internal sealed record VisitTexts
{
    internal static TextFile<VisitTexts> File { get; } = new("Visits");

    internal static VisitTexts Now => File.Now;

    public required string VisitTo { get; init; }

    public required string VisitToAt { get; init; }

    public required string NoLongerCounts { get; init; }

    public required string WhatStandsForIt { get; init; }

    public required string CorrectsEarlier { get; init; }

    public required string EarlierOne { get; init; }

    public required string SomethingWrong { get; init; }

    public required string Correct { get; init; }

    public required string Withdraw { get; init; }

    public required string WithdrawSays { get; init; }

    public required string WithdrawReason { get; init; }

    public required string WithdrawNow { get; init; }

    public required string Mind { get; init; }

    public required string WhatFollows { get; init; }

    public required string UnitsApprovals { get; init; }

    public required string ToTheUnit { get; init; }

    public required string WhatWasRecorded { get; init; }

    public required string Technician { get; init; }

    public required string AskedFor { get; init; }

    public required string Arrived { get; init; }

    public required string Left { get; init; }

    public required string Outcome { get; init; }

    public required string SentBy { get; init; }

    public required string Received { get; init; }

    public required string Faults { get; init; }

    public required string Found { get; init; }

    public required string Parts { get; init; }

    public required string LookedAt { get; init; }

    public required string Checks { get; init; }

    public required string Proofs { get; init; }

    public required string Note { get; init; }

    public required string Photos { get; init; }

    public required string Photo { get; init; }

    public required string EarlierPhoto { get; init; }

    public required PluralText EarlierPhotos { get; init; }

    public required string AddPhotos { get; init; }

    public required string Add { get; init; }

    public required PluralText Counted { get; init; }

    public required string VisitsOfLastDays { get; init; }

    public required PluralText PhotoCount { get; init; }

    // By what was done just now.
    public required IReadOnlyDictionary<string, string> Done { get; init; }

    // By the rule that files break.
    public required IReadOnlyDictionary<string, PluralText> LeftOut { get; init; }

    // What a check or proof came to; empty: it was not done.
    public required IReadOnlyDictionary<string, string> Results { get; init; }

    public required IReadOnlyDictionary<string, string> ResultsInside { get; init; }

    // How a part looks; empty: nobody looked.
    public required IReadOnlyDictionary<string, string> Grades { get; init; }

    public required IReadOnlyDictionary<string, string> GradesInside { get; init; }

    // Why a part was taken out; empty: it was not.
    public required IReadOnlyDictionary<string, string> Reasons { get; init; }

    public required IReadOnlyDictionary<VisitOutcome, string> Outcomes { get; init; }

    public required string NoOutcome { get; init; }

    public required IReadOnlyDictionary<VisitOutcome, string> Next { get; init; }

    public required string NextMissing { get; init; }

    public required string NextNotTold { get; init; }

    public required string NobodyCameYet { get; init; }

    public required string ProvenBut { get; init; }

    public required string ProvenWithout { get; init; }

    public required ContradictionTexts Contradictions { get; init; }

    public required string Overlaps { get; init; }

    public required string OverlapsBy { get; init; }

    public required PartChangeTexts Part { get; init; }

    public required AskedTexts Asked { get; init; }

    public required string Method { get; init; }

    // By the code of the proof.
    public required IReadOnlyDictionary<string, string> ProofNames { get; init; }

    public required IReadOnlyDictionary<string, string> ProofHow { get; init; }

    public required IReadOnlyDictionary<ProgrammeGrade, string> WashOfGrade { get; init; }
}

// What the unit's own records say against a repair; NoneReported: a full wash is said to have completed, and the unit knows of none.
internal sealed record ContradictionTexts(
    string WashOfVisitStopped, string WashOfVisitTooLow, string DetergentLeft, string FirstWashStopped, string NoneReportedNextStopped,
    string FirstWashRefused, string NoneReportedNextRefused, string SameFaultAgain);

// Clauses on what went out and what came in.
internal sealed record PartChangeTexts(
    IReadOnlyDictionary<string, string> Out, string LastSeenGood, string In, string InNumberNotKnown, string Batch, string CountsAsFailure);

internal sealed record AskedTexts(string Undecided, string Granted, string Refused, string Withdrawn, string NobodyNamed);
