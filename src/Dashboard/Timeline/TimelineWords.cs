using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Timeline;

/// <summary>Kinds and sentences of timelines.</summary>
public static class TimelineWords
{
    /// <summary>Kinds in the order in which a reader chooses them.</summary>
    public static IReadOnlyList<TimelineKind> Kinds { get; } = Enum.GetValues<TimelineKind>();

    /// <summary>The kinds that are told unless others are asked for.</summary>
    /// <param name="subject">Of what is told.</param>
    /// <returns>All but readings; of an operator with its many ovens, also without washes.</returns>
    public static IReadOnlyList<TimelineKind> Usual(TimelineSubject subject) =>
        [.. Kinds.Where(kind => kind != TimelineKind.Readings && !(kind is TimelineKind.Washes or TimelineKind.Looks && subject == TimelineSubject.Operator))];

    /// <summary>How a timeline is put together.</summary>
    public static string Method => TimelineTexts.Now.Method;

    /// <summary>What is said of a wash of a lower grade than the rule asks.</summary>
    public static string TooLight => TimelineTexts.Now.TooLight;

    /// <summary>A kind in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>One or two words with a capital.</returns>
    public static string Name(TimelineKind kind) => TimelineTexts.Now.Kinds[kind];

    /// <summary>A kind as one word beside its entry.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="isStory">Whether the entry is a story.</param>
    /// <returns>One or two words with a capital.</returns>
    public static string One(TimelineKind kind, bool isStory) => isStory ? TimelineTexts.Now.Lockout : TimelineTexts.Now.One[kind];

    /// <summary>What became of a record later.</summary>
    /// <param name="mark">What.</param>
    /// <returns>A short sentence.</returns>
    public static string Of(TimelineMark mark) => TimelineTexts.Now.Marks[mark];

    /// <summary>Washes in a row of which nothing else is to be told.</summary>
    /// <param name="washes">How many.</param>
    /// <param name="units">Of how many units.</param>
    /// <param name="counted">How many of them a rule says that they count.</param>
    /// <param name="tooLight">How many of them are of a lower grade than the rule asks.</param>
    /// <returns>Such as '11 washes, all counted.' or '14 washes: 9 counted, 5 too light to count.'</returns>
    public static string Folded(int washes, int units, int counted, int tooLight)
    {
        FoldedTexts texts = TimelineTexts.Now.Folded;
        string all = units > 1 ? texts.WashesOf.For(washes, ("ovens", texts.Ovens.For(units))) : texts.Washes.For(washes);
        int others = washes - counted - tooLight;
        (int Count, string Text)[] sorts = [(counted, texts.Counted), (tooLight, texts.TooLight), (others, texts.Completed)];
        string[] parts = [.. sorts.Where(sort => sort.Count > 0).Select(sort => Fill.In(sort.Text, ("count", Text.Count(sort.Count))))];
        return counted == washes ? Fill.In(texts.AllCounted, ("washes", all))
            : others == washes ? Fill.In(texts.AllCompleted, ("washes", all))
            : Fill.In(texts.Some, ("washes", all), ("parts", string.Join(", ", parts)));
    }

    /// <summary>What a page of a timeline holds.</summary>
    /// <param name="days">Its days.</param>
    /// <param name="further">Whether there is more further back.</param>
    /// <returns>One sentence.</returns>
    public static string Sentence(IReadOnlyList<TimelineDay> days, bool further)
    {
        ArgumentNullException.ThrowIfNull(days);
        TimelineSentenceTexts texts = TimelineTexts.Now.Sentence;
        TimelineEntry[] entries = [.. days.SelectMany(day => day.Entries)];
        if (entries.Length == 0)
        {
            return further ? texts.NothingHere : texts.Nothing;
        }

        string span = texts.Span.For(entries.Sum(entry => entry.Steps.Count), ("from", Text.Date(days[^1].Day)), ("to", Text.Date(days[0].Day)));
        int stories = entries.Count(entry => entry.IsStory);
        return stories == 0
            ? Fill.In(further ? texts.More : texts.Last, ("span", span))
            : Fill.In(further ? texts.MoreWithStories : texts.LastWithStories, ("span", span), ("stories", texts.Stories.For(stories)));
    }

    /// <summary>A day of the week with its date, such as 'Thu 26 Nov 2026'.</summary>
    /// <param name="day">The day.</param>
    /// <returns>The words.</returns>
    public static string Day(DateOnly day) => Text.WeekdayDate(day);
}

/// <summary>What became of a record later.</summary>
public enum TimelineMark
{
    /// <summary>A later record voids it.</summary>
    Voided,

    /// <summary>A later record takes its place.</summary>
    Replaced,

    /// <summary>It asked for an approval, which was decided since.</summary>
    Decided,

    /// <summary>It asked for a visit, which was made since.</summary>
    Made,

    /// <summary>It takes the place of an earlier one.</summary>
    Corrects,
}
