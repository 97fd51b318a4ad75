using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailuresTexts
{
    internal static TextFile<FailuresTexts> File { get; } = new("Failures");

    internal static FailuresTexts Now => File.Now;

    public required string Failures { get; init; }

    // Kicker where a choice narrows the page.
    public required string FailuresOfAPart { get; init; }

    public required string Only { get; init; }

    // Read aloud after what narrows the page.
    public required string TakeAway { get; init; }

    public required string ShowAll { get; init; }

    // By field of the choice.
    public required IReadOnlyDictionary<string, string> NarrowedBy { get; init; }

    public required NoFailuresTexts Empty { get; init; }
    public required FailureAnswerTexts Answers { get; init; }
    public required FailureFormTexts Form { get; init; }

    // After 'over'.
    public required IReadOnlyDictionary<RecurrenceAxis, string> Axes { get; init; }

    public required IReadOnlyDictionary<string, string> Comparisons { get; init; }
    public required FailureMethodTexts Method { get; init; }
    public required FailureRecordTexts Records { get; init; }

    // Beside the mark of a row that is worse than chance explains.
    public required string StandsOut { get; init; }

    public required string StandsOutHead { get; init; }
    public required string WithinChance { get; init; }
    public required string BeyondChance { get; init; }
    public required PluralText Expected { get; init; }

    // After a figure that is not whole.
    public required string FailuresUnit { get; init; }

    public required IReadOnlyDictionary<string, string> Verdicts { get; init; }
    public required IReadOnlyDictionary<RateGroup, string> RateGroups { get; init; }
    public required IReadOnlyDictionary<ParetoGroup, string> ParetoGroups { get; init; }
    public required IReadOnlyDictionary<ParetoMeasure, string> Measures { get; init; }
    public required IReadOnlyDictionary<RepeatKind, string> RepeatKinds { get; init; }
    public required IReadOnlyDictionary<RepeatKind, string> RepeatMeanings { get; init; }
}

internal sealed record NoFailuresTexts
{
    public required string Heading { get; init; }
    public required string NothingWatched { get; init; }
    public required string NoneYet { get; init; }
    public required string WhatToSend { get; init; }
}

internal sealed record FailureAnswerTexts
{
    public required string Label { get; init; }
    public required string Worse { get; init; }
    public required string Rates { get; init; }
    public required string NoneStandsOut { get; init; }
    public required IReadOnlyDictionary<RateGroup, PluralText> StandOut { get; init; }
    public required string Repeats { get; init; }
    public required string NoRepair { get; init; }
    public required PluralText CameBack { get; init; }
    public required string Pareto { get; init; }
    public required string NothingOnRecord { get; init; }
    public required string Recurrence { get; init; }
    public required string TimesAYear { get; init; }
    public required string TimesAPart { get; init; }
    public required string TooLittle { get; init; }
}

internal sealed record FailureFormTexts
{
    public required string Count { get; init; }
    public required string Faults { get; init; }
    public required string Parts { get; init; }
    public required string From { get; init; }
    public required string Until { get; init; }
    public required string Operator { get; init; }
    public required string Model { get; init; }
    public required string Position { get; init; }
    public required string Code { get; init; }
    public required string All { get; init; }
    public required string Show { get; init; }
    public required string More { get; init; }
    public required string Gap { get; init; }
    public required string Window { get; init; }
    public required string Compare { get; init; }
    public required string CompareNothing { get; init; }
    public required string CompareBy { get; init; }
    public required string Axis { get; init; }

    // Before links with numbers of months.
    public required string Shown { get; init; }

    public required PluralText Months { get; init; }
}

internal sealed record FailureMethodTexts
{
    public required string How { get; init; }

    // Read aloud after it.
    public required string Of { get; init; }

    public required string ForPrograms { get; init; }

    // Read aloud after CSV and JSON.
    public required string FileOf { get; init; }

    public required string Csv { get; init; }
    public required string Json { get; init; }

    // What is counted.
    public required string Units { get; init; }

    // By the reason as the API spells it.
    public required IReadOnlyDictionary<string, string> LeftOut { get; init; }
}

internal sealed record FailureRecordTexts
{
    public required string Title { get; init; }
    public required IReadOnlyDictionary<FailureKind, string> Headings { get; init; }
    public required string Count { get; init; }
    public required IReadOnlyDictionary<FailureKind, string> Nothing { get; init; }

    // {link} is below.
    public required string TakeAwayOr { get; init; }

    public required string LastYear { get; init; }
    public required string Gap { get; init; }
    public required IReadOnlyDictionary<FailureKind, string> Captions { get; init; }
    public required string When { get; init; }
    public required string Unit { get; init; }
    public required string What { get; init; }

    // Head of the fourth column.
    public required IReadOnlyDictionary<FailureKind, string> Fourth { get; init; }

    public required string LockedOut { get; init; }
    public required string Unwashed { get; init; }
    public required string NotCleared { get; init; }
    public required string ClearedAfter { get; init; }
    public required string BatchAndAge { get; init; }
    public required string AgeNotKnown { get; init; }
    public required string DaysOld { get; init; }
    public required string ModeNotTold { get; init; }
    public required string Help { get; init; }
    public required string HelpLockedOut { get; init; }
    public required string HelpLockedOutHere { get; init; }
    public required string HelpUnwashed { get; init; }
    public required string HelpUnwashedHere { get; init; }
}
