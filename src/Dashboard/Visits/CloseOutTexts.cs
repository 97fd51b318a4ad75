using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

// The form that closes a visit, by its sections, and the page of what a device keeps.
internal sealed record CloseOutTexts
{
    internal static TextFile<CloseOutTexts> File { get; } = new("CloseOut");

    internal static CloseOutTexts Now => File.Now;

    public required string Title { get; init; }

    public required string Kicker { get; init; }

    public required string ClosedAlready { get; init; }

    public required string FurtherVisit { get; init; }

    public required string Corrects { get; init; }

    public required string EarlierOne { get; init; }

    public required string MayNotSend { get; init; }

    public required string MayNotSendSays { get; init; }

    public required PluralText NotSaved { get; init; }

    public required string StillHere { get; init; }

    public required string StillHereNoPhotos { get; init; }

    public required ShowedTexts Showed { get; init; }

    public required CloseOutChecksTexts Checks { get; init; }

    public required FoundTexts Found { get; init; }

    public required CloseOutPartsTexts Parts { get; init; }

    public required ProofsTexts Proofs { get; init; }

    public required EndedTexts Ended { get; init; }

    public required NoteTexts Words { get; init; }

    public required OnDeviceTexts OnDevice { get; init; }
}

internal sealed record ShowedTexts(
    string Heading, string Faults, string NoFault, string AnotherFault, string FurtherFaults, string Arrived, string Times, string Left, string AskedFor,
    string Technician, string WallClock);

internal sealed record CloseOutChecksTexts(
    string Heading, string ForThis, string Others, string TakesMind, string ResultOf, string AddReading, string Reading, string Unit,
    string NoUnit);

internal sealed record FoundTexts(
    string Heading, string OfOtherFaults, string SomethingElse, string NoOther, string WhatWasWrong, string Cause, string CauseWhy, string Failed,
    string CountsAsFound);

internal sealed record CloseOutPartsTexts
{
    public required string Heading { get; init; }

    // Beside the heading: what may be told of a part.
    public required string What { get; init; }

    public required string NotOnRecord { get; init; }

    public required string Fitted { get; init; }

    public required PluralText DaysAgo { get; init; }

    public required string Looks { get; init; }

    public required string TakenOut { get; init; }

    public required string HowFailed { get; init; }

    public required string NotTold { get; init; }

    public required string LastSeenGood { get; init; }

    public required string LastSeenGoodOn { get; init; }

    public required string AnotherDay { get; init; }

    public required string NotKnown { get; init; }

    public required string AtTheLook { get; init; }

    public required string PutIn { get; init; }

    public required string Nothing { get; init; }

    public required string NumberNotKnown { get; init; }

    public required string AnotherNumber { get; init; }

    public required string Batch { get; init; }

    public required string ChangedAt { get; init; }
}

internal sealed record ProofsTexts(string Heading, string Asked);

internal sealed record EndedTexts(
    string Heading, string Outcome, string Ask, string What, string LeftEmpty, string Amount, string WhenProven, string Gone, string IsCleared);

internal sealed record NoteTexts(string Heading, string Note, string Photos, string Save);

internal sealed record OnDeviceTexts(string Title, string Kicker, string Heading, string Lead, string NoScript, string How, string Unit);
