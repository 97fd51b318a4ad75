using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

internal sealed record OperatorTexts
{
    internal static TextFile<OperatorTexts> File { get; } = new("Operators");

    internal static OperatorTexts Now => File.Now;

    public required OperatorListTexts List { get; init; }

    public required OperatorFindingTexts Finding { get; init; }

    public required ChangeTexts ChangeInDays { get; init; }

    public required ChangeTexts ChangeInMonth { get; init; }

    public required ChangeTexts ChangeInMonthSoFar { get; init; }

    public required OperatorPageTexts Page { get; init; }

    public required OperatorKitchenTableTexts Table { get; init; }

    public required WashingTexts Washing { get; init; }
}

internal sealed record OperatorListTexts
{
    public required string Title { get; init; }

    public required string Kitchens { get; init; }

    public required string SearchFor { get; init; }

    public required string Find { get; init; }

    public required string NoneOnRecord { get; init; }

    public required string WhatToSend { get; init; }

    public required string NoMatch { get; init; }

    public required string NoneMatches { get; init; }

    public required string AllOperators { get; init; }

    public required string Caption { get; init; }

    public required string Operator { get; init; }

    public required string Ovens { get; init; }

    public required string Wait { get; init; }

    public required string HowTheyStand { get; init; }

    public required string OnTime { get; init; }

    public required string NoOven { get; init; }

    public required string NothingDue { get; init; }

    public required string NextPage { get; init; }

    public required string Operators { get; init; }

    public required PluralText OnRecord { get; init; }

    public required string NoneWaits { get; init; }

    public required PluralText SomeWait { get; init; }

    public required PluralText SomeWaitMost { get; init; }

    public required string Method { get; init; }
}

internal sealed record OperatorFindingTexts
{
    public required string NoOven { get; init; }

    // Follows a preposition.
    public required PluralText OvensIn { get; init; }

    public required PluralText Kitchens { get; init; }

    public required PluralText CannotWash { get; init; }

    public required PluralText NoWash { get; init; }

    public required PluralText NotHeard { get; init; }

    public required string And { get; init; }

    public required string None { get; init; }

    public required string SomeInOne { get; init; }

    public required string Some { get; init; }

    public required string Points { get; init; }

    public required string TooLittle { get; init; }

    public required PluralText NoneReplaced { get; init; }

    public required PluralText NoneAgain { get; init; }

    public required PluralText SomeAgain { get; init; }

    public required PluralText InLast { get; init; }

    public required PluralText Within { get; init; }

    public required string Method { get; init; }
}

internal sealed record ChangeTexts
{
    public required string NoneDue { get; init; }

    public required PluralText Kept { get; init; }

    public required string CannotTell { get; init; }

    public required string NoChange { get; init; }

    public required string Better { get; init; }

    public required string Worse { get; init; }
}

internal sealed record OperatorPageTexts
{
    public required string ReportOfLastMonth { get; init; }

    public required string AllOperators { get; init; }

    public required string NoOvenHeading { get; init; }

    public required string NoOven { get; init; }

    public required string Import { get; init; }

    public required string ByState { get; init; }

    public required string WhichKitchens { get; init; }

    public required string NoKitchen { get; init; }

    public required string MoreKitchens { get; init; }

    public required string KitchensCsv { get; init; }

    public required string Washing { get; init; }

    public required string LastDays { get; init; }

    public required string DaysBefore { get; init; }

    public required string ByWeek { get; init; }

    public required string Approvals { get; init; }

    public required string NoApproval { get; init; }

    public required string Waited { get; init; }

    public required string WaitedUntold { get; init; }

    public required string Unnamed { get; init; }

    public required string Decide { get; init; }

    public required string Dearest { get; init; }

    public required string Repeats { get; init; }

    public required string FailedAgain { get; init; }

    public required string AllRepeats { get; init; }

    public required string Plan { get; init; }

    public required string Cost { get; init; }

    public required string Visit { get; init; }

    public required string WithParts { get; init; }

    public required string WholePlan { get; init; }

    public required string Happened { get; init; }

    public required string AllOfIt { get; init; }

    public required string Ovens { get; init; }
}

internal sealed record OperatorKitchenTableTexts
{
    public required string Caption { get; init; }

    public required string Kitchen { get; init; }

    public required string Ovens { get; init; }

    public required string Wrong { get; init; }

    public required string WhoseMove { get; init; }

    public required string NextStep { get; init; }

    public required string NoOven { get; init; }

    public required string NothingWaits { get; init; }

    public required string Worst { get; init; }
}

internal sealed record WashingTexts
{
    public required string Caption { get; init; }

    public required string When { get; init; }

    public required string OnTime { get; init; }

    public required string OfDue { get; init; }

    public required string OnTimeOfDue { get; init; }

    public required string Ovens { get; init; }

    public required string TimeWithin { get; init; }

    public required string FromTo { get; init; }

    public required string Causes { get; init; }

    public required string Cause { get; init; }

    public required string LiesWith { get; init; }

    public required string Share { get; init; }
}
