using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailureRecurrenceTexts
{
    internal static TextFile<FailureRecurrenceTexts> File { get; } = new("FailureRecurrence");

    internal static FailureRecurrenceTexts Now => File.Now;

    public required string Heading { get; init; }

    // Before links to axes.
    public required string Over { get; init; }

    public required string ComparedBy { get; init; }

    // Compared by it.
    public required string Nothing { get; init; }

    public required string AllRecords { get; init; }
    public required RecurrenceTableTexts Table { get; init; }

    // Of a list.
    public required PluralText GroupCounts { get; init; }

    public required PluralText Failures { get; init; }
    public required string OthersInCsv { get; init; }
    public required string Basis { get; init; }
    public required string Method { get; init; }

    // After the sentences above.
    public required string Compared { get; init; }

    public required string PValue { get; init; }

    // Help with a step of the reader's own.
    public required PluralText AgeHere { get; init; }

    public required PluralText DayHere { get; init; }

    // For the basis.
    public required string MethodName { get; init; }

    public required string TestName { get; init; }

    // A region that is not told.
    public required string NotNamed { get; init; }

    // Doubts.
    public required PluralText OnlyLargest { get; init; }

    public required string OneGroup { get; init; }
    public required PluralText FewUnits { get; init; }
    public required string NoFailure { get; init; }
    public required string NotTested { get; init; }

    // {bounds} is as below, or nothing.
    public required string ByAge { get; init; }

    public required string ByDay { get; init; }

    // Of a list.
    public required string GroupByAge { get; init; }

    public required string GroupByDay { get; init; }

    // Begins with a space.
    public required string Bounds { get; init; }

    public required PluralText Few { get; init; }
    public required IReadOnlyDictionary<string, string> Differ { get; init; }
    public required IReadOnlyDictionary<string, string> DifferNot { get; init; }
    public required RecurrenceChartTexts Chart { get; init; }
}

internal sealed record RecurrenceTableTexts
{
    public required string Caption { get; init; }
    public required string Group { get; init; }
    public required string Age { get; init; }
    public required string Day { get; init; }
    public required string Watched { get; init; }
    public required string Mean { get; init; }
    public required string Lower { get; init; }
    public required string Upper { get; init; }
    public required string All { get; init; }
}

internal sealed record RecurrenceChartTexts
{
    public required string NoAge { get; init; }
    public required string NoDay { get; init; }
    public required string ReadingAge { get; init; }
    public required string ReadingDay { get; init; }
    public required string NoBounds { get; init; }
    public required string BoundsInTable { get; init; }
    public required string ThinLines { get; init; }
    public required string Drawn { get; init; }
    public required string TitleAge { get; init; }
    public required string TitleDay { get; init; }
    public required string XAge { get; init; }
    public required string XDay { get; init; }
    public required string Y { get; init; }
    public required string YWide { get; init; }
    public required PluralText ValueAge { get; init; }
    public required PluralText ValueDay { get; init; }

    // Where there are several groups.
    public required string ValueOfGroup { get; init; }
}
