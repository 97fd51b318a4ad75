using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

// Where the time of lockouts goes.
internal sealed record DelayTexts
{
    internal static TextFile<DelayTexts> File { get; } = new("Delays");

    internal static DelayTexts Now => File.Now;

    public required string Heading { get; init; }

    public required string TableCaption { get; init; }

    public required string Lockouts { get; init; }

    public required string KindHours { get; init; }

    public required string TogetherHours { get; init; }

    public required string Caption { get; init; }

    public required string WhereItWent { get; init; }

    public required string WhatItIsCalled { get; init; }

    public required string OnAverage { get; init; }

    public required string Share { get; init; }

    public required string Note { get; init; }

    // By what a row stands for.
    public required IReadOnlyDictionary<string, string> Groups { get; init; }

    public required IReadOnlyDictionary<string, string> GroupsInside { get; init; }

    public required IReadOnlyDictionary<DelaySort, string> Sorts { get; init; }

    public required IReadOnlyDictionary<DelaySort, string> SortsInside { get; init; }

    // As EN 13306 calls them.
    public required IReadOnlyDictionary<DelaySort, string> Terms { get; init; }

    public required IReadOnlyDictionary<DelayKind, string> Kinds { get; init; }

    public required IReadOnlyDictionary<DelayKind, string> KindsInside { get; init; }

    public required string None { get; init; }

    public required PluralText Finding { get; init; }

    public required string AllLockouts { get; init; }

    public required string NoRegion { get; init; }

    public required string Method { get; init; }

    public required DelayChartTexts Chart { get; init; }
}

internal sealed record DelayChartTexts(string Title, string Axis, string Nothing, string Sentence, string Part, string Value, string ValuePart);
