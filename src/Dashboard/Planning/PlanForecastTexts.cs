using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Texts of the page of forecasts, made and kept.</summary>
internal sealed record PlanForecastTexts
{
    internal static TextFile<PlanForecastTexts> File { get; } = new("PlanForecast");

    internal static PlanForecastTexts Now => File.Now;

    public required string Title { get; init; }
    public required string WhatWillFail { get; init; }
    public required string Next { get; init; }
    public required PluralText Days { get; init; }
    public required string By { get; init; }
    public required IReadOnlyDictionary<ForecastBy, string> Groups { get; init; }
    public required string Stock { get; init; }
    public required string PartsCsv { get; init; }
    public required string AndWhen { get; init; }
    public required string AllParts { get; init; }
    public required string ComparisonBasis { get; init; }
    public required string SingleForecasts { get; init; }
    public required ForecastFindingTexts Finding { get; init; }
    public required ForecastFigureTexts Figure { get; init; }
    public required ForecastHelpTexts Help { get; init; }
    public required ForecastKeptTexts Kept { get; init; }
    public required ForecastScoresTexts Scores { get; init; }
    public required ForecastScoresHelpTexts ScoresHelp { get; init; }
    public required ForecastBandsTexts Bands { get; init; }
}

internal sealed record ForecastFindingTexts
{
    public required string None { get; init; }
    public required PluralText NoneTold { get; init; }
    public required PluralText About { get; init; }
    public required PluralText Within { get; init; }
    public required PluralText More { get; init; }
}

internal sealed record ForecastFigureTexts
{
    public required string Nothing { get; init; }
    public required string WhichLives { get; init; }
    public required string Title { get; init; }
    public required string Expected { get; init; }
    public required string FromTo { get; init; }
    public required string AtWork { get; init; }
    public required string Without { get; init; }
    public required string Range { get; init; }
    public required string None { get; init; }
    public required PluralText Rows { get; init; }
    public required string MarkAndLine { get; init; }
    public required string MostIn { get; init; }
    public required string MostOf { get; init; }
    public required PluralText Edges { get; init; }
    public required string Value { get; init; }
    public required string InMonth { get; init; }
    public required PluralText Within { get; init; }
    public required string LineSure { get; init; }
}

internal sealed record ForecastHelpTexts
{
    public required string Expected { get; init; }
    public required string FromTo { get; init; }
}

internal sealed record ForecastKeptTexts
{
    public required string Heading { get; init; }
    public required string Nothing { get; init; }
    public required string Whole { get; init; }
    public required string Single { get; init; }
    public required string ByPartNumber { get; init; }
    public required string Csv { get; init; }
    public required string Newest { get; init; }
    public required string SaidNote { get; init; }
    public required string AfterwardsNote { get; init; }
    public required string Quarter { get; init; }
    public required string PartNumber { get; init; }
    public required string Said { get; init; }
    public required string Happened { get; init; }
    public required string WithinSaid { get; init; }
    public required string Within { get; init; }
    public required string Parts { get; init; }
    public required string Afterwards { get; init; }
    public required string AllParts { get; init; }
    public required string SoFar { get; init; }
    public required string Yes { get; init; }
    public required string NoMore { get; init; }
    public required string NoFewer { get; init; }
    public required string GoesOn { get; init; }
    public required string TakenOut { get; init; }
    public required string None { get; init; }
    public required PluralText NoneScored { get; init; }
    public required PluralText Close { get; init; }
    public required PluralText Off { get; init; }
}

internal sealed record ForecastScoresTexts
{
    public required string ByChance { get; init; }
    public required string Helped { get; init; }
    public required string Hardly { get; init; }
    public required string DidNot { get; init; }
    public required string Fit { get; init; }
    public required string NoFit { get; init; }
}

internal sealed record ForecastScoresHelpTexts
{
    public required string Total { get; init; }
    public required string TotalName { get; init; }
    public required string Brier { get; init; }
    public required string BrierName { get; init; }
    public required string Z { get; init; }
    public required string ZName { get; init; }
}

internal sealed record ForecastBandsTexts
{
    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string ChanceSaid { get; init; }
    public required string Parts { get; init; }
    public required string Said { get; init; }
    public required string Failed { get; init; }
    public required string FromTo { get; init; }
    public required string Note { get; init; }
    public required string Help { get; init; }
}
