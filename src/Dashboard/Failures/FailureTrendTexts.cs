using Washwear.Analytics.Recurrence;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

internal sealed record FailureTrendTexts
{
    internal static TextFile<FailureTrendTexts> File { get; } = new("FailureTrend");

    internal static FailureTrendTexts Now => File.Now;

    public required string Heading { get; init; }
    public required string Next { get; init; }
    public required string Change { get; init; }
    public required PluralText OneMonth { get; init; }
    public required string NoMonth { get; init; }
    public required FailureMonthTexts Table { get; init; }
    public required string Basis { get; init; }
    public required FailureTrendMethodTexts Method { get; init; }

    // For the basis.
    public required string MethodName { get; init; }

    public required PluralText Failures { get; init; }
    public required PluralText Units { get; init; }
    public required PluralText Days { get; init; }

    // The verdict in a sentence; it begins with the words of the verdict. {p} is below, or nothing.
    public required string GettingWorse { get; init; }

    public required string GettingBetter { get; init; }
    public required string NoTrendShown { get; init; }

    // Begins with a space.
    public required string PInBrackets { get; init; }

    public required string NoFailure { get; init; }
    public required string TooFew { get; init; }

    // What would change the verdict; {days} is of days_ahead.
    public required PluralText BetterWith { get; init; }

    public required string NeverBetter { get; init; }
    public required PluralText WorseWith { get; init; }

    // After 'in the next'.
    public required PluralText DaysAhead { get; init; }

    // Parts of one sentence, with '; ' between them.
    public required PluralText ShowsWorse { get; init; }

    public required PluralText ShowsBetter { get; init; }
    public required PluralText QuietShowsBetter { get; init; }
    public required string TestBecause { get; init; }
    public required IReadOnlyDictionary<TrendTestReason, string> Reasons { get; init; }
    public required IReadOnlyDictionary<TrendTestKind, string> TestNames { get; init; }

    // What a test says.
    public required string MayBeChance { get; init; }

    public required string MoreOften { get; init; }
    public required string LessOften { get; init; }
    public required string FitNotTested { get; init; }
    public required string FitsBadly { get; init; }
    public required string FitsRoughly { get; init; }
    public required string Fits { get; init; }
    public required MonthlyChartTexts Chart { get; init; }
}

internal sealed record FailureMonthTexts
{
    public required string Caption { get; init; }
    public required string Month { get; init; }
    public required string Failures { get; init; }
    public required string Watched { get; init; }
    public required string Rate { get; init; }
    public required string Washes { get; init; }
    public required string RateByWashes { get; init; }

    // Below a month that the window cuts.
    public required string Part { get; init; }
}

internal sealed record FailureTrendMethodTexts
{
    // {test} is one of the two below.
    public required string Pace { get; init; }

    public required string NoTest { get; init; }
    public required string Test { get; init; }
    public required string PValue { get; init; }

    // Help with the reader's own last whole month.
    public required PluralText MonthHere { get; init; }

    public required string NextHere { get; init; }
    public required string Tests { get; init; }
    public required string Caption { get; init; }
    public required string TestHead { get; init; }
    public required string Statistic { get; init; }
    public required string PHead { get; init; }
    public required string Says { get; init; }
    public required string PowerLaw { get; init; }

    // After the sentence above.
    public required string Distance { get; init; }
}

internal sealed record MonthlyChartTexts
{
    public required string Title { get; init; }
    public required string Nothing { get; init; }
    public required string Reading { get; init; }
    public required string Highest { get; init; }
    public required string HighestAndWhole { get; init; }
    public required string Hollow { get; init; }
    public required string Cut { get; init; }

    // Of one point.
    public required PluralText Value { get; init; }

    public required PluralText ValueOfAPart { get; init; }
    public required string XAxis { get; init; }
    public required string YAxis { get; init; }
    public required string YAxisWide { get; init; }
}
