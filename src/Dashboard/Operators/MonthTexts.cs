using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

internal sealed record MonthTexts
{
    internal static TextFile<MonthTexts> File { get; } = new("Month");

    internal static MonthTexts Now => File.Now;

    public required string Finding { get; init; }

    public required string FindingSoFar { get; init; }

    // Follows the month.
    public required string NoneDue { get; init; }

    // Follows the month.
    public required PluralText Kept { get; init; }

    public required PluralText Silent { get; init; }

    public required string NoneLockedOut { get; init; }

    public required PluralText LockedOut { get; init; }

    public required string NoRepair { get; init; }

    public required PluralText Repaired { get; init; }

    public required PluralText RepairedInDoubt { get; init; }

    public required string AllHeard { get; init; }

    public required PluralText NotHeard { get; init; }

    public required string Method { get; init; }

    public required MonthPageTexts Page { get; init; }
}

internal sealed record MonthPageTexts
{
    public required string ReportOf { get; init; }

    public required string ReportOfSoFar { get; init; }

    public required string Month { get; init; }

    public required string FromTo { get; init; }

    public required string Clock { get; init; }

    public required string AsMost { get; init; }

    public required string KitchensAndOvens { get; init; }

    public required PluralText Kitchens { get; init; }

    public required PluralText Ovens { get; init; }

    public required string Print { get; init; }

    public required string MonthBefore { get; init; }

    public required string MonthAfter { get; init; }

    public required string AsJson { get; init; }

    public required string Washing { get; init; }

    public required string Csv { get; init; }

    public required string Worst { get; init; }

    public required string NoneMissed { get; init; }

    public required PluralText MissedCaption { get; init; }

    public required PluralText FirstMissedCaption { get; init; }

    public required string Kitchen { get; init; }

    public required string Missed { get; init; }

    public required string OnTime { get; init; }

    public required string MostHours { get; init; }

    public required string CouldNotWash { get; init; }

    public required string LockoutsCaption { get; init; }

    public required string LongestLockoutsCaption { get; init; }

    public required string Oven { get; init; }

    public required string Fault { get; init; }

    public required string FromTill { get; init; }

    public required string HowLong { get; init; }

    public required string Mostly { get; init; }

    public required string Beyond { get; init; }

    public required string Now { get; init; }

    public required string Repairs { get; init; }

    public required string HowProven { get; init; }

    public required string RepairsCaption { get; init; }

    public required string SomeRepairsCaption { get; init; }

    public required string Ended { get; init; }

    public required string For { get; init; }

    public required string NoFault { get; init; }

    public required string Proven { get; init; }

    public required string Parts { get; init; }

    public required string NoPart { get; init; }

    public required string PartsCaption { get; init; }

    public required string Part { get; init; }

    public required string Changed { get; init; }

    public required string HadFailed { get; init; }

    public required string AndMore { get; init; }

    public required string NotHeard { get; init; }

    public required string Silence { get; init; }

    public required string Planned { get; init; }

    public required PluralText NextVisits { get; init; }

    public required string Visits { get; init; }

    public required string Day { get; init; }

    public required string WhatIsDone { get; init; }

    public required string Cost { get; init; }

    public required string WashesDue { get; init; }
}
