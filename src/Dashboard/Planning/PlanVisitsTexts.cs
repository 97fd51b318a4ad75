using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Texts of the page of planned visits.</summary>
internal sealed record PlanVisitsTexts
{
    internal static TextFile<PlanVisitsTexts> File { get; } = new("PlanVisits");

    internal static PlanVisitsTexts Now => File.Now;

    public required string NoneFitted { get; init; }
    public required string WhatToSend { get; init; }
    public required VisitsFactsTexts Facts { get; init; }
    public required VisitsHelpTexts Help { get; init; }
    public required VisitsVisitsTexts Visits { get; init; }
    public required VisitsJobTexts Job { get; init; }
    public required VisitsLeftOutTexts LeftOut { get; init; }
    public required VisitsDecisionsTexts Decisions { get; init; }
    public required VisitsFindingTexts Finding { get; init; }
    public required VisitsVisitTexts Visit { get; init; }
}

internal sealed record VisitsFactsTexts
{
    public required PluralText WillFail { get; init; }
    public required string Failures { get; init; }
    public required string ToOrder { get; init; }
    public required string Nothing { get; init; }
    public required PluralText PartNumbers { get; init; }
    public required string Work { get; init; }
    public required string Cost { get; init; }
    public required string Cheaper { get; init; }
    public required string LessThan { get; init; }
    public required string AtMost { get; init; }
}

internal sealed record VisitsHelpTexts
{
    public required PluralText Failures { get; init; }
    public required string Order { get; init; }
    public required PluralText Work { get; init; }
    public required PluralText Cost { get; init; }
    public required string Cheaper { get; init; }
    public required string Chance { get; init; }
    public required string ChanceName { get; init; }
}

internal sealed record VisitsVisitsTexts
{
    public required string Heading { get; init; }
    public required string SomeOf { get; init; }
    public required PluralText None { get; init; }
    public required string WhichParts { get; init; }
    public required string WeekOf { get; init; }
    public required string Later { get; init; }
    public required string OnOnePage { get; init; }
    public required string Calendar { get; init; }
    public required string Csv { get; init; }
    public required string Note { get; init; }
}

internal sealed record VisitsJobTexts
{
    public required string Work { get; init; }
    public required string Chance { get; init; }
    public required string ChanceNotKnown { get; init; }
    public required string InStock { get; init; }
    public required string ToOrder { get; init; }
    public required string NotBefore { get; init; }
    public required string WhyAtAge { get; init; }
    public required string Lives { get; init; }
    public required string Decide { get; init; }
    public required string Accepted { get; init; }
    public required string Postponed { get; init; }
    public required string Who { get; init; }
    public required string Why { get; init; }
    public required string Date { get; init; }
    public required string Accept { get; init; }
    public required string OfUnit { get; init; }
    public required string Postpone { get; init; }
    public required string Reject { get; init; }
    public required string TakeBack { get; init; }
    public required PluralText AcceptAll { get; init; }
    public required string OnAt { get; init; }
}

internal sealed record VisitsLeftOutTexts
{
    public required string Heading { get; init; }
    public required string Which { get; init; }
    public required IReadOnlyDictionary<LeftOutReason, string> Reasons { get; init; }
}

internal sealed record VisitsDecisionsTexts
{
    public required string Heading { get; init; }
    public required PluralText Last { get; init; }
    public required string Csv { get; init; }
    public required string None { get; init; }
    public required PluralText Hold { get; init; }
    public required PluralText Taken { get; init; }
    public required IReadOnlyDictionary<PlanDecisionWord, string> Of { get; init; }
    public required IReadOnlyDictionary<PlanDecisionWord, string> Because { get; init; }
    public required string NoLonger { get; init; }
}

internal sealed record VisitsFindingTexts
{
    public required string None { get; init; }

    public required PluralText NoCosts { get; init; }
    public required PluralText Visits { get; init; }
    public required PluralText Parts { get; init; }
    public required PluralText LeftOut { get; init; }
}

internal sealed record VisitsVisitTexts
{
    public required string Replace { get; init; }
    public required string OfUnit { get; init; }
    public required string Both { get; init; }
    public required string PastAge { get; init; }
    public required string ReachesAge { get; init; }
    public required string Accepted { get; init; }
    public required string AcceptedPassed { get; init; }
    public required string Postponed { get; init; }
    public required string CanBeThere { get; init; }
}
