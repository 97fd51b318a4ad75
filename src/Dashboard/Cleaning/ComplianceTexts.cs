using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

internal sealed record ComplianceTexts
{
    internal static TextFile<ComplianceTexts> File { get; } = new("Compliance");

    internal static ComplianceTexts Now => File.Now;

    public required IReadOnlyDictionary<string, string> Groupings { get; init; }

    public required IReadOnlyDictionary<string, string> GroupingsInSentence { get; init; }

    public required string NoRegion { get; init; }

    public required string AllTogether { get; init; }

    public required string NoneDue { get; init; }

    public required string NoneOverdue { get; init; }

    public required string Mostly { get; init; }

    public required string Method { get; init; }

    public required ComplianceChartTexts Chart { get; init; }

    public required ComplianceTableTexts Table { get; init; }

    public required CauseTexts Causes { get; init; }

    public required TrendTexts Trend { get; init; }
}

internal sealed record ComplianceChartTexts
{
    public required string Title { get; init; }

    public required string Nothing { get; init; }

    public required string Least { get; init; }

    public required string LeastOfLowest { get; init; }

    public required string Value { get; init; }

    public required string AxisWide { get; init; }

    public required string AxisNarrow { get; init; }
}

internal sealed record ComplianceTableTexts
{
    public required string NoneDue { get; init; }

    public required string AllUnits { get; init; }

    public required string OnTime { get; init; }

    public required string Label { get; init; }

    public required string Caption { get; init; }

    public required string Units { get; init; }

    public required string OfDue { get; init; }

    public required string TimeWithin { get; init; }

    public required string LongestGap { get; init; }

    public required string Move { get; init; }

    public required string Csv { get; init; }
}

internal sealed record CauseTexts
{
    public required string InOrder { get; init; }

    public required string NoTime { get; init; }

    public required string NoneOwed { get; init; }

    public required string Mostly { get; init; }

    public required string Title { get; init; }

    public required string Axis { get; init; }

    public required string Value { get; init; }

    public required string ValueOfWindow { get; init; }

    public required string NoWindow { get; init; }

    public required string Caption { get; init; }

    public required string Cause { get; init; }

    public required string LiesWith { get; init; }

    public required string Hours { get; init; }

    public required string Share { get; init; }

    public required string AllInOrder { get; init; }

    public required string ForEach { get; init; }

    public required string NotYetThere { get; init; }
}

internal sealed record TrendTexts
{
    public required PluralText NoneDue { get; init; }

    public required PluralText CannotTell { get; init; }

    public required string TooFewRecords { get; init; }

    // Follows a colon.
    public required string FewPeriods { get; init; }

    public required string FewUnits { get; init; }

    public required PluralText Fell { get; init; }

    public required PluralText Rose { get; init; }

    public required PluralText Steady { get; init; }

    public required string Points { get; init; }

    public required string Method { get; init; }

    public required string Title { get; init; }

    public required string WeekAxisWide { get; init; }

    public required string WeekAxisNarrow { get; init; }

    public required string ShareAxisWide { get; init; }

    public required string ShareAxisNarrow { get; init; }

    public required string Value { get; init; }

    public required string Caption { get; init; }

    public required string Week { get; init; }

    public required string From { get; init; }

    public required string Due { get; init; }

    public required string OnTime { get; init; }

    public required string Share { get; init; }

    public required string TimeWithin { get; init; }

    public required string MostOverdue { get; init; }
}
