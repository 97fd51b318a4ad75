using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

internal sealed record PartLifeTexts
{
    internal static TextFile<PartLifeTexts> File { get; } = new("PartLife");

    internal static PartLifeTexts Now => File.Now;

    public required string PartLife { get; init; }
    public required string PartLifeOf { get; init; }
    public required string PartLifeOfGroup { get; init; }
    public required string None { get; init; }
    public required string WhatToSend { get; init; }

    // A link; {clock} is of clocks_after_in.
    public required string CountIn { get; init; }

    // What the basis counts.
    public required string Lives { get; init; }

    // For the basis.
    public required string Method { get; init; }

    public required IReadOnlyDictionary<string, string> Groupings { get; init; }

    // As they stand inside of a sentence.
    public required IReadOnlyDictionary<string, string> GroupingsInside { get; init; }

    // Groups that have no name of their own, by the name that addresses know.
    public required IReadOnlyDictionary<string, string> Groups { get; init; }

    public required LifeHelpTexts Help { get; init; }
    public required PartLifeFormTexts Form { get; init; }
    public required ClockReasonTexts ClockReason { get; init; }
    public required EarlyGroupTexts Early { get; init; }
    public required PoorSwapTexts Poor { get; init; }
    public required NotEnoughTexts NotEnough { get; init; }
    public required FixedShapeTexts Fixed { get; init; }
    public required LifeCountsTexts Counts { get; init; }
    public required LifeListTexts List { get; init; }
    public required ChanceTexts Chance { get; init; }
}

internal sealed record LifeHelpTexts
{
    public required string HowToRead { get; init; }

    // Read aloud after it.
    public required string Of { get; init; }
}

internal sealed record PartLifeFormTexts
{
    public required string Position { get; init; }
    public required PluralText PositionFailures { get; init; }
    public required string Model { get; init; }
    public required string All { get; init; }
    public required string Clock { get; init; }
    public required string BestClock { get; init; }
    public required string Mode { get; init; }
    public required string AllModes { get; init; }
    public required string Compare { get; init; }
    public required string Nothing { get; init; }
    public required string By { get; init; }
    public required string OnlyGroup { get; init; }
    public required string AllGroups { get; init; }
    public required string Ages { get; init; }
    public required string Shape { get; init; }
    public required string Show { get; init; }
}

internal sealed record ClockReasonTexts
{
    public required string DaysAlwaysKnown { get; init; }

    // {clock} is of clocks_after_in, here and below.
    public required string Best { get; init; }

    public required string DaysUndecided { get; init; }

    // {best} is of clocks.
    public required string AskedAgainstBest { get; init; }

    public required string Asked { get; init; }
}

internal sealed record EarlyGroupTexts
{
    // After the group's kind and name.
    public required string FailsEarly { get; init; }

    // By parts; {units} is below.
    public required PluralText WhereItIs { get; init; }

    public required PluralText Units { get; init; }
    public required IReadOnlyDictionary<string, string> HowLong { get; init; }
    public required PluralText ItsParts { get; init; }
    public required string AllCompared { get; init; }
    public required PluralText Sentence { get; init; }
    public required PluralText Failures { get; init; }
    public required PluralText Parts { get; init; }
    public required PluralText Groups { get; init; }
}

internal sealed record PoorSwapTexts
{
    public required PluralText Heading { get; init; }
    public required string Flatter { get; init; }
    public required string Caption { get; init; }
    public required string What { get; init; }
    public required string AsGood { get; init; }
    public required string AsGoodShort { get; init; }
    public required string AboutToFail { get; init; }
    public required string Show { get; init; }
}

internal sealed record NotEnoughTexts
{
    public required string Heading { get; init; }

    // {are} is below.
    public required string AsksFor { get; init; }

    public required PluralText Needed { get; init; }
    public required PluralText Are { get; init; }
    public required string UnderWatch { get; init; }
    public required string CanBeSaid { get; init; }

    // After the text above.
    public required string ConstantRate { get; init; }
}

internal sealed record FixedShapeTexts
{
    public required string Heading { get; init; }
    public required PluralText Caption { get; init; }
    public required string What { get; init; }
    public required string AtLeast { get; init; }
    public required string BestValue { get; init; }
    public required string NoneWithoutFailure { get; init; }

    // Without a capital; {clock} is of clocks_after_in.
    public required string Sentence { get; init; }

    public required string Help { get; init; }
    public required PluralText HelpHere { get; init; }
}

internal sealed record LifeCountsTexts
{
    public required string Heading { get; init; }
    public required string Failed { get; init; }

    // After the link above.
    public required string FailedHow { get; init; }

    public required string StillFitted { get; init; }

    // After the link above.
    public required string Working { get; init; }

    public required string Removed { get; init; }

    // After the link above.
    public required string LookedPoor { get; init; }

    public required string EnteredLate { get; init; }
    public required string AllInTable { get; init; }
    public required string AsCsv { get; init; }
    public required string LeftOutNone { get; init; }
    public required PluralText LeftOut { get; init; }
    public required string Caption { get; init; }
    public required string PartsLeftOut { get; init; }
    public required string Reason { get; init; }
    public required string InWords { get; init; }
    public required string LeftOutHead { get; init; }
    public required IReadOnlyDictionary<string, string> Kinds { get; init; }

    // By what is counted.
    public required IReadOnlyDictionary<string, PluralText> Counted { get; init; }
}

internal sealed record LifeListTexts
{
    public required string Title { get; init; }
    public required string Label { get; init; }
    public required string None { get; init; }
    public required IReadOnlyDictionary<LifeKind, string> Kinds { get; init; }
    public required IReadOnlyDictionary<LifeKind, PluralText> Sentences { get; init; }

    // Of a position and one group of its parts.
    public required string NameOfGroup { get; init; }

    public required string Caption { get; init; }
    public required string Unit { get; init; }
    public required string Part { get; init; }
    public required string Fitted { get; init; }
    public required string Ended { get; init; }
    public required string How { get; init; }
    public required string Entry { get; init; }
    public required string Days { get; init; }
    public required string Washes { get; init; }
    public required string Hours { get; init; }
    public required string LeftOutBecause { get; init; }

    // Below the unit.
    public required string Place { get; init; }

    public required string Batch { get; init; }
    public required string BeforeRecords { get; init; }
    public required string StillFitted { get; init; }
    public required IReadOnlyDictionary<string, string> EndedHow { get; init; }
    public required string LookedPoor { get; init; }
}

internal sealed record ChanceTexts
{
    // The model behind a chance to fail; {failures} and {parts} are those of early groups.
    public required string Fitted { get; init; }

    public required string AgeNotKnown { get; init; }
    public required string NoLives { get; init; }
}
