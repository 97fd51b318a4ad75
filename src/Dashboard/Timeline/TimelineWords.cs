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

    /// <summary>A kind in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>One or two words with a capital.</returns>
    public static string Name(TimelineKind kind) => kind switch
    {
        TimelineKind.Washes => "Washes",
        TimelineKind.Faults => "Faults",
        TimelineKind.Visits => "Visits",
        TimelineKind.Parts => "Parts",
        TimelineKind.Approvals => "Approvals",
        TimelineKind.Looks => "Looks at parts",
        TimelineKind.Readings => "Readings",
        TimelineKind.Corrections => "Corrections",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind without words."),
    };

    /// <summary>A kind as one word beside its entry.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="isStory">Whether the entry is a story.</param>
    /// <returns>One or two words with a capital.</returns>
    public static string One(TimelineKind kind, bool isStory) => isStory ? "Lockout" : kind switch
    {
        TimelineKind.Washes => "Wash",
        TimelineKind.Faults => "Fault",
        TimelineKind.Visits => "Visit",
        TimelineKind.Parts => "Part",
        TimelineKind.Approvals => "Approval",
        TimelineKind.Looks => "Look",
        TimelineKind.Readings => "Reading",
        TimelineKind.Corrections => "Correction",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind without words."),
    };

    /// <summary>Washes in a row of which nothing else is to be told.</summary>
    /// <param name="washes">How many.</param>
    /// <param name="units">Of how many units.</param>
    /// <param name="counted">How many of them a rule says that they count.</param>
    /// <param name="tooLight">How many of them are of a lower grade than the rule asks.</param>
    /// <returns>Such as '11 washes, all counted.' or '14 washes: 9 counted, 5 too light to count.'</returns>
    public static string Folded(int washes, int units, int counted, int tooLight)
    {
        string first = Text.Counted(washes, "wash", "washes") + (units > 1 ? " of " + Text.Counted(units, "oven") : string.Empty);
        int others = washes - counted - tooLight;
        string[] parts =
        [
            .. new[] { (counted, "counted"), (tooLight, "too light to count"), (others, "completed") }.Where(part => part.Item1 > 0)
                .Select(part => Text.Count(part.Item1) + " " + part.Item2),
        ];
        return counted == washes ? first + ", all counted." : others == washes ? first + ", all completed." : first + ": " + string.Join(", ", parts) + ".";
    }

    /// <summary>What a page of a timeline holds.</summary>
    /// <param name="days">Its days.</param>
    /// <param name="further">Whether there is more further back.</param>
    /// <returns>One sentence.</returns>
    public static string Sentence(IReadOnlyList<TimelineDay> days, bool further)
    {
        ArgumentNullException.ThrowIfNull(days);
        TimelineEntry[] entries = [.. days.SelectMany(day => day.Entries)];
        if (entries.Length == 0)
        {
            return "Nothing of this kind is on record" + (further ? " in this stretch of time." : ".");
        }

        int stories = entries.Count(entry => entry.IsStory);
        int records = entries.Sum(entry => entry.Steps.Count);
        return Text.Counted(records, "record") + " from " + Text.Date(days[^1].Day) + " to " + Text.Date(days[0].Day)
            + (stories == 0 ? string.Empty : ", among them " + Text.Counted(stories, "lockout told from its fault to its end", "lockouts told from their fault to their end"))
            + (further ? "; more further back." : "; nothing further back.");
    }

    /// <summary>A day of the week with its date, such as 'Thu 26 Nov 2026'.</summary>
    /// <param name="day">The day.</param>
    /// <returns>The words.</returns>
    public static string Day(DateOnly day) => Text.WeekdayDate(day);
}
