using Washwear.Analytics.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Texts of the page on when parts are best replaced.</summary>
internal sealed record PlanPartsTexts
{
    internal static TextFile<PlanPartsTexts> File { get; } = new("PlanParts");

    internal static PlanPartsTexts Now => File.Now;

    public required string Title { get; init; }
    public required string WhatWhen { get; init; }
    public required string NoneFitted { get; init; }
    public required string HowToSend { get; init; }
    public required IReadOnlyDictionary<PlanVerdict, string> Verdicts { get; init; }
    public required PartsTableTexts Table { get; init; }
    public required PartsTableHelpTexts TableHelp { get; init; }
    public required PartsCurveTexts Curve { get; init; }
    public required PartsCurveHelpTexts CurveHelp { get; init; }
    public required PartsOtherCostTexts OtherCost { get; init; }
    public required PartsCompanionsTexts Companions { get; init; }
    public required PartsCompanionsHelpTexts CompanionsHelp { get; init; }
    public required PartsFindingTexts Finding { get; init; }
    public required PartsBestTexts Best { get; init; }
    public required IReadOnlyDictionary<ReplacementReason, string> Reasons { get; init; }
    public required PartsPartTexts Part { get; init; }
}

internal sealed record PartsTableTexts
{
    public required string Part { get; init; }
    public required string Best { get; init; }
    public required string Saves { get; init; }
    public required string Fitted { get; init; }
    public required string Range { get; init; }
    public required string Lives { get; init; }
    public required string EachAge { get; init; }
    public required string WhenPlanned { get; init; }
}

internal sealed record PartsTableHelpTexts
{
    public required string Range { get; init; }
    public required string RangeName { get; init; }
    public required string Flat { get; init; }
    public required string FlatOpen { get; init; }
    public required string FlatName { get; init; }
    public required string Saves { get; init; }
}

internal sealed record PartsCurveTexts
{
    public required string Heading { get; init; }
    public required string Shape { get; init; }
    public required string PlannedCost { get; init; }
    public required string FailureCost { get; init; }
    public required string NotPriced { get; init; }
    public required string NoWear { get; init; }
    public required string BestAge { get; init; }
    public required string Never { get; init; }
    public required string Caption { get; init; }
    public required string CostAYear { get; init; }
    public required string CostAYearIn { get; init; }
    public required string Title { get; init; }
    public required string Lowest { get; init; }
    public required string NoAge { get; init; }
    public required string Between { get; init; }
    public required string From { get; init; }
    public required string Value { get; init; }
    public required string Same { get; init; }
    public required string Run { get; init; }
    public required string AtThatAge { get; init; }
    public required string Cheapest { get; init; }
}

internal sealed record PartsCurveHelpTexts
{
    public required string ShapeWears { get; init; }
    public required string Shape { get; init; }
    public required string Costs { get; init; }
    public required string CostsName { get; init; }
    public required string NoWear { get; init; }
    public required string BestAge { get; init; }
}

internal sealed record PartsOtherCostTexts
{
    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string If { get; init; }
    public required string BestThen { get; init; }
    public required string Saves { get; init; }
    public required string Half { get; init; }
    public required string Twice { get; init; }
    public required string Replace { get; init; }
    public required string Run { get; init; }
    public required string Unknown { get; init; }
    public required string Try { get; init; }
}

internal sealed record PartsCompanionsTexts
{
    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string OpenFor { get; init; }
    public required string Along { get; init; }
    public required string Saved { get; init; }
    public required string PastAge { get; init; }
    public required string Openings { get; init; }
    public required string OpeningsAlone { get; init; }
    public required string All { get; init; }
    public required string LivesOf { get; init; }
    public required string Csv { get; init; }
    public required string NoneFits { get; init; }
    public required string NoneCalled { get; init; }
    public required PluralText NoneWorth { get; init; }
    public required PluralText Worth { get; init; }
    public required PluralText OpeningsFrom { get; init; }
    public required string Nothing { get; init; }
    public required string Leave { get; init; }
    public required string SwapAlways { get; init; }
    public required string SwapPast { get; init; }
    public required string Saves { get; init; }
}

internal sealed record PartsCompanionsHelpTexts
{
    public required string Saved { get; init; }
    public required string Openings { get; init; }
    public required string OpeningsName { get; init; }
    public required string PastAge { get; init; }
}

internal sealed record PartsFindingTexts
{
    public required string None { get; init; }
    public required string NoneCheaper { get; init; }
    public required PluralText Cheaper { get; init; }
    public required PluralText Run { get; init; }
    public required PluralText Unknown { get; init; }
}

internal sealed record PartsBestTexts
{
    public required string Nothing { get; init; }
    public required string Run { get; init; }
    public required string Replace { get; init; }
    public required string ReplaceDays { get; init; }
    public required string Saves { get; init; }
    public required string Flat { get; init; }
    public required string FlatOpen { get; init; }
}

internal sealed record PartsPartTexts
{
    public required string Nothing { get; init; }
    public required string Chance { get; init; }
    public required string Past { get; init; }
    public required string About { get; init; }
    public required string Later { get; init; }
    public required string Run { get; init; }
    public required string NotTold { get; init; }
    public required string None { get; init; }
    public required PluralText Expected { get; init; }
    public required string NoneDue { get; init; }
    public required PluralText Due { get; init; }
    public required PluralText Without { get; init; }
}
