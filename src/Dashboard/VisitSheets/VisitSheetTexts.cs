using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

internal sealed record VisitSheetTexts
{
    internal static TextFile<VisitSheetTexts> File { get; } = new("VisitSheets");

    internal static VisitSheetTexts Now => File.Now;

    public required string VisitSheet { get; init; }

    public required string Title { get; init; }

    public required string Fault { get; init; }

    public required string FoundAlready { get; init; }

    public required string CheckToConfirm { get; init; }

    public required string CheckFirst { get; init; }

    public required string CheckNext { get; init; }

    public required string SoFar { get; init; }

    public required string Bring { get; init; }

    public required string WorthSwapping { get; init; }

    public required string Where { get; init; }

    public required string Serial { get; init; }

    public required string Prove { get; init; }

    public required string CloseOut { get; init; }

    public required string Print { get; init; }

    public required string SameAsJson { get; init; }

    public required PluralText MoreOnScreen { get; init; }

    public required SheetCausesTexts Causes { get; init; }

    public required SheetChecksTexts Checks { get; init; }

    public required IReadOnlyDictionary<SheetResult, string> Done { get; init; }

    public required SheetHistoryTexts History { get; init; }

    public required SheetPartsTexts Parts { get; init; }

    public required PurposeTexts Purpose { get; init; }

    public required SheetFaultTexts OfFault { get; init; }

    // By grade: found, worn, poor.
    public required IReadOnlyDictionary<string, string> LeftToDo { get; init; }

    public required IReadOnlyDictionary<string, string> LeftToDoNoted { get; init; }

    public required WorthTexts Worth { get; init; }

    public required string NothingWorth { get; init; }

    public required PluralText PartsWorth { get; init; }

    public required string Refused { get; init; }

    public required string RefusedByFault { get; init; }

    public required string VisitAsked { get; init; }
}

internal sealed record SheetCausesTexts(string Heading, string FaultNotListed, string NoneNamed, string BeforeChecks, PluralText More, string TakeCare);

internal sealed record SheetChecksTexts
{
    public required string Heading { get; init; }

    public required string CatalogueOrder { get; init; }

    public required string About { get; init; }

    public required string AboutInOrder { get; init; }

    public required string TellEach { get; init; }

    public required string DoneOn { get; init; }

    public required string DoneAgain { get; init; }

    public required string TakeBack { get; init; }

    // Heard only, right after TakeBack.
    public required string TakeBackOf { get; init; }

    public required string ToConfirm { get; init; }

    public required string OnlyIf { get; init; }

    public required string SpeaksOf { get; init; }

    public required string WouldSay { get; init; }

    public required string Passes { get; init; }

    public required string Fails { get; init; }

    public required string NotDone { get; init; }

    public required string PassesInside { get; init; }

    public required string FailsInside { get; init; }

    public required string StopAt { get; init; }

    public required string BeginAnew { get; init; }
}

internal sealed record SheetHistoryTexts(
    string State, string NoRule, string AlsoOpen, string LastWashes, string NoWash, string LastVisits, string NoVisit);

internal sealed record SheetPartsTexts(
    string NoNumber, string NeededIn, string LeftOpen, string FittedNow, string NoPositions, string Caption, string Position, string Days, string Washes,
    string AgeDays, string AgeWashes, string FailsSoon, string AgeNotKnown);

internal sealed record PurposeTexts(
    string NoRule, string StateFor, string FaultNotListed, string Planned, string Open, string LastLockout, string AskedFor);

internal sealed record SheetFaultTexts(
    string NotInCatalogue, string LocksBoth, string LocksWashing, string LocksCooking, string NotOnRecord, string OpenSince, string LastLockout, string NotOpen,
    string RaisedLastYear);

// Clauses that stand in a list of reasons, the first with a capital.
internal sealed record WorthTexts(
    IReadOnlyDictionary<string, string> Recommended, string LikelyToFail, IReadOnlyDictionary<string, string> Past, string WhateverAge, string Saved,
    string WhileOpen);
