using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Timeline;

/// <summary>Texts of timelines: Timeline.en.json and its fellows. A name is the text's key.</summary>
internal sealed record TimelineTexts
{
    internal static TextFile<TimelineTexts> File { get; } = new("Timeline");

    internal static TimelineTexts Now => File.Now;

    public required string Title { get; init; }

    public required string WhatHappened { get; init; }

    public required string Show { get; init; }

    public required string DayByDay { get; init; }

    public required string FurtherBack { get; init; }

    public required string LeftOut { get; init; }

    public required string LeftOutHow { get; init; }

    public required string Newest { get; init; }

    public required string AsCsv { get; init; }

    public required string Method { get; init; }

    public required IReadOnlyDictionary<TimelineKind, string> Kinds { get; init; }

    public required IReadOnlyDictionary<TimelineKind, string> One { get; init; }

    public required string Lockout { get; init; }

    public required PluralText StepByStep { get; init; }

    public required PluralText EachOfThem { get; init; }

    public required string Visit { get; init; }

    public required string Record { get; init; }

    public required string Since { get; init; }

    public required string From { get; init; }

    // Times of day.
    public required string FromTo { get; init; }

    public required string TooLight { get; init; }

    public required IReadOnlyDictionary<TimelineMark, string> Marks { get; init; }

    public required FoldedTexts Folded { get; init; }

    public required TimelineSentenceTexts Sentence { get; init; }

    public required StoryTexts Story { get; init; }
}

/// <summary>Washes in a row.</summary>
internal sealed record FoldedTexts
{
    public required PluralText Washes { get; init; }

    public required PluralText WashesOf { get; init; }

    // After 'of'.
    public required PluralText Ovens { get; init; }

    public required string AllCounted { get; init; }

    public required string AllCompleted { get; init; }

    public required string Some { get; init; }

    public required string Counted { get; init; }

    public required string TooLight { get; init; }

    public required string Completed { get; init; }
}

/// <summary>What a page of a timeline holds.</summary>
internal sealed record TimelineSentenceTexts
{
    public required string Nothing { get; init; }

    public required string NothingHere { get; init; }

    public required PluralText Span { get; init; }

    public required PluralText Stories { get; init; }

    public required string Last { get; init; }

    public required string More { get; init; }

    public required string LastWithStories { get; init; }

    public required string MoreWithStories { get; init; }
}

/// <summary>A lockout from its fault to its end.</summary>
internal sealed record StoryTexts
{
    public required string CouldNotWash { get; init; }

    public required string CouldNotWashSoFar { get; init; }

    public required PluralText Tries { get; init; }

    public required PluralText Visits { get; init; }

    public required string VisitWasAsked { get; init; }

    public required string VisitIsAsked { get; init; }

    public required string NoVisit { get; init; }

    public required string NobodyAsked { get; init; }

    public required string ApprovalOpen { get; init; }

    public required string ApprovalRefused { get; init; }

    public required string ApprovalGranted { get; init; }

    public required string Changed { get; init; }

    public required string WashedAtOnce { get; init; }

    public required string WashedAtOnceProven { get; init; }

    public required string WashedLater { get; init; }

    public required string WashedLaterProven { get; init; }

    public required string WashNotCompleted { get; init; }

    public required string Proven { get; init; }

    public required string NoWashSince { get; init; }
}
