using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

internal sealed record CleaningTexts
{
    internal static TextFile<CleaningTexts> File { get; } = new("Cleaning");

    internal static CleaningTexts Now => File.Now;

    public required IReadOnlyDictionary<CleaningState, string> States { get; init; }

    public required IReadOnlyDictionary<CleaningState, string> StatesInSentence { get; init; }

    public required IReadOnlyDictionary<Cause, string> Causes { get; init; }

    public required IReadOnlyDictionary<Cause, string> CausesInSentence { get; init; }

    public required IReadOnlyDictionary<Mover, string> Movers { get; init; }

    public required IReadOnlyDictionary<Mover, string> MoversInSentence { get; init; }

    // What one who has the move does about it.
    public required IReadOnlyDictionary<Mover, string> Tasks { get; init; }

    public required CauseGroupTexts Groups { get; init; }

    public required CleaningStepTexts Steps { get; init; }

    // Follows a number, within a sentence.
    public required PluralText OfUnits { get; init; }

    public required string PartOfWhole { get; init; }

    public required PluralText Window { get; init; }

    public required CleaningPageTexts Page { get; init; }

    public required StatusTableTexts Table { get; init; }

    public required CleaningFormTexts Form { get; init; }

    public required CleaningHelpTexts Help { get; init; }
}

internal sealed record CauseGroupTexts
{
    public required string InOrder { get; init; }

    public required string Kitchen { get; init; }

    public required string Service { get; init; }

    public required string Unheard { get; init; }

    public required string NotOwed { get; init; }
}

internal sealed record CleaningStepTexts
{
    public required string WashNow { get; init; }

    public required string DescaleNow { get; init; }

    public required string RunOut { get; init; }

    public required string SendTechnician { get; init; }

    public required string WashAgain { get; init; }

    public required string AskVisit { get; init; }

    public required string CallTechnician { get; init; }

    public required string Decide { get; init; }

    public required string AskPart { get; init; }

    public required string Prove { get; init; }

    public required string CheckPlug { get; init; }
}

internal sealed record CleaningPageTexts
{
    public required string Title { get; init; }

    public required string Empty { get; init; }

    public required string WhoseMove { get; init; }

    public required string ByMove { get; init; }

    public required string ByState { get; init; }

    public required string WorstFirst { get; init; }

    public required string InChosenOrder { get; init; }

    public required string RowARule { get; init; }

    public required string Narrow { get; init; }

    public required string NoneOfChoice { get; init; }

    public required string HeadingOfMover { get; init; }

    public required string Only { get; init; }

    public required string OnlyMover { get; init; }

    public required PluralText OnlyUnwashed { get; init; }

    public required string OnlyOperator { get; init; }

    public required string OnlyRegion { get; init; }

    public required string OnlySite { get; init; }

    public required string OnlyModel { get; init; }

    public required string OnlyUnit { get; init; }

    public required string TakeAway { get; init; }

    public required string ShowAll { get; init; }

    public required PluralText Weeks { get; init; }

    public required string Kept { get; init; }

    public required string Why { get; init; }

    public required string RestsOn { get; init; }

    public required string BasisOfStates { get; init; }

    public required string BasisOfSigns { get; init; }

    public required string BasisOfShares { get; init; }

    public required string UnitsAndRules { get; init; }

    public required string Units { get; init; }

    public required string WashesDue { get; init; }
}

internal sealed record StatusTableTexts
{
    public required string NoMatch { get; init; }

    public required string ShowAllUnits { get; init; }

    public required string Caption { get; init; }

    public required string Unit { get; init; }

    public required string State { get; init; }

    public required string WhatHolds { get; init; }

    public required string PastDeadline { get; init; }

    public required string LastWash { get; init; }

    public required string WhoseMove { get; init; }

    public required string NoneOnRecord { get; init; }

    public required string Since { get; init; }

    public required string SinceBeforeRecords { get; init; }
}

internal sealed record CleaningFormTexts
{
    public required string State { get; init; }

    public required string Any { get; init; }

    public required string Unwashed { get; init; }

    public required string Operator { get; init; }

    public required string All { get; init; }

    public required string Region { get; init; }

    public required string Model { get; init; }

    public required string SiteCode { get; init; }

    public required string Compare { get; init; }

    public required string By { get; init; }

    public required string Over { get; init; }

    public required string Show { get; init; }
}

/// <summary>What the figures mean.</summary>
internal sealed record CleaningHelpTexts
{
    public required string Sign { get; init; }

    public required string FalseAlarms { get; init; }

    public required string ChangeName { get; init; }

    public required string ChangeByChance { get; init; }

    public required string ChangeBeyondChance { get; init; }

    public required string OnTime { get; init; }

    public required string BoundsName { get; init; }

    public required string Bounds { get; init; }

    public required string BoundsOfStretch { get; init; }

    public required string TimeWithin { get; init; }

    public required string LongestGap { get; init; }

    public required string HoursName { get; init; }

    public required string Hours { get; init; }
}
