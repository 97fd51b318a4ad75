using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailureRepeatsTexts
{
    internal static TextFile<FailureRepeatsTexts> File { get; } = new("FailureRepeats");

    internal static FailureRepeatsTexts Now => File.Now;

    public required string Heading { get; init; }
    public required PluralText Meaning { get; init; }
    public required string NoRepair { get; init; }
    public required PluralText MorePositions { get; init; }
    public required RepeatPositionTexts Positions { get; init; }
    public required string PlacesHeading { get; init; }
    public required string NoPlace { get; init; }
    public required string NoneStandsOut { get; init; }
    public required string CalledCaption { get; init; }
    public required string OthersCaption { get; init; }
    public required PluralText Places { get; init; }
    public required PluralText OtherPlaces { get; init; }

    // {others} is the text above.
    public required string SomeCalledToo { get; init; }

    public required RepeatPlaceTexts PlaceTable { get; init; }
    public required string BatchesHeading { get; init; }
    public required string NoBatch { get; init; }
    public required PluralText Batches { get; init; }
    public required PluralText OtherBatches { get; init; }
    public required string PointsToHeading { get; init; }
    public required PluralText OneByOne { get; init; }
    public required string NewestOneByOne { get; init; }
    public required string TakeAlong { get; init; }

    // Read aloud after CSV.
    public required string OfEveryRepeat { get; init; }

    public required RepeatTableTexts Table { get; init; }
    public required string Basis { get; init; }

    // What the basis counts.
    public required string Repairs { get; init; }

    // {link} is below.
    public required string Method { get; init; }

    public required string PartLife { get; init; }

    // Help with a row of the reader's own.
    public required PluralText ShareHere { get; init; }

    public required string ExpectedHere { get; init; }

    // For the basis; {method} is how repeats are found.
    public required string MethodName { get; init; }

    public required string NothingReplaced { get; init; }

    // After what came back.
    public required PluralText Within { get; init; }

    public required PluralText NoneWorse { get; init; }
    public required PluralText SomeWorse { get; init; }

    // Of a list; names of positions as they stand inside of a sentence.
    public required string CalledPlace { get; init; }

    public required string CalledBatch { get; init; }
    public required PluralText Days { get; init; }

    // Evidence.
    public required string WrongCauseFound { get; init; }

    public required string RepairDidNotHold { get; init; }
    public required PluralText BadBatch { get; init; }
    public required PluralText UnitEatsParts { get; init; }
    public required PluralText Unexplained { get; init; }
    public required string AsExpected { get; init; }
    public required string TooLittle { get; init; }
}

internal sealed record RepeatPositionTexts
{
    public required PluralText Caption { get; init; }
    public required string Repaired { get; init; }
    public required string Repairs { get; init; }
    public required string CameBack { get; init; }
    public required string Share { get; init; }
    public required string Expected { get; init; }
    public required string Ratio { get; init; }
    public required string SamePosition { get; init; }
    public required string SameFault { get; init; }
    public required string NoModel { get; init; }
    public required string Under { get; init; }
}

internal sealed record RepeatPlaceTexts
{
    public required string Unit { get; init; }
    public required string Position { get; init; }
    public required string Failures { get; init; }
    public required string Expected { get; init; }
    public required string Ratio { get; init; }
    public required string Batch { get; init; }
    public required string Parts { get; init; }
    public required string StillFitted { get; init; }

    // Read aloud after their number.
    public required string PartsOfBatch { get; init; }
}

internal sealed record RepeatTableTexts
{
    public required string Label { get; init; }
    public required string Caption { get; init; }
    public required string Unit { get; init; }
    public required string What { get; init; }
    public required string Repaired { get; init; }
    public required string FailedAgain { get; init; }
    public required string PointsTo { get; init; }
    public required string Batch { get; init; }
    public required string After { get; init; }
}
