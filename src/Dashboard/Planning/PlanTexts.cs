using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What the pages of planning share, and what is said of parts of which nothing can be planned.</summary>
internal sealed record PlanTexts
{
    internal static TextFile<PlanTexts> File { get; } = new("Plan");

    internal static PlanTexts Now => File.Now;

    public required string Planning { get; init; }
    public required string PartOfIt { get; init; }
    public required string Only { get; init; }
    public required string OnlyOperator { get; init; }
    public required string OnlySite { get; init; }
    public required string OnlyUnit { get; init; }
    public required string OnlyPosition { get; init; }
    public required string OnlyStockPoint { get; init; }
    public required string TakeAway { get; init; }
    public required string ShowAll { get; init; }
    public required string FittedParts { get; init; }
    public required string CurrencyNotTold { get; init; }
    public required string AboutMany { get; init; }
    public required string FewerThanOne { get; init; }
    public required string Hours { get; init; }
    public required string TheSame { get; init; }
    public required string WhatItMeans { get; init; }
    public required string FirstShown { get; init; }
    public required string SeveralClocks { get; init; }
    public required IReadOnlyDictionary<PlanGapKind, string> Gaps { get; init; }
    public required string NoModel { get; init; }

    public required PluralText NoCosts { get; init; }
    public required IReadOnlyDictionary<PlanDoubt, string> Doubts { get; init; }
    public required IReadOnlyDictionary<PlanMethod, string> Methods { get; init; }
    public required string TakenOutWorking { get; init; }
}
